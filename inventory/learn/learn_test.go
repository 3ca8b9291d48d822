package learn

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"

	"gonum.org/v1/gonum/mat"
)

// sisters are props: two of one series, of which one was on a bench, one of their class, and a stranger.
const sisters = `
props:
  - {id: benched, size: 5x4x3, series: line, bench: [{rpm: 18000, thrust_g: 700}]}
  - {id: sister, size: 4x3x3, series: line}
  - {id: cousin, size: 5x3x3}
  - {id: stranger, size: 8x4x2}
`

// Independent: the sister of a prop with a bench point is corrected and narrowed by the textbook
// formula for two jointly normal numbers with the covariance that series and class give, another prop of the class
// with that of the class. A stranger stays.
func TestBenchCorrectsSisters(t *testing.T) {
	d := mustRead(t, sisters)
	air, _ := d.Air.SI()
	made := func(id string, bench bool) *rotor.Propeller {
		spec := d.Prop(id).Spec()
		if !bench {
			spec.Bench = nil
		}
		p, err := rotor.New(spec, air)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	label, benched := made("benched", false), made("benched", true)
	speed := 18000 * 2 * math.Pi / 60
	thrust, _ := benched.Loads(speed, rotor.Flow{})
	labelled, _ := label.Loads(speed, rotor.Flow{})
	delta := math.Log(thrust / labelled)
	a, left := label.Uncertainty.Thrust.LnSD, benched.Uncertainty.Thrust.LnSD
	if math.Abs(delta) < 0.03 {
		t.Fatalf("nothing to learn: ln ratio %.3f", delta)
	}
	l := learn(t, d).Learned
	for id, oneSeries := range map[string]bool{"sister": true, "cousin": false} {
		other := made(id, false)
		b := other.Uncertainty.Thrust.LnSD
		covariance := label.Uncertainty.Forms.Covariance(&other.Uncertainty.Forms, 0, 0, oneSeries)
		wantMean := covariance / (a*a + left*left) * delta
		wantSD := math.Sqrt(b*b - covariance*covariance/(a*a+left*left))
		c, ok := changeOf(l, inventory.KindProp, id, uncertain.PropThrust)
		if !ok || math.Abs(c.LnFactor-wantMean) > 1e-3 || math.Abs(c.LnSDAfter-wantSD) > 1e-3 ||
			math.Abs(c.LnSDBefore-b) > 1e-9 {
			t.Errorf("%s: ln factor %.4f and %.4f left of %.4f; want %.4f and %.4f of %.4f", id, c.LnFactor, c.LnSDAfter,
				c.LnSDBefore, wantMean, wantSD, b)
		}
	}
	for _, id := range []string{"stranger", "benched"} {
		if p := l.Of(inventory.KindProp, id); p != nil && id == "stranger" {
			t.Errorf("%s was corrected: %+v", id, p)
		}
	}
}

// Independent: a bench point with its torque corrects the sister's thrust and torque as two jointly normal pairs do,
// of which series and class have a part in common, by the gain of the textbook.
func TestBenchWithTorqueCorrectsSisters(t *testing.T) {
	d := mustRead(t, strings.Replace(sisters, "thrust_g: 700", "thrust_g: 700, torque_mnm: 95", 1))
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	made := func(id string, bench bool) *rotor.Propeller {
		spec := d.Prop(id).Spec()
		if !bench {
			spec.Bench = nil
		}
		p, err := rotor.New(spec, air)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	label, benched, sister := made("benched", false), made("benched", true), made("sister", false)
	speed := 18000 * 2 * math.Pi / 60
	thrustN, torqueNm := benched.Loads(speed, rotor.Flow{})
	labelN, labelNm := label.Loads(speed, rotor.Flow{})
	read := mat.NewVecDense(2, []float64{math.Log(thrustN / labelN), math.Log(torqueNm / labelNm)})
	pair := func(a *rotor.Propeller) *mat.Dense {
		r, at, ap := a.Uncertainty.Forms.Correlation(0, 1), a.Uncertainty.Thrust.LnSD, a.Uncertainty.Power.LnSD
		return mat.NewDense(2, 2, []float64{at * at, r * at * ap, r * at * ap, ap * ap})
	}
	var s, gain, mean mat.Dense
	s.Add(pair(label), mat.NewDiagDense(2, []float64{
		math.Pow(benched.Uncertainty.Thrust.LnSD, 2), math.Pow(benched.Uncertainty.Power.LnSD, 2)}))
	if err := gain.Inverse(&s); err != nil {
		t.Fatal(err)
	}
	cross := mat.NewDense(2, 2, nil)
	for i := range 2 {
		for j := range 2 {
			cross.Set(i, j, sister.Uncertainty.Forms.Covariance(&label.Uncertainty.Forms, i, j, true))
		}
	}
	gain.Mul(cross, &gain)
	mean.Mul(&gain, read)
	var taken, after mat.Dense
	taken.Mul(&gain, cross.T())
	after.Sub(pair(sister), &taken)
	l := learn(t, d).Learned
	for i, input := range []uncertain.Input{uncertain.PropThrust, uncertain.PropPower} {
		c, ok := changeOf(l, inventory.KindProp, "sister", input)
		if want, sd := mean.At(i, 0), math.Sqrt(after.At(i, i)); !ok || math.Abs(c.LnFactor-want) > 2e-3 ||
			math.Abs(c.LnSDAfter-sd) > 1e-3 {
			t.Errorf("%v: %.4f ± %.4f, by the gain %.4f ± %.4f", input, c.LnFactor, c.LnSDAfter, want, sd)
		}
	}
}

// fromTruth fills a log with what the crafts show without any error, but for a factor on a prop's
// thrust, whose power follows at the same figure of merit.
func fromTruth(t testing.TB, d *inventory.Drawer, prop string, lnThrust float64) {
	t.Helper()
	truth := *d.Prop(prop)
	truth.Learned = inventory.Corrections{{Input: uncertain.PropThrust, LnFactor: lnThrust, LnSD: 0.01},
		{Input: uncertain.PropPower, LnFactor: 1.5 * lnThrust, LnSD: 0.01}}
	for i := range d.Log {
		e := &d.Log[i]
		c, err := d.Combination(&e.Parts)
		if err != nil {
			t.Fatal(err)
		}
		if c.Prop.ID == prop {
			c.Prop = &truth
		}
		air, _ := d.Air.SI()
		p, err := c.Prop.Propeller(air)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := c.Craft(p)
		if err != nil {
			t.Fatal(err)
		}
		performance := craft.Evaluate(ptrTo(someWays()["cruise"]))
		set := func(into **float64, x float64) {
			if *into != nil {
				*into = &x
			}
		}
		get := func(q figure.Quantity) float64 { x, _ := performance.Get(q); return x }
		set(&e.AllUpG, craft.MassKg()*1e3)
		set(&e.HoverThrottlePct, 100*get(figure.HoverThrottle))
		set(&e.HoverCurrentA, get(figure.HoverCurrent))
		set(&e.FullThrottleCurrentA, get(figure.FullThrottleCurrent))
		set(&e.LoadedCellV, craft.Pack.DisplayCellV(get(figure.LoadedCell), get(figure.FullThrottleCurrent)))
	}
}

// weak is a log of one craft with a second one that shares its motor, and a stranger.
const weak = `
motors:
  - {id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}
  - {id: other, stator: "2207", kv: 1900, mass_g: 32, cells: [4, 6]}
props:
  - {id: p, size: 3.5x2.2x3}
  - {id: q, size: 3.5x2.8x2}
  - {id: alien, size: 8x4x2}
packs: [{id: k, size: 4S 650 95C, mass_g: 76}, {id: kk, size: 6S 1100 100C, mass_g: 190}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}, {id: ff, mass_g: 110, max_prop_in: 8.1}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}, {id: bb, esc_current_a: 45, cells: [3, 6], mass_g: 20}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, all_up_g: 180, hover_throttle_pct: 30, hover_current_a: 4}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: 30, full_throttle_current_a: 40, loaded_cell_v: 3.6}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, all_up_g: 180, hover_throttle_pct: 30, hover_current_a: 4}
`

func changeOf(l *Learned, kind inventory.Kind, id string, input uncertain.Input) (Change, bool) {
	p := l.Of(kind, id)
	if p == nil {
		return Change{}, false
	}
	i := slices.IndexFunc(p.Changes, func(c Change) bool { return c.Input == input })
	if i < 0 {
		return Change{}, false
	}
	return p.Changes[i], true
}

// Property: a prop that pulls 20 % less than its label is found to pull less, other crafts with it
// or with its motor are predicted better, other props of the class a little, and a stranger's figures stay to the last
// digit.
func TestSharedPartsProfitStrangersStay(t *testing.T) {
	const hidden = -0.22
	d := mustRead(t, weak)
	fromTruth(t, d, "p", hidden)
	r := learn(t, d)
	c, ok := changeOf(r.Learned, inventory.KindProp, "p", uncertain.PropThrust)
	if !ok || c.LnFactor > hidden/3 || c.Readings < 3 || c.Narrowed() < 0.1 {
		t.Errorf("thrust of p: %+v", c)
	}
	if q, ok := changeOf(r.Learned, inventory.KindProp, "q", uncertain.PropThrust); !ok || q.LnFactor >= 0 ||
		q.LnFactor < 0.7*c.LnFactor || q.Narrowed() > 0.7*c.Narrowed() {
		t.Errorf("q, of the same class, which nobody flew: %+v", q)
	}
	with := mustRead(t, weak)
	if err := again(t, r.Learned).Apply(with, "freestyle", someWays()); err != nil {
		t.Fatal(err)
	}
	bare := mustRead(t, weak)
	alien := inventory.Parts{Motor: "other", Prop: "alien", Pack: "kk", Frame: "ff", Board: "bb"}
	if a, b := craftOf(t, with, &alien), craftOf(t, bare, &alien); a.Propeller.ThrustFactor != b.Propeller.ThrustFactor ||
		a.Motor != b.Motor || a.Pack != b.Pack ||
		a.MassKg() != b.MassKg() || a.FlyingFactor != b.FlyingFactor || a.Uncertainty != b.Uncertainty {
		t.Error("a craft that shares no part was changed")
	}
	cousin := inventory.Parts{Motor: "m", Prop: "q", Pack: "k", Frame: "f", Board: "b"}
	if a, b := craftOf(t, with, &cousin), craftOf(t, bare, &cousin); a.Motor == b.Motor {
		t.Error("a craft with its motor and another prop: the motor should change")
	}
}

// Property: one spoilt reading among good ones is the one that is named, and what is learned stays
// where it was.
func TestSpoiltReadingIsNamed(t *testing.T) {
	good := mustRead(t, weak)
	fromTruth(t, good, "p", -0.15)
	clean := learn(t, good)
	for _, e := range clean.Entries {
		for _, x := range e.Readings {
			if !x.Fits {
				t.Errorf("entry %d, %s does not fit in a log without errors (off by %.1f)", e.Number, x.Key, x.Off)
			}
		}
	}
	bad := mustRead(t, weak)
	fromTruth(t, bad, "p", -0.15)
	*bad.Log[1].HoverThrottlePct *= 1.8
	r := learn(t, bad)
	var named []string
	for _, e := range r.Entries {
		for _, x := range e.Readings {
			if !x.Fits {
				named = append(named, string(x.Key))
				if e.Number != 2 {
					t.Errorf("entry %d, %s is named", e.Number, x.Key)
				}
			}
		}
	}
	if !slices.Equal(named, []string{"hover_throttle_pct"}) {
		t.Errorf("named: %v", named)
	}
	a, _ := changeOf(clean.Learned, inventory.KindProp, "p", uncertain.PropThrust)
	b, _ := changeOf(r.Learned, inventory.KindProp, "p", uncertain.PropThrust)
	if math.Abs(a.LnFactor-b.LnFactor) > 0.5*a.LnSDAfter {
		t.Errorf("thrust of p: %.3f without the spoilt reading, %.3f with it, doubt %.3f", a.LnFactor, b.LnFactor,
			a.LnSDAfter)
	}
}

// Property: two readings that contradict each other, with nothing to say which is right, are both
// named, and they teach nothing that makes the one worse by the other.
func TestContradictionIsNamed(t *testing.T) {
	head, _, _ := strings.Cut(weak, "log:")
	d := mustRead(t, head+`log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: 22}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: 38}
`)
	r := learn(t, d)
	if len(r.Conflicts) != 1 || r.Conflicts[0].A != 1 || r.Conflicts[0].B != 2 || r.Conflicts[0].Key != HoverThrottle {
		t.Errorf("clashes: %+v", r.Conflicts)
	}
	if r.CrossCheck.After > r.CrossCheck.Before {
		t.Errorf("left out: %+v", r.CrossCheck)
	}
	if r.Inflation == 1 {
		t.Error("the readings were taken at their word")
	}
}

// Property: the order of the log's entries does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	a := mustRead(t, hangar)
	b := mustRead(t, hangar)
	slices.Reverse(b.Log)
	for i := range a.Log {
		a.Log[i].Path, b.Log[i].Path = "", ""
	}
	x, y := learn(t, a).Learned, learn(t, b).Learned
	for i := range x.Parts {
		p := y.Of(x.Parts[i].Kind, x.Parts[i].ID)
		if p == nil {
			t.Fatalf("%s %s is missing", x.Parts[i].Kind, x.Parts[i].ID)
		}
		for _, c := range x.Parts[i].Changes {
			got, _ := changeOf(y, p.Kind, p.ID, c.Input)
			if math.Abs(got.LnFactor-c.LnFactor) > 0.02*c.LnSDAfter || math.Abs(got.LnSDAfter/c.LnSDAfter-1) > 0.01 {
				t.Errorf("%s %s %v: %.5f ± %.5f and %.5f ± %.5f", p.Kind, p.ID, c.Input, c.LnFactor, c.LnSDAfter, got.LnFactor,
					got.LnSDAfter)
			}
		}
	}
}

// Regression: what of a log cannot be used is said with its line, every fault at once.
func TestBadLogs(t *testing.T) {
	head, _, _ := strings.Cut(weak, "log:")
	const parts = "{parts: {motor: m, prop: p, pack: k, frame: f, board: b}, "
	for log, want := range map[string][]string{
		"": {"hangar.yaml: learn.nothing"},
		"log:\n  - " + parts + "hover_throttle_pct: 30}\n  - {parts: {motor: mm, prop: p, pack: k, frame: f, board: b}, " +
			"hover_throttle_pct: 30}\n": {
			"hangar.yaml:14:13: log[1].parts.motor: part.unknown id=mm", "id.near_log"},
		"log:\n  - " + parts + "flight_minutes: 4, flown: wildly, landing_cell_v: 3.5}\n": {"13:5: log[0].flown: " +
			"learn.flown got=wildly known=hover, cruise, hard, freestyle, indoor, race"},
		"log:\n  - " + parts + "flight_minutes: 4, flown: hard, used_mah: 900}\n  - " + parts + "loaded_cell_v: 4.25}\n": {
			"13:5: log[0].used_mah: learn.used_over_capacity capacity=650 got=900 pack=k", "14:5: log[1].loaded_cell_v: " +
				"learn.cell_over_full chemistry=LiPo full=4.20 got=4.25"},
		"log:\n  - " + parts + "hover_current_a: 20, " +
			"full_throttle_current_a: 18}\n": {"hover_current_a: learn.hover_over_full full=18 hover=20"},
	} {
		_, err := Learn(t.Context(), mustRead(t, head+log), someWays())
		var faults inventory.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: got %v", log, err)
			continue
		}
		for _, w := range want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s\ngot  %v\nwant %s", log, err, w)
			}
		}
	}
}

