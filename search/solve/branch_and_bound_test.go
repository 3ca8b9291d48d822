package solve

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// boundDrawers is how many drawers the bounds are tried on.
const boundDrawers = 200

// anyStyle is a way of flying at random: weights with zeros among them, 0 to 25 m/s, segments of all
// kinds.
func anyStyle(rng *rand.Rand) objective.Style {
	style := objective.Style{Name: "any"}
	for a := range style.Weights {
		style.Weights[a] = max(0, rng.Float64()-0.3)
	}
	style.Weights[rng.IntN(4)] += 0.1
	style.Weights, _ = style.Weights.Normalised()
	f := &style.Flying
	f.SpeedMS = 25 * rng.Float64()
	if rng.IntN(2) == 0 { // else as usual for the craft
		f.LandingV = 3.2 + 0.4*rng.Float64()
	}
	n := 1 + rng.IntN(4)
	for range n {
		g := physics.Segment{Kind: physics.Kind(rng.IntN(4)), Share: 1 / float64(n), LoadFactor: 1}
		if g.Kind != physics.Punch {
			g.SpeedMS = 16 * rng.Float64()
		}
		if g.Kind == physics.Turn {
			g.LoadFactor = 1 + rng.Float64()
		}
		if g.Kind != physics.Punch && rng.IntN(2) == 0 { // in parts of what motor, prop and cells reach
			g.SpeedMS, g.SpeedPart = 0, 0.6*rng.Float64()
			if g.Kind == physics.Turn {
				g.LoadFactor, g.LoadPart = 1, 0.4*rng.Float64()
			}
		}
		f.Segments = append(f.Segments, g)
	}
	f.Indoors = !physics.Outdoors(f.Segments)
	if rng.IntN(2) == 0 {
		style = style.With(objective.Limit{Quantity: figure.StyleTime,
			Range: objective.Range{Low: 1 + 3*rng.Float64(), High: 1e9}})
	}
	if rng.IntN(2) == 0 {
		style = style.With(objective.Limit{Quantity: figure.AllUpMass,
			Range: objective.Range{Low: 20, High: 50 + 500*rng.Float64()}})
	}
	if rng.IntN(3) == 0 {
		style = style.With(objective.Limit{Quantity: figure.TopSpeed,
			Range: objective.Range{Low: 20 * rng.Float64(), High: 1e9}})
	}
	for _, one := range []struct {
		quantity  figure.Quantity
		low, high float64
	}{
		{figure.ElectricalSpeed, 150e3, 500e3}, {figure.MotorTemperature, 40, 180}, {figure.PunchTemperature, 60, 250},
		{figure.TurnThrottle, 30, 250},
	} {
		if rng.IntN(5) == 0 {
			style = style.With(objective.Limit{Quantity: one.quantity,
				Range: objective.Range{Low: -1e9, High: one.low + (one.high-one.low)*rng.Float64()}})
		}
	}
	for range rng.IntN(3) {
		q := figure.Quantity(rng.IntN(int(figure.Count)))
		style = style.With(objective.Limit{Quantity: q, Range: usually(q, rng)})
	}
	if rng.IntN(3) == 0 {
		// What most of the crafts have at this speed, with ducts and without.
		energyJ := func() objective.Range {
			return objective.Range{Low: -1, High: 0.5 * (0.03 + 0.6*rng.Float64()) * f.SpeedMS * f.SpeedMS}
		}
		style = style.With(objective.Limit{Quantity: figure.KineticEnergy, Range: energyJ()})
		style.DuctedLimits = []objective.Limit{{Quantity: figure.KineticEnergy, Range: energyJ()}}
	}
	return style
}

