package predict

import (
	"math"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"

	"gonum.org/v1/gonum/stat"
)

// sample are the draws of one combination.
type sample struct {
	uncertainty uncertain.Budget
	deviations  []uncertain.Deviation
}

func sampleOf(t *testing.T, d *Draws, c inventory.Combination, air rotor.Air) sample {
	t.Helper()
	prop, err := c.Prop.Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	craft, err := c.Craft(prop)
	if err != nil {
		t.Fatal(err)
	}
	return sample{craft.Uncertainty, d.deviations(&c, &craft.Uncertainty)}
}

// of lists the deviations of one input.
func (s *sample) of(i uncertain.Input) []float64 {
	var out []float64
	for _, d := range s.deviations {
		out = append(out, d[i])
	}
	return out
}

// Property: combinations that share a part share its draws, others are independent, props of a
// series share the series' part, and the spreads and correlations are those of the uncertainty.
func TestDrawsAreShared(t *testing.T) {
	drawer := synthetic.Club(t)
	air := problem(t, drawer, "cruise").Air
	d := NewDraws(Sampling{Draws: 4000, Seed: 3})
	part := func(motor, prop, pack string) inventory.Combination {
		return inventory.Combination{Motor: drawer.Motor(motor), Prop: drawer.Prop(prop), Pack: drawer.Pack(pack),
			Frame: &drawer.Frames[0], Board: &drawer.Boards[0]}
	}
	a, b := part("m1507-37", "p3.5-26x3", "k3s-620"), part("m1507-27", "p3.5-26x3", "k4s-720")
	of := func(c inventory.Combination) *sample { s := sampleOf(t, d, c, air); return &s }
	first, second := of(a), of(b)
	sameProp := first.of(uncertain.PropThrust)
	if r := stat.Correlation(sameProp, second.of(uncertain.PropThrust), nil); r < 1-1e-12 {
		t.Errorf("one prop in two combinations correlates by %g", r)
	}
	if r := stat.Correlation(first.of(uncertain.MotorSpeed), second.of(uncertain.MotorSpeed), nil); math.Abs(r) > 0.05 {
		t.Errorf("two motors correlate by %g", r)
	}
	// p3.5-19x3 is of the series of p3.5-26x3, p3.5-35x3 of another.
	u := &first.uncertainty
	sister, other := part("m1507-37", "p3.5-19x3", "k3s-620"), part("m1507-37", "p3.5-35x3", "k3s-620")
	for _, c := range []struct {
		what      string
		with      *sample
		oneSeries bool
	}{{"of a series", of(sister), true}, {"of two series", of(other), false}} {
		v := &c.with.uncertainty
		for row, input := range uncertain.FormInputs() {
			want := u.Prop.Covariance(&v.Prop, row, row, c.oneSeries) / (u.LnSD[input] * v.LnSD[input])
			if r := stat.Correlation(first.of(input), c.with.of(input), nil); math.Abs(r-want) > 0.05 || want == 0 {
				t.Errorf("%v of props %s correlates by %.3f, want %.3f", input, c.what, r, want)
			}
		}
	}
	mean, sd := stat.MeanStdDev(sameProp, nil)
	r := stat.Correlation(sameProp, first.of(uncertain.PropPower), nil)
	if math.Abs(mean) > 0.05*u.LnSD[uncertain.PropThrust] || math.Abs(sd/u.LnSD[uncertain.PropThrust]-1) > 0.05 ||
		math.Abs(r-u.ThrustPower) > 0.05 {
		t.Errorf("prop thrust: mean %g, sd %g of %g, correlation %g of %g", mean, sd, u.LnSD[uncertain.PropThrust], r,
			u.ThrustPower)
	}
	sd, r = stat.StdDev(first.of(uncertain.MotorSpeed), nil), stat.Correlation(first.of(uncertain.MotorSpeed),
		first.of(uncertain.MotorResistance), nil)
	if math.Abs(sd/u.LnSD[uncertain.MotorSpeed]-1) > 0.05 || math.Abs(r-u.SpeedResistance) > 0.05 {
		t.Errorf("motor speed: sd %g of %g, correlation %g of %g", sd, u.LnSD[uncertain.MotorSpeed], r, u.SpeedResistance)
	}
	if r := stat.Correlation(first.of(uncertain.FlyingPower), second.of(uncertain.FlyingPower), nil); r < 1-1e-12 {
		t.Errorf("the way of flying correlates by %g", r)
	}
	again := NewDraws(Sampling{Draws: 4000, Seed: 3})
	if got := sampleOf(t, again, a, air); got.deviations[17] != first.deviations[17] {
		t.Error("the same seed draws other numbers")
	}
}