// Property: a craft that flew although its parts' figures say that it cannot is learned from.
func TestCraftThatCannotFlyByItsFigures(t *testing.T) {
	d := mustRead(t, `
motors: [{id: m, stator: "1204", kv: 3700, mass_g: 5.3, cells: [1, 3]}]
props: [{id: p, size: 2x1x2}]
packs: [{id: k, size: 1S 450 75C, mass_g: 13}]
frames: [{id: f, mass_g: 20, max_prop_in: 3}]
boards: [{id: b, esc_current_a: 14, cells: [1, 3], mass_g: 5}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: 88}
`)
	g, err := gather(t.Context(), d, someWays())
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := predictions(g.observations[0], make([]float64, len(g.list))); ok {
		t.Fatal("by its figures it flies")
	}
	r, err := Learn(t.Context(), d, someWays())
	if err != nil {
		t.Fatal(err)
	}
	x := r.Entries[0].Readings[0]
	if x.Before.Known || !x.After.Known {
		t.Errorf("before %+v, after %+v", x.Before, x.After)
	}
}

// Property: more of one part's error makes a set of two kinds of motor err half as much, and its
// doubt stays between that of its kinds and that of any motor.
func TestMixedSetLearnsFromItsKinds(t *testing.T) {
	d := mustRead(t, `
motors: [{id: a, stator: "1404", kv: 3900, count: 2}, {id: b, stator: "1404", kv: 3850, count: 2}]
props: [{id: p, size: 3.5x2.2x3}]
packs: [{id: k, size: 4S 650 95C}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: bd, esc_current_a: 25, cells: [2, 6]}]
`)
	before := d.Motor("a~b").SI()
	d.Motor("a").Learned = inventory.Corrections{{Input: uncertain.MotorSpeed, LnFactor: 0.1, LnSD: 0.01,
		Shared: []float64{1}}}
	after := d.Motor("a~b")
	k, ok := after.Learned.For(uncertain.MotorSpeed)
	if !ok || math.Abs(k.LnFactor-0.05) > 1e-12 || !(k.LnSD > 0.005 && k.LnSD < before.TorqueConstant.LnSD) {
		t.Errorf("the set's kV: %+v, was known to %.3f", k, before.TorqueConstant.LnSD)
	}
	si := after.SI()
	if got := before.TorqueConstantNmA / si.TorqueConstantNmA; math.Abs(got-math.Exp(0.05)) > 1e-9 {
		t.Errorf("the set turns %.4f times as fast, want e^0.05", got)
	}
}

