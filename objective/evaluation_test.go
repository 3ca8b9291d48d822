package objective

import (
	"math"
	"slices"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// racer is a craft of usual size, put together by hand from a 5.1x4.3x3 label.
func racer(t testing.TB) physics.Craft {
	t.Helper()
	air, err := rotor.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	prop, err := rotor.New(rotor.Spec{DiameterM: 0.1295, PitchM: 0.109, Blades: 3, MassKg: 0.0043}, air)
	if err != nil {
		t.Fatal(err)
	}
	law := physics.DefaultMotorLaw()
	c := physics.Craft{
		Rotors: 4, Propeller: *prop,
		Motor: law.Motor(physics.MotorLabel{StatorM: 0.022, StatorHeightM: 0.007, KV: 1950}).Motor,
		Pack: physics.Pack{Cells: 6, CapacityAs: 1.3 * 3600, SafeCurrentA: 1.3 * 100,
			InternalOhm: physics.EstimatePackResistance(physics.LiPo, 6, 1.3, 0).Value,
			LeadOhm:     physics.LeadResistance(), MassKg: 0.205, CapacityFactor: 1},
		Board:     physics.Board{ESC: law.ESC(0).ESC, ContinuousA: 45, BurstA: 55, MassKg: 0.016},
		Connector: physics.Connector{ContinuousA: 30, PeakA: 120},
		FrameKg:   0.12, DragAreaM2: 0.015, ElectronicsW: 4, RotorDragFactor: 1, FlyingFactor: 1,
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
		{"a pack that halves the throttle and leaves thrust enough", func(c *physics.Craft, _ *Style) {
			c.Pack.SafeCurrentA = 40
		}, Kept, ""},
		{"weak pack", func(c *physics.Craft, _ *Style) { c.Pack.SafeCurrentA = 6 }, Currents, "thrust_to_weight"},
		{"a pack too weak for a turn", func(c *physics.Craft, _ *Style) { c.Pack.SafeCurrentA = 15 }, Currents,
			SegmentThrottleKey},
		{"weak ESCs", func(c *physics.Craft, _ *Style) { c.Board.BurstA = 6 }, Currents, "thrust_to_weight"},
		{"a full pack under its landing voltage", func(c *physics.Craft, s *Style) {
			s.Flying.LandingV = 4.19
		}, Currents, "style_minutes"},
		{"ESCs weak all along", func(c *physics.Craft, _ *Style) { c.Board.ContinuousA = 2 }, Currents, BoardMeanKey},
		{"motors weak all along", func(c *physics.Craft, s *Style) {
			// As much for a punch as full throttle takes, but no sheet says so.
			p := c.Evaluate(&physics.Flying{Segments: physics.HardSegments()})
			c.Motor.MaxCurrentA, c.Motor.LimitEstimated = p.PeakMotorA, true
			c.FrameKg = 2.6
			c.Connector, s.Limits = physics.Connector{}, nil
		}, Currents, MotorMeanKey},
		{"motors of many poles", func(c *physics.Craft, _ *Style) { c.Motor.Poles = 42 }, ElectricalRule, "electrical_rpm"},
		{"many poles that a style bears", func(c *physics.Craft, s *Style) {
			c.Motor.Poles = 42
			*s = s.With(Limit{figure.ElectricalSpeed, Range{-open, 1e6}})
		}, Kept, ""},
		{"motors hot in flight", func(c *physics.Craft, s *Style) {
			c.Motor.LossNm *= 4
			*s = s.With(Limit{figure.MotorTemperature, Range{-open, 60}})
		}, HeatRule, "motor_temperature_c"},
		{"motors hot in a punch", func(c *physics.Craft, _ *Style) { c.Motor.CopperOhm = 3.5 * c.Motor.WindingOhm }, HeatRule,
			"punch_temperature_c"},
		{"plug weak all along", func(c *physics.Craft, _ *Style) { c.Connector.ContinuousA = 5 }, Currents, ConnectorMeanKey},
		{"a plug over its datasheet alone", func(c *physics.Craft, _ *Style) {
			c.Connector = physics.Connector{ContinuousA: 30, PeakA: 120, SheetContinuousA: 2, SheetPeakA: 2}
		}, Kept, ""},
		{"far too heavy", func(c *physics.Craft, _ *Style) { c.FrameKg = 8 }, HoverRule, "hover_throttle_pct"},
		{"too heavy", func(c *physics.Craft, s *Style) {
			c.FrameKg, c.Connector, c.Motor.LimitEstimated, s.Limits = 2.6, physics.Connector{}, false, nil
		}, Thrust, "thrust_to_weight"},
		{"the style's thrust", func(_ *physics.Craft, s *Style) {
			*s = s.With(Limit{figure.ThrustToWeight,
				Range{25, open}})
		}, Thrust, "thrust_to_weight"},
		{"too hard a segment", func(_ *physics.Craft, s *Style) {
			s.Flying.Segments = []physics.Segment{{Kind: physics.Turn, Share: 1, SpeedMS: 30, LoadFactor: 12}}
		}, Thrust, SegmentThrottleKey},
		{"a style limit", func(_ *physics.Craft, s *Style) { *s = s.With(Limit{figure.AllUpMass, Range{-open, 250}}) },
			StyleLimits, "all_up_g"},
		{"a style limit that cannot be shown", func(c *physics.Craft, s *Style) {
			c.Motor.MaxCurrentA = 0
			*s = s.With(Limit{figure.MotorCurrentUse, Range{-open, 100}})
		}, StyleLimits, "motor_current_use_pct"},
	} {
		craft, style := racer(t), raceStyle(t)
		c.change(&craft, &style)
		p := craft.Evaluate(&style.Flying)
		v := style.Evaluate(&craft, &p)
		broken := style.Violations(&craft, &p)
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
		if b.Rule != c.rule || b.Key != c.key || b.Excess <= 0 || v.Excess < b.Excess ||
			!strings.Contains(b.String(), c.key) {
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
		if n := testing.AllocsPerRun(100, func() { style.Evaluate(&craft, &p) }); n != 0 {
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
		a, b Evaluation
		want int
	}{
		{"score", Evaluation{Score: 60}, Evaluation{Score: 59, Axes: Axes{100, 100, 100, 100}}, -1},
		{"sum", Evaluation{Score: 60, Axes: Axes{60, 10, 0, 0}}, Evaluation{Score: 60, Axes: Axes{60, 20, 0, 0}}, 1},
		{"same", Evaluation{Score: 60, Axes: Axes{1, 2, 3, 4}}, Evaluation{Score: 60, Axes: Axes{1, 2, 3, 4}}, 0},
		{"equal sums", Evaluation{Score: 60, Axes: Axes{1, 2, 3, 4}}, Evaluation{Score: 60, Axes: Axes{4, 3, 2, 1}}, 0},
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
	v := style.Evaluate(&craft, &p)
	figures := 0
	for a, share := range style.Shortfalls(&p) {
		full := v.Axes
		full[a] = 100
		if share.Axis != Axis(a) || share.Value != v.Axes[a] || share.Weight != style.Weights[a] ||
			math.Abs(share.Points-(style.Weights.Score(&full)-v.Score)) > 1e-12 {
			t.Errorf("%s: %+v", share.Axis, share)
		}
		product := 1.0
		for _, f := range share.Criteria {
			figures++
			product *= f.Desirability
			if f.Points < 0 || f.Points > share.Points+1e-9 || f.Criterion.Axis != share.Axis {
				t.Errorf("%s: %+v", share.Axis, f)
			}
		}
		if got := 100 * math.Pow(product, 1/float64(len(share.Criteria))); math.Abs(got-share.Value) > 1e-9 {
			t.Errorf("%s: its figures make %g of %g", share.Axis, got, share.Value)
		}
	}
	if figures != CriterionCount || len(Criteria()) != CriterionCount {
		t.Errorf("%d figures feed the axes, want %d", figures, CriterionCount)
	}
	if f := LeadingFigure(Grip); f.Key != "turn_throttle_pct" {
		t.Errorf("grip is led by %s", f.Key)
	}
}

// An undefined figure has the least desirability, which annuls nothing.
func TestUndefinedFigure(t *testing.T) {
	craft, style := racer(t), raceStyle(t)
	style.Flying.SpeedMS = 0
	p := craft.Evaluate(&style.Flying)
	if x := AxesOf(&p); math.Abs(x[Grip]-100*leastDesirability) > 1e-9 || x[Smoothness] <= 10 {
		t.Errorf("without a speed the axes are %v", x)
	}
	if style.Shortfalls(&p)[Grip].Criteria[0].Undefined != physics.NoStyleSpeed {
		t.Error("the reason is lost")
	}
}

// Common practice, no source: the axes' ranges reach past what is flown, and not far past it, so that neither end is
// reached and differences count. Fact by fact the range's end lies beyond what was seen, by less than a factor.
func TestRangesReachJustPastWhatIsFlown(t *testing.T) {
	for _, c := range []struct {
		quantity            figure.Quantity
		worstLow, worstHigh float64
		bestLow, bestHigh   float64
		fact                string
	}{
		{figure.TopSpeed, 3, 8, 52.5, 80,
			"a 65 mm whoop does some 8 m/s, a 700 g 5-inch craft was seen at 52.5 m/s by satellite (published build thread)"},
		{figure.StyleTime, 0.8, 1.5, 22, 60,
			"a heat lasts 1.5 to 2 minutes; 22 minutes were flown on one Li-ion cell (published build thread)"},
		{figure.TurnLoadFactor, 0.5, 0.9, 10, 14,
			"level flight has 1 by definition, and a whoop at a racer's speed may have less; racers have a thrust-to-weight " +
				"of 12 to 14, which no turn exceeds"},
		{figure.TurnThrottle, 130, 200, 10, 20,
			"the stick ends at 100 %, and a whoop asked for a 2 g turn at a racer's speed lacks a third to a half; twitchy " +
				"craft hover under 12 %"},
		{figure.Response, 120, 200, 12, 25,
			"rotor time constants of 30 to 39 ms were measured on 5-inch racers (NeuroBEM, arXiv 2106.08015; Agilicious, " +
				"arXiv 2307.06100), small stiff props do better, ten-inch props worse"},
		{figure.ThrustStep, 12, 20, 1.2, 2,
			"thrust goes with some 1.7th power of throttle: 1 % of it adds 1.7 % at full throttle, and 8 to 14 % at a hover " +
				"of 12 to 20 %"},
		{figure.PullOut, 15, 30, 0.1, 0.25,
			"at 3 m/s indoors v²/2(n−1)g is 0.1 to 0.2 m for load factors of 3 to 5; at 16 m/s with a load factor of 1.7, 19 m"},
	} {
		var scale *Scale
		for i := range criteria {
			if criteria[i].Quantity == c.quantity {
				scale = &criteria[i].Scale
			}
		}
		if scale == nil {
			t.Errorf("%s feeds no axis", c.quantity.Key())
			continue
		}
		if !(scale.Worst >= c.worstLow && scale.Worst <= c.worstHigh && scale.Best >= c.bestLow && scale.Best <= c.bestHigh) {
			t.Errorf("%s from %g to %g, want an end from %g to %g and one from %g to %g: %s", c.quantity.Key(), scale.Worst,
				scale.Best, c.worstLow, c.worstHigh, c.bestLow, c.bestHigh, c.fact)
		}
	}
}

// heaviest is the racer with as much frame as it takes to bring a figure to a value, by halving.
func heaviest(t *testing.T, change func(*physics.Craft), q figure.Quantity, value float64) (physics.Craft,
	physics.Performance) {
	t.Helper()
	style := Style{Flying: physics.Flying{SpeedMS: 3,
		Segments: []physics.Segment{{Kind: physics.Hover, Share: 1, LoadFactor: 1}}}}
	at := func(frameKg float64) (physics.Craft, physics.Performance, float64) {
		c := racer(t)
		change(&c)
		c.FrameKg = frameKg
		p := c.Evaluate(&style.Flying)
		x, _ := p.Figure(q)
		return c, p, x
	}
	low, high := 0.02, 6.0
	_, _, atLow := at(low)
	for range 50 {
		middle := (low + high) / 2
		if _, _, x := at(middle); x != 0 && (x > value) == (atLow > value) {
			low = middle
		} else {
			high = middle
		}
	}
	c, p, x := at(low)
	if math.Abs(x-value) > 1e-3*value {
		t.Fatalf("%s comes to %g, want %g", q.Key(), x, value)
	}
	return c, p
}

// Common practice, no source: a craft wants twice its weight in thrust, hovers under 90 % of throttle, and may be
// capped as far as that leaves both; a continuous rating is kept to the ampere.
func TestLimitsOfEveryCraft(t *testing.T) {
	none := Style{}
	bare := func(c *physics.Craft) {
		c.Connector, c.Board.ContinuousA, c.Board.BurstA, c.Pack.SafeCurrentA = physics.Connector{}, 500, 500, 1000
	}
	breaks := func(c physics.Craft, p physics.Performance, rule Rule) bool {
		return slices.ContainsFunc(none.Violations(&c, &p), func(b Violation) bool { return b.Rule == rule })
	}
	for _, c := range []struct {
		quantity     figure.Quantity
		kept, broken float64
		rule         Rule
	}{{figure.ThrustToWeight, 2.05, 1.95, Thrust}, {figure.HoverThrottle, 89, 91, HoverRule}} {
		if craft, p := heaviest(t, bare, c.quantity, c.kept); breaks(craft, p, c.rule) {
			t.Errorf("%s of %g breaks %s", c.quantity.Key(), c.kept, c.rule)
		}
		if craft, p := heaviest(t, bare, c.quantity, c.broken); !breaks(craft, p, c.rule) {
			t.Errorf("%s of %g keeps %s", c.quantity.Key(), c.broken, c.rule)
		}
	}
	// The more the pack may give, the higher the cap: what counts is the thrust that it leaves, not the throttle.
	capped := func(ratio float64) (capPct float64, broken []Violation) {
		style := Style{Flying: physics.Flying{SpeedMS: 3,
			Segments: []physics.Segment{{Kind: physics.Hover, Share: 1, LoadFactor: 1}}}}
		low, high := 5.0, 200.0
		var craft physics.Craft
		var p physics.Performance
		for range 40 {
			middle := (low + high) / 2
			craft = racer(t)
			bare(&craft)
			craft.Pack.SafeCurrentA = middle
			p = craft.Evaluate(&style.Flying)
			if x, _ := p.Figure(figure.ThrustToWeight); x < ratio {
				low = middle
			} else {
				high = middle
			}
		}
		capPct, _ = p.Figure(figure.ThrottleCap)
		return capPct, style.Violations(&craft, &p)
	}
	if capPct, broken := capped(2.05); capPct > 45 || len(broken) > 0 {
		t.Errorf("with twice its weight at a cap of %.0f %%: %v", capPct, broken)
	}
	if capPct, broken := capped(1.95); len(broken) != 1 || broken[0].Rule != Currents ||
		broken[0].Cap != physics.PackLimit ||
		broken[0].CapPct != capPct {
		t.Errorf("with less than twice its weight at a cap of %.0f %%: %+v", capPct, broken)
	}
	// A style may ask for more thrust than every craft must have, not for less.
	for asked, want := range map[float64]float64{1: 2, 3: 3} {
		s := none.With(Limit{figure.ThrustToWeight, Range{asked, math.Inf(1)}})
		if got := s.Effective(false)[0].Range.Low; got != want {
			t.Errorf("asked for %g, kept to %g", asked, got)
		}
	}
	if b := mean(BoardMeanKey, 10.1, 10); b.Rule != Currents || math.Abs(b.Excess-0.01) > 1e-9 ||
		math.Abs(b.Value-101) > 1e-9 {
		t.Errorf("10.1 A on 10 A: %+v", b)
	}
	if b := mean(BoardMeanKey, 9.9, 10); b.Rule != Kept {
		t.Errorf("9.9 A on 10 A: %+v", b)
	}
}

// Independent: how far a limit is broken is the distance as a share of the bound; more than that counts less, but
// counts.
func TestExcessIsAShareOfTheBound(t *testing.T) {
	for _, c := range []struct{ value, bound, want float64 }{{300, 250, 0.2}, {200, 250, 0.2}, {1, 4, 0.75},
		{200, 100, 1}, {300, 100, 1.5}, {500, 100, 1.75}, {0.5, 0, 1.998}, {-5, -10, 0.5}} {
		if got := excess(c.value, c.bound); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g for a bound of %g: %g, want %g", c.value, c.bound, got, c.want)
		}
	}
	if undefinedExcess <= excess(3000, 1) {
		t.Error("what cannot be computed is nearer than what is far off")
	}
}