// Shares of draws worked out by hand, ties halved.
func TestShares(t *testing.T) {
	results := make([]Result, 3)
	shares(results, [][]float64{{3, 1, 2, 2}, {2, 2, 2, 1}, {1, 0, 2, 5}})
	for i, want := range [][2]float64{{0.625, (1 + 1.0/3) / 4}, {0.625, (1 + 1.0/3) / 4}, {1, (1 + 1.0/3) / 4}} {
		if got := results[i]; math.Abs(got.AheadShare-want[0]) > 1e-12 || math.Abs(got.BestShare-want[1]) > 1e-12 {
			t.Errorf("result %d: %g and %g, want %v", i, got.AheadShare, got.BestShare, want)
		}
	}
	for share, want := range map[float64]Lead{0.95: Clear, 0.9: Clear, 0.89: Likely, 0.7: Likely, 0.69: TossUp} {
		if got := LeadOf(share); got != want {
			t.Errorf("%g is %s", share, got)
		}
	}
}

// Property: draws go with the owners of their inputs.
func TestDrawsGoWithOwners(t *testing.T) {
	seen := map[uncertain.Input]bool{}
	for owner, lists := range map[uncertain.Owner][][]uncertain.Input{
		uncertain.OfProp: {propInputs[:]}, uncertain.OfMotor: {motorInputs[:], limitInputs[:]},
		uncertain.OfPack: {packInputs[:]}, uncertain.OfFrame: {frameInputs[:]}, uncertain.OfBoard: {boardInputs[:]},
		uncertain.OfExtras: {extrasInputs[:]}, uncertain.OfAll: {allInputs[:], lawInputs[:]},
	} {
		for _, inputs := range lists {
			for _, i := range inputs {
				seen[i] = true
				if i.Owner() != owner {
					t.Errorf("%v is drawn with owner %d, it belongs to %d", i, owner, i.Owner())
				}
			}
		}
	}
	for i := range uncertain.InputCount {
		if !seen[i] {
			t.Errorf("%v is drawn with nothing", i)
		}
	}
}

// Property: neither the names of parts nor their order in the drawer move a draw; parts that are the same but for
// their names have numbers of their own; and a part changed in thought keeps its numbers.
func TestDrawsHangOnContent(t *testing.T) {
	drawer := synthetic.Club(t)
	air := problem(t, drawer, "cruise").Air
	twin := *drawer.Motor("m1507-27")
	twin.ID, twin.Note = "m1507-27-second", "another note"
	drawer.Motors = append(drawer.Motors, twin)
	renamed := *drawer
	renamed.Motors, renamed.Props = slices.Clone(drawer.Motors), slices.Clone(drawer.Props)
	slices.Reverse(renamed.Motors)
	slices.Reverse(renamed.Props)
	for i := range renamed.Motors {
		renamed.Motors[i].ID = "z" + renamed.Motors[i].ID
		four := 4
		renamed.Motors[i].Count = &four
	}
	for i := range renamed.Props {
		renamed.Props[i].ID = "z" + renamed.Props[i].ID
	}
	of := func(d *inventory.Drawer, motor *inventory.Motor, p *inventory.Prop) sample {
		c := inventory.Combination{Motor: motor, Prop: p, Pack: &d.Packs[0], Frame: &d.Frames[0], Board: &d.Boards[0],
			Extras: []*inventory.Extra{&d.Extras[0], &d.Extras[1]}}
		return sampleOf(t, NewDraws(Sampling{Draws: 50, Seed: 3, Drawer: d}), c, air)
	}
	before := of(drawer, drawer.Motor("m1507-27"), drawer.Prop("p3.5-26x3"))
	after := of(&renamed, renamed.Motor("zm1507-27"), renamed.Prop("zp3.5-26x3"))
	if !slices.Equal(before.deviations, after.deviations) {
		t.Error("draws hang on names or order")
	}
	second := of(drawer, drawer.Motor("m1507-27-second"), drawer.Prop("p3.5-26x3"))
	if slices.Equal(before.of(uncertain.MotorSpeed), second.of(uncertain.MotorSpeed)) {
		t.Error("two motors with the same label err alike")
	}
	faster := *drawer.Motor("m1507-27")
	faster.KV *= 1.1
	if changed := of(drawer, &faster, drawer.Prop("p3.5-26x3")); !slices.Equal(before.of(uncertain.MotorSpeed),
		changed.of(uncertain.MotorSpeed)) {
		t.Error("a motor changed in thought draws other numbers")
	}
	faster.ID = "other"
	if other := of(drawer, &faster, drawer.Prop("p3.5-26x3")); slices.Equal(before.of(uncertain.MotorSpeed),
		other.of(uncertain.MotorSpeed)) {
		t.Error("another motor draws the same numbers")
	}
}