// Property: a reading that an entry says is known worse teaches less.
func TestWithinOverridesTheTable(t *testing.T) {
	head, _, _ := strings.Cut(weak, "log:")
	narrowed := func(within string) float64 {
		d := mustRead(t, head+"log:\n  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, "+
			"hover_throttle_pct: 32"+within+"}\n")
		c, _ := changeOf(learn(t, d).Learned, inventory.KindBoard, "b", uncertain.ThrottleScale)
		return c.Narrowed()
	}
	usual, same, loose := narrowed(""), narrowed(", within: {hover_throttle_pct: 2}"), narrowed(", within: {hover_throttle_pct: 6}")
	if usual != same || !(loose < usual) {
		t.Errorf("narrowed by %.3f as usual, %.3f with 2 points, %.3f with 6", usual, same, loose)
	}
}

// Independent: readings that scatter more than stated are taken as 2, 4 or 8 times less sure, as the documentation
// says, and what is then learned is what the same readings teach when each states that doubt by itself.
func TestScatteredReadingsAreTakenAsLessSure(t *testing.T) {
	head, _, _ := strings.Cut(weak, "log:")
	scattered := func(apart, sd float64) *Report {
		log := "log:\n"
		for _, sign := range []float64{-1, 1} {
			log += fmt.Sprintf("  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: %g, "+
				"throttle_kind: signal, "+
				"within: {hover_throttle_pct: %g}}\n", 30+sign*apart, sd)
		}
		return learn(t, mustRead(t, head+log))
	}
	seen := map[float64]bool{}
	for apart := 2.5; apart < 6.2; apart += 0.25 {
		r := scattered(apart, 2)
		if w := r.Inflation; w > 1 && !seen[w] {
			stated := scattered(apart, 2*w)
			if stated.Inflation != 1 {
				t.Errorf("%g points apart: stated as ±%g, taken as %g times less sure", apart, 2*w, stated.Inflation)
			}
			for _, p := range r.Learned.Parts {
				for _, c := range p.Changes {
					s, ok := changeOf(stated.Learned, p.Kind, p.ID, c.Input)
					if !ok || math.Abs(s.LnFactor-c.LnFactor) > 1e-9 || math.Abs(s.LnSDAfter-c.LnSDAfter) > 1e-9 {
						t.Errorf("%s %s %v: %.6f ± %.6f, stated %.6f ± %.6f", p.Kind, p.ID, c.Input, c.LnFactor, c.LnSDAfter,
							s.LnFactor, s.LnSDAfter)
					}
				}
			}
		}
		seen[r.Inflation] = true
	}
	if got := slices.Sorted(maps.Keys(seen)); !slices.Equal(got, []float64{0, 1, 2, 4, 8}) {
		t.Errorf("readings were taken as %v times less sure", got)
	}
}

