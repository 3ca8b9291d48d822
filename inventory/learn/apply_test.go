package learn

import (
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

func learn(t testing.TB, d *inventory.Drawer) *Report {
	t.Helper()
	r, err := Learn(t.Context(), d, someWays())
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	return r
}

// again reads what a learned file holds.
func again(t testing.TB, l *Learned) *Learned {
	t.Helper()
	l.Version = "test"
	got, err := Read("hangar.learned.yaml", strings.NewReader(string(l.YAML())))
	if err != nil {
		t.Fatalf("\n%v\n%s", err, l.YAML())
	}
	return got
}

func craftOf(t testing.TB, d *inventory.Drawer, parts *inventory.Parts) physics.Craft {
	t.Helper()
	c, err := d.Combination(parts)
	if err != nil {
		t.Fatal(err)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	prop, err := c.Prop.Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	craft, err := c.Craft(prop)
	if err != nil {
		t.Fatal(err)
	}
	return craft
}

// Property: a drawer corrected from the file predicts every entry as the fit did, and a craft's
// deviations have the covariance that the fit found, to the file's digits.
func TestAppliedFileIsWhatWasLearned(t *testing.T) {
	r := learn(t, mustRead(t, hangar))
	d := mustRead(t, hangar)
	if err := again(t, r.Learned).Apply(d, "cruise", someWays()); err != nil {
		t.Fatal(err)
	}
	ways := someWays()
	for _, e := range r.Entries {
		craft := craftOf(t, d, &e.Parts)
		p := craft.Evaluate(ptrTo(ways["cruise"]))
		for _, c := range e.Readings {
			want, tolerance := c.After.Value, 0.003
			var got float64
			switch c.Key {
			case AllUp:
				got = craft.MassKg() * 1e3
			case HoverCurrent:
				got, _ = p.Get(figure.HoverCurrent)
			case FullThrottleCurrent:
				got, _ = p.Get(figure.FullThrottleCurrent)
			case LoadedCell:
				cellV, _ := p.Get(figure.LoadedCell)
				packA, _ := p.Get(figure.FullThrottleCurrent)
				got = craft.Pack.DisplayCellV(cellV, packA)
			case FlightMinutes:
				entry := &d.Log[e.Number-1]
				if entry.Flown != "cruise" {
					continue
				}
				f := flight{flying: ways["cruise"]}
				if entry.UsedMAh != nil {
					f.usedAs, f.fromUsed = *entry.UsedMAh*3.6, true
				} else {
					f.landingV = *entry.LandingCellV
				}
				flown, _ := f.fly(&craft, f.fromUsed)
				got = flown.DurationS / 60
			default:
				continue
			}
			// What moved by less than a hundredth of its doubt is not in the file.
			if math.Abs(got/want-1) > tolerance {
				t.Errorf("entry %d, %s: %.5g from the file, %.5g from the fit", e.Number, c.Key, got, want)
			}
		}
	}
	row := 0
	for _, p := range r.Learned.Parts {
		for range p.Changes {
			row++
		}
	}
	shared, err := again(t, r.Learned).shared()
	if err != nil {
		t.Fatal(err)
	}
	for i := range row {
		for j := range row {
			var product float64
			for k := range shared[i] {
				product += shared[i][k] * shared[j][k]
			}
			if want := r.Learned.Correlation.At(i, j); math.Abs(product-want) > 0.03 {
				t.Errorf("correlation of %d and %d: %.3f drawn, %.3f found", i, j, product, want)
			}
		}
	}
}

func ptrTo[T any](x T) *T { return &x }

// Regression: the same log gives the same bytes.
func TestFileIsTheSameTwice(t *testing.T) {
	a, b := learn(t, mustRead(t, hangar)).Learned.YAML(), learn(t, mustRead(t, hangar)).Learned.YAML()
	if string(a) != string(b) {
		t.Error("two runs differ")
	}
}

// Property: corrections are refused once a part's own figures have changed, with the figures then
// and now, and nothing is corrected; a part that is gone is no obstacle.
func TestChangedFiguresAreRefused(t *testing.T) {
	l := again(t, learn(t, mustRead(t, hangar)).Learned)
	changed := mustRead(t, strings.Replace(hangar, "kv: 6700", "kv: 6300", 1))
	err := l.Apply(changed, "", someWays())
	if err == nil || !strings.Contains(err.Error(),
		"motor m12: learned.changed now=stator 1204, kv 6300, mass_g 5.3 was=stator 1204, kv 6700, mass_g 5.3") {
		t.Errorf("got %v", err)
	}
	for i := range changed.Packs {
		if changed.Packs[i].Learned != nil {
			t.Error("a part was corrected all the same")
		}
	}
	without := mustRead(t, strings.Split(strings.Replace(hangar, "  - {id: four, size: 4S 650 95C, mass_g: 76}\n", "", 1),
		"log:")[0])
	if err := l.Apply(without, "", someWays()); err != nil {
		t.Errorf("a pack that is gone: %v", err)
	}
	if without.Motors[0].Learned == nil {
		t.Error("the motor was not corrected")
	}
}

// Regression: what is wrong with a learned file is said with its line.
func TestBadLearnedFiles(t *testing.T) {
	const head = "schema_version: 1\ntool_version: \"1\"\ndrawer: d.yaml\nfrom: []\n"
	part := func(change string) string {
		return head + "parts:\n  - kind: motor\n    id: m\n    figures: kv 1\n    " +
			"changes:\n      - " + change + "\ntogether: []\n"
	}
	for text, want := range map[string]string{
		"":             "file.empty",
		"motors: []\n": "schema_version: missing",
		strings.Replace(head, "1", "2",
			1) + "parts: []\n": "1:17: schema_version: learned.version got=2 reads=1",
		part("{input: thrust, factor: 1, doubt_before_pct: 3, " +
			"doubt_after_pct: 2}"): "10:17: parts[0].changes[0].input: learned.input got=thrust kind=motor",
		part("{input: kv, factor: 0, doubt_before_pct: 3, " +
			"doubt_after_pct: 2}"): "factor: number.over_zero",
		part("{input: kv, factor: 1, doubt_before_pct: 3, " +
			"doubt_after_pct: .nan}"): "number.finite",
		strings.Replace(part("{input: kv, factor: 1, doubt_before_pct: 3, doubt_after_pct: 2}"), "together: []",
			"together: [{a: x, b: y, correlation: 0.5}]", 1): "together[0]: learned.stranger label=x",
	} {
		_, err := Read("l.yaml", strings.NewReader(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q:\ngot  %v\nwant %s", text, err, want)
		}
	}
}

// Property: what belongs to a way of flying reaches every frame, what belongs to a frame only that
// frame, and another way of flying nobody.
func TestWayOfFlyingReachesAllFrames(t *testing.T) {
	l := again(t, learn(t, mustRead(t, strings.Replace(hangar, "flight_minutes: 5, flown: cruise",
		"flight_minutes: 3.5, flown: cruise", 1))).Learned)
	factor := func(way string, frame int) (float64, float64) {
		d := mustRead(t, hangar+"\nfleet: []\n")
		if err := l.Apply(d, way, someWays()); err != nil {
			t.Fatal(err)
		}
		k, ok := d.Frames[frame].Learned.For(uncertain.FlyingPower)
		if !ok {
			return 1, flyingSpread()
		}
		return math.Exp(k.LnFactor), k.LnSD
	}
	for frame := range 2 {
		cruise, sd := factor("cruise", frame)
		other, otherSD := factor("indoor", frame)
		if !(cruise > other && sd < otherSD && otherSD <= flyingSpread()+1e-9) {
			t.Errorf("frame %d: cruise %.3f ± %.3f, indoor %.3f ± %.3f", frame, cruise, sd, other, otherSD)
		}
	}
}