// usually is a range of a figure, open on one side or on neither, that some crafts of the usual sizes keep and others do
// not.
func usually(q figure.Quantity, rng *rand.Rand) objective.Range {
	usual := [figure.Count][2]float64{
		figure.AllUpMass: {30, 900}, figure.DiscLoading: {20, 200}, figure.KineticEnergy: {0.2, 60},
		figure.HoverThrottle: {15, 60}, figure.HoverCurrent: {1, 20}, figure.HoverPower: {5, 200},
		figure.HoverSpeed: {5000, 30000}, figure.FullThrottleThrust: {60, 6000}, figure.FullThrottleCurrent: {5, 150},
		figure.PackSafeCurrent: {15, 200}, figure.PackSagCurrent: {10, 200}, figure.PackCurrentUse: {20, 200},
		figure.BoardCurrentUse: {20, 200}, figure.MotorCurrentUse: {20, 200}, figure.ConnectorCurrentUse: {20, 200},
		figure.LoadedCell: {2.8, 4}, figure.ThrottleCap: {40, 100}, figure.ThrustToWeight: {2, 10},
		figure.StyleTime: {1, 15}, figure.HoverTime: {2, 25}, figure.CruiseTime: {2, 20}, figure.HardTime: {1, 10},
		figure.UsedCharge: {200, 3000}, figure.EndThrustToWeight: {1.5, 8}, figure.EndHoverThrottle: {18, 70},
		figure.MeanCurrent: {2, 40}, figure.TurnThrottle: {30, 120}, figure.TurnLoadFactor: {1.5, 9},
		figure.PullOut: {1, 30}, figure.Response: {16, 70}, figure.Rise: {25, 150}, figure.ThrustStep: {2, 12},
		figure.TopSpeed: {8, 45}, figure.ForwardAcceleration: {3, 60}, figure.BestEnduranceSpeed: {2, 9},
		figure.BestRangeSpeed: {5, 18}, figure.Range: {0.5, 10}, figure.MotorHeat: {0.5, 20},
		figure.MotorTemperature: {20, 90}, figure.PunchTemperature: {25, 140}, figure.ElectricalSpeed: {100e3, 400e3},
		figure.TipMach: {0.2, 0.8},
	}[q]
	at := func() float64 { return usual[0] * math.Pow(usual[1]/usual[0], rng.Float64()) }
	switch low := at(); rng.IntN(3) {
	case 0:
		return objective.Range{Low: low, High: math.Inf(1)}
	case 1:
		return objective.Range{Low: math.Inf(-1), High: low}
	default:
		high := at()
		return objective.Range{Low: min(low, high), High: max(low, high)}
	}
}

// Property: no feasible candidate has an axis or a score over the bound of a branch that holds it, nor has it axes over
// those of every piece of the branch, and no branch that is ruled out holds a feasible one. Random branches of random drawers, all
// styles and others at random, all members.
func TestBoundsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	branches, members, cut := 0, 0, 0
	for seed := range uint64(synthetic.Of(boundDrawers)) {
		style := objective.PresetNames()[seed%5]
		d := synthetic.Generate(1000+seed, synthetic.Sizes{3 + rng.IntN(4), 3 + rng.IntN(4), 4 + rng.IntN(6),
			2 + rng.IntN(3), 2 + rng.IntN(3)}, seed%3 > 0)
		for i := range d.Frames {
			if f := &d.Frames[i]; (seed+uint64(i))%2 == 0 {
				wide := 1.01 * *f.MaxPropIn // a duct is wider than its prop
				f.Ducted, f.MaxPropIn = true, &wide
			}
		}
		p := problem(t, d, style)
		if seed%2 == 0 {
			style = "any"
			p.Style = anyStyle(rng)
		}
		s, err := space.New(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		if s.Fitted == 0 {
			continue
		}
		f, err := layRootNodes(s)
		if err != nil {
			t.Fatal(err)
		}
		x := newBounder(s)
		evaluations := map[space.Candidate]objective.Evaluation{}
		for i := range f.count {
			n := openNode(int32(i))
			for {
				if rng.IntN(3) > 0 {
					b := f.branch(&n)
					looks := rng.IntN(len(stages) + 4) // as far as bounds are refined, to the end at times
					known := n.bound()
					got := x.bound(&b, &known, func(*bound) bool { looks--; return looks >= 0 })
					branches++
					eachUnder(f, &n, func(c space.Candidate) {
						v, ok := evaluations[c]
						if !ok {
							v = s.Evaluate(c).Evaluation
							evaluations[c] = v
						}
						if !v.Feasible() {
							return
						}
						members++
						made := s.Combination(c)
						if got.none {
							t.Fatalf("drawer %d, %s: a branch that is ruled out holds %s", seed, style, made.Key())
						}
						for a := range v.Axes {
							if v.Axes[a] > got.axes[a] {
								t.Errorf("drawer %d, %s: %s has %s %.6g, over the bound %.6g of its %d", seed, style, made.Key(),
									objective.Axis(a), v.Axes[a], got.axes[a], sizeOf(f, &n))
							}
						}
						if got.cut > 0 {
							cut++
							if !slices.ContainsFunc(got.pieces[:got.cut], func(most objective.Axes) bool {
								return v.Axes == most || most.Dominates(&v.Axes)
							}) {
								t.Errorf("drawer %d, %s: %s is over the bounds of all pieces of its branch", seed, style, made.Key())
							}
						}
						if v.Score > got.score {
							t.Errorf("drawer %d, %s: %s scores %.6g, over the bound %.6g", seed, style, made.Key(), v.Score, got.score)
						}
					})
					if t.Failed() {
						t.FailNow()
					}
					if !got.none {
						n.tighten(&got, &p.Style.Weights) // halves inherit it
					}
				}
				if _, looks := f.size(&n); looks <= 1 {
					break
				}
				n = f.split(&n)[rng.IntN(2)]
			}
		}
	}
	if branches < 40*synthetic.Of(boundDrawers) || members < 25*synthetic.Of(boundDrawers) || cut < synthetic.Of(boundDrawers) {
		t.Errorf("only %d branches with %d feasible members were tried, %d of them in pieces", branches, members, cut)
	}
}

