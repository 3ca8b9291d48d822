package solve

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Property: the figures of every member of random branches lie in the branch's range, for every figure that has one.
func TestOuterRangesHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	tried := map[figure.Quantity]int{}
	for seed := range uint64(synthetic.Of(120)) {
		d := synthetic.Generate(7000+seed, synthetic.Sizes{3, 3, 5 + rng.IntN(4), 2 + rng.IntN(3), 2 + rng.IntN(3)}, true)
		p := problem(t, d, objective.PresetNames()[seed%5])
		if seed%2 == 0 {
			p.Style = anyStyle(rng)
		}
		s, err := space.New(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		f, err := layRootNodes(s)
		if err != nil {
			t.Fatal(err)
		}
		x, free := newBounder(s), p.Style // but for the rules of every craft
		free.Limits, free.DuctedLimits = nil, nil
		for i := range f.count {
			if rng.IntN(4) > 0 {
				continue
			}
			n := node{root: int32(i)}
			for rng.IntN(2) == 0 && sizeOf(f, &n) > 2 {
				n = f.split(&n)[rng.IntN(2)]
			}
			b := f.branch(&n)
			light, poor := x.corner(&b, lightEnd), x.corner(&b, poorEnd)
			best, worst := light.Begin(&p.Style.Flying), poor.Begin(&p.Style.Flying)
			pullOut := figure.SetOf(figure.PullOut)
			best.GoOn(figure.Every &^ pullOut)
			worst.GoOn(figure.Every &^ pullOut)
			goOnWithDrag(&light, &best, pullOut, b.bodies.dragM2.high)
			goOnWithDrag(&poor, &worst, pullOut, b.bodies.dragM2.low)
			r := relaxation{of: x, branch: &b, lightKg: light.MassKg(), light: best.Performance(), poor: worst.Performance(),
				mass: poor.MassKg() / light.MassKg(), ohm: x.ohmRatio(&b), spareA: x.spareA(&b)}
			eachUnder(f, &n, func(c space.Candidate) {
				craft := s.Craft(c)
				got := craft.Evaluate(&p.Style.Flying)
				if v := free.Evaluate(&craft, &got); !v.Feasible() {
					return
				}
				for q := range figure.Count {
					value, why := got.Get(q)
					if why != physics.Defined {
						continue
					}
					tried[q]++
					made := s.Combination(c)
					o := r.outer(q)
					if ofParts(q) {
						o = x.fromParts(q, &b, light.MassKg(), poor.MassKg())
					}
					if value < o.low*(1-1e-12) || value > o.high*(1+1e-12) {
						t.Errorf("drawer %d, %s of %s: %.6g, outside of %.6g to %.6g (mass %.3g, ohm %.3g)", seed,
							figure.Of(q).Key, made.Key(), value, o.low, o.high, r.mass, r.ohm)
					}
				}
			})
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	for q := range figure.Count {
		if tried[q] < 3*synthetic.Of(120) {
			t.Errorf("%s was tried on %d members", figure.Of(q).Key, tried[q])
		}
	}
}

// Property: a pack that sags more leaves no more thrust at half charge, at the cap that its limits leave on a full one,
// than one that sags less does under limits wider by limitSlack.
func TestSagLeavesLittleMoreAtTheCap(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	asked := figure.SetOf(figure.TurnLoadFactor)
	tried, most := 0, 0.0
	for seed := range uint64(synthetic.Of(60)) {
		s := laidOut(t, synthetic.Generate(8000+seed, synthetic.Sizes{6, 8, 8, 5, 4}, true), "freestyle")
		i := 0
		s.Each(func(c space.Candidate) bool {
			if i++; i%7 > 0 {
				return true
			}
			craft := s.Craft(c)
			flying := s.Problem.Style.Flying
			flying.SpeedMS = 1 // next to standing still
			sags := craft
			softer := 6 * rng.Float64() * rng.Float64()
			sags.Pack.InternalOhm *= 1 + softer
			sags.Board.PartThrottleLoss += 0.02 * softer
			ratio := (sags.Pack.InternalOhm + sags.Pack.LeadOhm) / (craft.Pack.InternalOhm + craft.Pack.LeadOhm)
			ratio *= (1 + sags.Board.PartThrottleLoss + sags.Board.RippleFactor) / (1 + craft.Board.PartThrottleLoss + craft.Board.RippleFactor)
			wider := craft
			by := 1 + limitSlack*(1-1/ratio)
			wider.Pack.SafeCurrentA *= by
			wider.Board.BurstA *= by
			wider.Connector.PeakA *= by
			wider.Motor.MaxCurrentA *= by
			less, more := wider.EvaluateOnly(&flying, asked), sags.EvaluateOnly(&flying, asked)
			a, known := less.Get(figure.TurnLoadFactor)
			b, held := more.Get(figure.TurnLoadFactor)
			if held != physics.Defined || b < 1 {
				return true
			}
			tried++
			most = max(most, b/a)
			if known != physics.Defined || b > a*(1+boundSlack) {
				made := s.Combination(c)
				t.Errorf("%s: %.6g with sag, %.6g with wider limits", made.Key(), b, a)
			}
			return !t.Failed()
		})
	}
	if tried < 1000 {
		t.Errorf("only %d crafts were tried", tried)
	}
	t.Logf("%d crafts, at most %.4f of what wider limits leave", tried, most)
}

// Property: of feasible crafts that cruise fast, a lighter one that is taken to draw less by what mass saves at most
// flies no shorter, and its pull-out, where longer than what is best on the scale, is shorter by what mass does at least.
// Crafts of random drawers, of which mass, drag, resistance and ratings are off by random factors, made lighter by up to
// half; some of them do fly the longer the heavier they are, and turn at less throttle.
func TestMassSavesNoMoreThanAllowed(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	asked := figure.SetOf(figure.StyleTime, figure.PullOut, figure.ThrustStep, figure.TurnThrottle)
	tried, rises, turns := 0, 0, 0
	for seed := range uint64(synthetic.Of(150)) {
		p := problem(t, synthetic.Generate(9000+seed, synthetic.Sizes{4, 5, 6, 3, 3}, seed%3 > 0), "race")
		p.Style = anyStyle(rng)
		p.Style.Limits, p.Style.DuctedLimits = nil, nil
		flying := &p.Style.Flying
		flying.Segments = []physics.Segment{{Kind: physics.Cruise, Share: 1, LoadFactor: 1, SpeedMS: 5 + 20*rng.Float64()}}
		flying.Indoors = !physics.Outdoors(flying.Segments)
		s, err := space.New(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		x, asks := newBounder(s), p.Style.Questions()
		s.Each(func(c space.Candidate) bool {
			heavy := s.Craft(c)
			times := func(most float64) float64 { return math.Pow(most, 2*rng.Float64()-1) }
			heavy.FrameKg += heavy.MassKg() * (times(3) - 1)
			heavy.DragAreaM2 *= times(4)
			heavy.Pack.InternalOhm *= times(4)
			heavy.Pack.SafeCurrentA *= times(10)
			heavy.Board.PartThrottleLoss *= times(5)
			if v := p.Style.Judge(&heavy, &asks); !v.Feasible() {
				return true
			}
			light := heavy
			ratio := 1.02 + rng.Float64()
			lightKg := heavy.MassKg() / ratio
			light.FrameKg -= heavy.MassKg() - lightKg
			b := branch{packs: &packRanges{massKg: span{0, heavy.MassKg() - lightKg}},
				bodies: &bodyRanges{dragM2: span{heavy.DragAreaM2, heavy.DragAreaM2}}, prop: c.Prop}
			rise := x.turnThrottleRise(&b, lightKg)
			of := func(q figure.Quantity) (lightly, heavily float64) {
				a, b := light.EvaluateOnly(flying, asked), heavy.EvaluateOnly(flying, asked)
				lightly, _ = a.Get(q)
				heavily, _ = b.Get(q)
				return lightly, heavily
			}
			tried++
			made := s.Combination(c)
			if short, long := of(figure.StyleTime); long > short*(1+boundSlack) {
				rises++
			}
			light.FlyingFactor /= x.heavierSaves(&b, &light, lightKg)
			if short, long := of(figure.StyleTime); long > short*(1+boundSlack) {
				t.Errorf("%s flies %.6g s, %.6g s at %.3g of its mass", made.Key(), long, short, 1/ratio)
			}
			if a, b := of(figure.PullOut); b > 0.15 && a > b*math.Pow(ratio, -pullOutOverMass)*(1+pullOutSlack) {
				t.Errorf("%s pulls out in %.6g m, %.6g m at %.3g of its mass", made.Key(), b, a, 1/ratio)
			}
			if a, b := of(figure.ThrustStep); a > 0 && (a < b*math.Pow(ratio, leastStepOverMass)*(1-boundSlack) ||
				a > b*math.Pow(ratio, stepOverMass)*(1+boundSlack)) {
				t.Errorf("%s has a thrust step of %.6g, %.6g at %.3g of its mass", made.Key(), b, a, 1/ratio)
			}
			if a, b := of(figure.TurnThrottle); a > 0 && b > 0 {
				if b < a*math.Pow(ratio, rise)*(1-boundSlack) {
					t.Errorf("%s turns at a throttle of %.6g, %.6g at %.3g of its mass", made.Key(), b, a, 1/ratio)
				}
				if b < a {
					turns++
				}
			}
			return !t.Failed()
		})
	}
	if tried < 20*synthetic.Of(150) || rises < synthetic.Of(150)/10 || turns < synthetic.Of(150)/10 {
		t.Errorf("%d crafts were tried, of which %d fly the longer the heavier and %d turn at less throttle", tried, rises,
			turns)
	}
	t.Logf("%d crafts, %d fly the longer the heavier, %d turn at less throttle", tried, rises, turns)
}
