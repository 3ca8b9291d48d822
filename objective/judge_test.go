package objective

import (
	"math"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// racer is a craft of usual size, put together by hand from a 5.1x4.3x3 label.
func racer(t testing.TB) physics.Craft {
	t.Helper()
	air, err := physics.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	prop, err := physics.NewPropeller(physics.PropSpec{DiameterM: 0.1295, PitchM: 0.109, Blades: 3, MassKg: 0.0043}, air)
	if err != nil {
		t.Fatal(err)
	}
	mass := physics.EstimateMotorMass(0.022, 0.007)
	ke := physics.MotorTorqueConstant(1950)
	c := physics.Craft{
		Rotors: 4, Propeller: *prop,
		Motor: physics.Motor{TorqueConstantNmA: ke.Value, WindingOhm: physics.EstimateWinding(ke.Value, mass.Value).Value, LossNm: physics.EstimateLossTorque(mass.Value).Value,
			BellInertiaKgM2: physics.EstimateBellInertia(mass.Value, 0.022).Value, MassKg: mass.Value, ResistanceFactor: 1},
		Pack: physics.Pack{Cells: 6, CapacityAs: 1.3 * 3600, SafeCurrentA: 1.3 * 100, InternalOhm: physics.EstimatePackResistance(physics.LiPo, 6, 1.3, 0).Value,
			LeadOhm: physics.LeadResistance(), MassKg: 0.205, CapacityFactor: 1},
		Board:     physics.Board{ContinuousA: 45, BurstA: 55, MassKg: 0.016},
		Connector: physics.Connector{ContinuousA: 30, PeakA: 120},
		FrameKg:   0.12, DragAreaM2: 0.015, ElectronicsW: 4, FlyingFactor: 1,
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func raceStyle(t testing.TB) Style {
	t.Helper()
	s, ok := Preset("race")
	if !ok {
		t.Fatal("no race")
	}
	return s
}

// Every rule in the air, broken one at a time by changing one number of a feasible racer, comes out
// under its own name with its key, the value on the wrong side of the bound, and a sentence.
func TestRules(t *testing.T) {
	open := math.Inf(1)
	for _, c := range []struct {
		name   string
		change func(*physics.Craft, *Style)
		rule   Rule
		key    string
	}{
		{"nothing", func(*physics.Craft, *Style) {}, Kept, ""},
		{"weak pack", func(c *physics.Craft, _ *Style) { c.Pack.SafeCurrentA = 30 }, Currents, "throttle_cap_pct"},
		{"weak ESCs", func(c *physics.Craft, _ *Style) { c.Board.BurstA = 8 }, Currents, "throttle_cap_pct"},
		{"ESCs weak all along", func(c *physics.Craft, _ *Style) { c.Board.ContinuousA = 2 }, Currents, BoardMeanKey},
		{"plug weak all along", func(c *physics.Craft, _ *Style) { c.Connector.ContinuousA = 5 }, Currents, ConnectorMeanKey},
		{"advisory plug", func(c *physics.Craft, _ *Style) {
			c.Connector = physics.Connector{ContinuousA: 2, PeakA: 2, Advisory: true}
		}, Kept, ""},
		{"far too heavy", func(c *physics.Craft, _ *Style) { c.FrameKg = 8 }, HoverRule, "hover_throttle_pct"},
		{"too heavy", func(c *physics.Craft, s *Style) { c.FrameKg, c.Connector, s.Limits = 2.6, physics.Connector{}, nil }, Thrust, "thrust_to_weight"},
		{"the style's thrust", func(_ *physics.Craft, s *Style) { *s = s.With(Limit{figure.ThrustToWeight, Range{25, open}}) }, Thrust, "thrust_to_weight"},
		{"too hard a segment", func(_ *physics.Craft, s *Style) {
			s.Flying.Segments = []physics.Segment{{Kind: physics.Turn, Share: 1, SpeedMS: 30, LoadFactor: 12}}
		}, Thrust, "style_minutes"},
		{"a style limit", func(_ *physics.Craft, s *Style) { *s = s.With(Limit{figure.AllUpMass, Range{-open, 250}}) }, StyleLimits, "all_up_g"},
		{"a style limit that cannot be shown", func(_ *physics.Craft, s *Style) { *s = s.With(Limit{figure.MotorCurrentUse, Range{-open, 100}}) }, StyleLimits, "motor_current_use_pct"},
	} {
		craft, style := racer(t), raceStyle(t)
		c.change(&craft, &style)
		p := craft.Evaluate(&style.Flying)
		v := style.Judge(&craft, &p)
		broken := style.Broken(&craft, &p)
		if v.First != c.rule || v.Feasible() != (c.rule == Kept) {
			t.Errorf("%s: first broken is %q, want %q: %v", c.name, v.First, c.rule, broken)
			continue
		}
		if c.rule == Kept {
			if len(broken) > 0 || v.Excess != 0 || v.Score <= 0 || v.Score > 100 {
				t.Errorf("%s: %+v %v", c.name, v, broken)
			}
			continue
		}
		b := broken[0]
		if b.Rule != c.rule || b.Key != c.key || b.Excess <= 0 || v.Excess < b.Excess || !strings.Contains(b.String(), c.key) {
			t.Errorf("%s: got %+v, %s", c.name, b, b.String())
		}
		if b.Why == physics.Defined && b.Value == b.Bound {
			t.Errorf("%s: value and bound are both %g", c.name, b.Value)
		}
		for i := 1; i < len(broken); i++ {
			if broken[i].Rule < broken[i-1].Rule {
				t.Errorf("%s: rules out of order: %v", c.name, broken)
			}
		}
	}
}

// What is feasible is judged without allocating, and so is what is not.
func TestJudgeAllocatesNothing(t *testing.T) {
	craft, style := racer(t), raceStyle(t)
	for _, frameKg := range []float64{0.12, 8} {
		craft.FrameKg = frameKg
		p := craft.Evaluate(&style.Flying)
		if n := testing.AllocsPerRun(100, func() { style.Judge(&craft, &p) }); n != 0 {
			t.Errorf("a frame of %g kg: %g allocations", frameKg, n)
		}
	}
}

// Weighted geometric means worked out by hand; a weight of 0 leaves its axis out even at 0.
func TestScore(t *testing.T) {
	for _, c := range []struct {
		weights Weights
		axes    Axes
		want    float64
	}{
		{Weights{0.25, 0.25, 0.25, 0.25}, Axes{50, 50, 50, 50}, 50},
		{Weights{0.5, 0.5, 0, 0}, Axes{25, 100, 7, 0}, 50},
		{Weights{1, 0, 0, 0}, Axes{73, 0, 0, 0}, 73},
		{Weights{0.9, 0.1, 0, 0}, Axes{100, 0, 50, 50}, 0},
		{Weights{0.75, 0.25, 0, 0}, Axes{16, 81, 0, 0}, 24},
	} {
		if got := c.weights.Score(&c.axes); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v of %v is %g, want %g", c.weights, c.axes, got, c.want)
		}
	}
}

// Score first, then the sum, then dominance.
func TestCompare(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b Verdict
		want int
	}{
		{"score", Verdict{Score: 60}, Verdict{Score: 59, Axes: Axes{100, 100, 100, 100}}, -1},
		{"sum", Verdict{Score: 60, Axes: Axes{60, 10, 0, 0}}, Verdict{Score: 60, Axes: Axes{60, 20, 0, 0}}, 1},
		{"same", Verdict{Score: 60, Axes: Axes{1, 2, 3, 4}}, Verdict{Score: 60, Axes: Axes{1, 2, 3, 4}}, 0},
		{"equal sums", Verdict{Score: 60, Axes: Axes{1, 2, 3, 4}}, Verdict{Score: 60, Axes: Axes{4, 3, 2, 1}}, 0},
	} {
		if got := Compare(&c.a, &c.b); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
		if got := Compare(&c.b, &c.a); got != -c.want {
			t.Errorf("%s, the other way round: %d, want %d", c.name, got, -c.want)
		}
	}
}

// Taken apart, a score is what its axes make of it: with an axis at 100 it gains what Why says.
func TestWhy(t *testing.T) {
	craft, style := racer(t), raceStyle(t)
	p := craft.Evaluate(&style.Flying)
	v := style.Judge(&craft, &p)
	figures := 0
	for a, share := range style.Why(&p) {
		full := v.Axes
		full[a] = 100
		if share.Axis != Axis(a) || share.Value != v.Axes[a] || share.Weight != style.Weights[a] || math.Abs(share.Cost-(style.Weights.Score(&full)-v.Score)) > 1e-12 {
			t.Errorf("%s: %+v", share.Axis, share)
		}
		product := 1.0
		for _, f := range share.Figures {
			figures++
			product *= f.Desirability
			if f.Cost < 0 || f.Cost > share.Cost+1e-9 || f.Feed.Axis != share.Axis {
				t.Errorf("%s: %+v", share.Axis, f)
			}
		}
		if got := 100 * math.Pow(product, 1/float64(len(share.Figures))); math.Abs(got-share.Value) > 1e-9 {
			t.Errorf("%s: its figures make %g of %g", share.Axis, got, share.Value)
		}
	}
	if figures != FeedCount || len(Feeds()) != FeedCount {
		t.Errorf("%d figures feed the axes, want %d", figures, FeedCount)
	}
	if f := LeadingFigure(Grip); f.Key != "turn_throttle_pct" {
		t.Errorf("grip is led by %s", f.Key)
	}
}

// An undefined figure has desirability 0.
func TestUndefinedFigure(t *testing.T) {
	craft, style := racer(t), raceStyle(t)
	style.Flying.SpeedMS = 0
	p := craft.Evaluate(&style.Flying)
	if x := AxesOf(&p); x[Grip] != 0 || x[Smoothness] <= 0 {
		t.Errorf("without a speed the axes are %v", x)
	}
	if style.Why(&p)[Grip].Figures[0].Undefined != physics.NoStyleSpeed {
		t.Error("the reason is lost")
	}
}