// Property: boards that differ in what electronics draw alone leave a pack that sags different voltages, which the
// bound on the thrust step knows. One cell, parts at random.
func TestBoundsHoldOverElectronics(t *testing.T) {
	s := laidOut(t, synthetic.Generate(5469, synthetic.Sizes{3, 6, 9, 2, 3}, true), "hall")
	f, err := layRootNodes(s)
	if err != nil {
		t.Fatal(err)
	}
	x := newBounder(s)
	var alone int // branches of which only electronics differ
	for i := range f.count {
		open := []node{openNode(int32(i))}
		for len(open) > 0 {
			n := open[0]
			open = open[1:]
			b := f.branch(&n)
			if _, looks := f.size(&n); looks > 1 {
				two := f.split(&n)
				open = append(open, two[:]...)
				if b.packs.massKg.low == b.packs.massKg.high && b.bodies.massKg.low == b.bodies.massKg.high &&
					b.bodies.watts.low < b.bodies.watts.high {
					alone++
				}
			}
			known := n.bound()
			got := x.bound(&b, &known, func(*bound) bool { return true })
			eachUnder(f, &n, func(c space.Candidate) {
				v, made := s.Evaluate(c).Evaluation, s.Combination(c)
				for a := range v.Axes {
					if v.Feasible() && (got.none || v.Axes[a] > got.axes[a]) {
						t.Errorf("%s has %s %.6g, over the bound %.6g", made.Key(), objective.Axis(a), v.Axes[a],
							got.axes[a])
					}
				}
			})
		}
	}
	if alone == 0 {
		t.Error("no branch differs in electronics alone")
	}
}