// Property: what a drawer says of a prop is its content, but for id, note and count.
func TestContentOfAProp(t *testing.T) {
	drawer := synthetic.Club(t)
	prop := drawer.Props[0]
	was := contentOf(&prop)
	for name, change := range map[string]func(p *inventory.Prop){
		"diameter": func(p *inventory.Prop) { p.DiameterIn += 0.01 }, "blades": func(p *inventory.Prop) { p.Blades++ },
		"series": func(p *inventory.Prop) { p.Series += "x" }, "flex": func(p *inventory.Prop) { p.Flex = "stiff" },
		"stations": func(p *inventory.Prop) { p.Stations = append(p.Stations, inventory.BladeStation{RadiusMm: 3}) },
	} {
		other := prop
		if change(&other); contentOf(&other) == was {
			t.Errorf("another %s is the same content", name)
		}
	}
	other := prop
	other.ID, other.Note = "other", "other"
	if contentOf(&other) != was {
		t.Error("id or note is content")
	}
}

// Scores by themselves are those of the whole propagation, to the last bit.
func TestScoresAloneAreThoseOfThePropagation(t *testing.T) {
	for _, style := range []string{"race", "indoor"} {
		p, _ := adviceCase(t, style)
		results := allFeasible(t, p)
		if len(results) == 0 {
			t.Fatalf("%s: nothing is feasible", style)
		}
		for _, i := range []int{0, len(results) / 2, len(results) - 1} {
			d := NewDraws(Sampling{Draws: 20, Seed: 3, Drawer: p.Drawer})
			whole := results[i].Propagate(t.Context(), &p.Style, d, 2).Drawn(scoreFigure)
			draws := d.deviations(&results[i].Combination, &results[i].Craft.Uncertainty)
			if alone := results[i].scores(t.Context(), &p.Style, draws, 2); !slices.Equal(alone, whole) {
				t.Errorf("%s, place %d: %v alone, %v with all figures", style, i+1, alone, whole)
			}
		}
	}
}

// Shares near to a bound of a verdict are drawn more often, others are left; on average nothing moves.
func TestSharesNearABoundAreSharpened(t *testing.T) {
	p, _ := adviceCase(t, "freestyle")
	results := allFeasible(t, p)[:12]
	o := Sampling{Seed: 7, Drawer: p.Drawer}
	scores := Judge(t.Context(), results, &p.Style, NewDraws(o), 2)
	before := slices.Clone(results)
	Sharpen(t.Context(), results, scores, &p.Style, o)
	moved := 0
	for i := range results {
		a, b := before[i].AheadShare, results[i].AheadShare
		near := nearBound(a, defaultDraws)
		if a != b {
			moved++
		}
		if !near && a != b || math.Abs(a-b) > 4*math.Sqrt(a*(1-a)/defaultDraws) {
			t.Errorf("place %d: %g, sharpened %g", i+1, a, b)
		}
	}
	if moved == 0 {
		t.Error("no share is near to a bound")
	}
}