// Property: a hover current above the predicted one is booked on what ESCs lose at part throttle before it is booked on
// the prop's torque at a given thrust (power over thrust to 1.5), and a current at full throttle, where ESCs lose
// nothing, not on the ESCs at all.
func TestHoverCurrentTeachesTheBoardFirst(t *testing.T) {
	head, _, _ := strings.Cut(weak, "log:")
	shifts := func(log string) (board, prop float64) {
		d := mustRead(t, head+"log:\n  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, "+log+"}\n")
		r := learn(t, d)
		b, _ := changeOf(r.Learned, inventory.KindBoard, "b", uncertain.PartThrottle)
		power, _ := changeOf(r.Learned, inventory.KindProp, "p", uncertain.PropPower)
		thrust, _ := changeOf(r.Learned, inventory.KindProp, "p", uncertain.PropThrust)
		return b.LnFactor, power.LnFactor - 1.5*thrust.LnFactor
	}
	board, prop := shifts("all_up_g: 180, hover_current_a: 6")
	if !(board > 0 && board > 2*prop) {
		t.Errorf("a high hover current moves the board's draw by %.3f of ln, the prop's torque by %.3f", board, prop)
	}
	full, _ := shifts("all_up_g: 180, full_throttle_current_a: 24")
	if math.Abs(full) > 0.1*board {
		t.Errorf("a current at full throttle moves the board's draw by %.3f of ln", full)
	}
}