// Property: branch and bound gives what plain enumeration gives, the front included, on hundreds of
// random drawers.
func TestProofAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	ctx := context.Background()
	compared, skipped := 0, int64(0)
	for seed := range uint64(synthetic.Of(240)) {
		style := objective.PresetNames()[seed%5]
		d := synthetic.Generate(2000+seed, synthetic.Small(rng), seed%2 == 0)
		synthetic.AddTwins(d, rng)
		if seed%4 == 1 {
			synthetic.AddPowertrainTwins(d, rng)
		}
		s := laidOut(t, d, style)
		o := Options{Top: 1 + int(seed%7), Workers: 2, Ungrouped: seed%3 == 0}
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		p, err := proveFrom(ctx, s, &o, 40) // few evaluations to start from, so that bounds decide
		if err != nil || !p.Whole {
			t.Fatal(err)
		}
		if len(p.Best.List) != len(plain.Best.List) {
			t.Fatalf("drawer %d, %s: %d found, enumeration has %d", seed, style, len(p.Best.List), len(plain.Best.List))
		}
		for i := range plain.Best.List {
			if p.Best.List[i] != plain.Best.List[i] {
				t.Fatalf("drawer %d, %s, place %d: %+v, enumeration has %+v", seed, style, i+1, p.Best.List[i], plain.Best.List[i])
			}
		}
		if !p.Fronted {
			t.Fatalf("drawer %d, %s: the front is not proven after %d looks", seed, style, p.evaluations())
		}
		front, want := p.Front.Sorted(), plain.Front.Sorted()
		if len(front) != len(want) {
			t.Fatalf("drawer %d, %s: %d on the front, enumeration has %d", seed, style, len(front), len(want))
		}
		for i := range want {
			if front[i].Evaluation.Axes != want[i].Evaluation.Axes {
				t.Fatalf("drawer %d, %s, place %d of the front: %v, enumeration has %v", seed, style, i+1,
					front[i].Evaluation.Axes, want[i].Evaluation.Axes)
			}
		}
		if len(plain.Best.List) > 0 {
			compared++
		}
		skipped += s.Fitted - p.Evaluated
	}
	if compared < synthetic.Of(80) || skipped == 0 {
		t.Errorf("%d drawers compared, %d candidates skipped", compared, skipped)
	}
}

// The root nodes hold every candidate that fits, each once.
func TestForestIsWhole(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for seed := range uint64(30) {
		s := laidOut(t, synthetic.Generate(seed, synthetic.Small(rng), seed%2 == 0), "cruise")
		f, err := layRootNodes(s)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[space.Candidate]bool{}
		var size int64
		for i := range f.count {
			n := node{root: int32(i)}
			size += sizeOf(f, &n)
			eachUnder(f, &n, func(c space.Candidate) {
				if seen[c] || !s.FitsTogether(c) {
					t.Fatalf("drawer %d: %v twice or unfit", seed, c)
				}
				seen[c] = true
			})
		}
		if int64(len(seen)) != s.Fitted || size != s.Fitted {
			t.Fatalf("drawer %d: %d of %d candidates", seed, len(seen), s.Fitted)
		}
	}
}

// Worked out by hand: sorted numbers are cut between clusters, and in the middle where all are as far apart or equal.
func TestCutFallsBetweenClusters(t *testing.T) {
	for _, c := range []struct {
		of   []float64
		want int
	}{
		{[]float64{1, 2}, 1}, {[]float64{0, 1, 9, 9.5, 10}, 2}, {[]float64{0, 0.1, 0.2, 5}, 3}, {[]float64{5, 5, 5, 5}, 2},
		{[]float64{0, 1, 2, 3, 4, 5}, 3},
		{[]float64{0, 1, 1.5}, 1}, // 2 · 0.5 against 2 · 1
	} {
		if got := cutOf(len(c.of), func(i int) float64 { return c.of[i] }); got != c.want {
			t.Errorf("%v: %d cut off, want %d", c.of, got, c.want)
		}
	}
}

// Independent: 50 to 60 g at 3 m/s have 0.225 to 0.27 J. A branch is ruled out by that only if neither its open nor its
// ducted bodies may have so much.
func TestKineticEnergyRulesOut(t *testing.T) {
	style, _ := objective.Preset("indoor")
	x := newBounder(&space.Space{Problem: space.Problem{Style: style}})
	for _, c := range []struct {
		lowKg, highKg float64
		open, ducted  bool
		want          bool
	}{
		{0.050, 0.060, true, false, false}, {0.057, 0.060, true, false, true}, {0.057, 0.060, true, true, false},
		{0.057, 0.060, false, true, false}, {0.090, 0.100, false, true, true}, {0.090, 0.100, true, true, true},
	} {
		b := branch{bodies: &bodyRanges{open: c.open, ducted: c.ducted}}
		if got := x.partsBreak(&b, c.lowKg, c.highKg); got != c.want {
			t.Errorf("%+v: ruled out %v", c, got)
		}
	}
}

// eachUnder yields every candidate under a node, twins too.
func eachUnder(f *rootNodes, n *node, yield func(space.Candidate)) {
	f.each(n, func(c space.Candidate, _ int64) { f.twins(n, c, yield) })
}

func sizeOf(f *rootNodes, n *node) int64 {
	size, _ := f.size(n)
	return size
}
