package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Property: what more mass, drag, resistance, capacity and speed of rotation do to a craft.
func TestMonotony(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Craft)
		grows  []figure.Quantity
		falls  []figure.Quantity
	}{
		{"mass", func(c *Craft) { c.FrameKg += 0.02 },
			[]figure.Quantity{figure.AllUpMass, figure.HoverThrottle, figure.HoverPower, figure.HoverCurrent,
				figure.DiscLoading, figure.TurnThrottle, figure.PullOut},
			[]figure.Quantity{figure.ThrustToWeight, figure.HoverTime, figure.CruiseTime, figure.HardTime, figure.StyleTime,
				figure.TurnLoadFactor, figure.ForwardAcceleration, figure.ThrustStep}},
		{"drag", func(c *Craft) { c.DragAreaM2 *= 1.5 },
			[]figure.Quantity{figure.TurnThrottle}, []figure.Quantity{figure.TopSpeed, figure.Range, figure.CruiseTime,
				figure.HardTime, figure.ForwardAcceleration, figure.BestRangeSpeed}},
		{"pack resistance", func(c *Craft) { c.Pack.InternalOhm *= 2 },
			[]figure.Quantity{figure.HoverThrottle}, []figure.Quantity{figure.LoadedCell, figure.FullThrottleThrust,
				figure.FullThrottleCurrent, figure.TopSpeed}},
		{"capacity", func(c *Craft) { c.Pack.CapacityAs *= 1.3 }, []figure.Quantity{figure.HoverTime, figure.CruiseTime,
			figure.HardTime, figure.Range}, nil},
		{"inertia", func(c *Craft) { c.Propeller.InertiaKgM2 *= 1.5 }, []figure.Quantity{figure.Response, figure.Rise,
			figure.PullOut}, nil},
		{"prop power", func(c *Craft) { c.Propeller.PowerFactor *= 1.1 },
			[]figure.Quantity{figure.HoverPower, figure.HoverCurrent,
				figure.FullThrottleCurrent}, []figure.Quantity{figure.HoverTime, figure.FullThrottleThrust, figure.TopSpeed}},
		{"prop thrust", func(c *Craft) { c.Propeller.ThrustFactor *= 1.1 }, []figure.Quantity{figure.FullThrottleThrust},
			[]figure.Quantity{figure.HoverPower, figure.HoverThrottle}},
		{"motor resistance", func(c *Craft) { c.Motor.ResistanceFactor *= 1.3 }, []figure.Quantity{figure.HoverPower,
			figure.Response}, []figure.Quantity{figure.FullThrottleThrust, figure.TopSpeed}},
		{"motor loss", func(c *Craft) { c.Motor.LossNm *= 2 }, []figure.Quantity{figure.HoverPower},
			[]figure.Quantity{figure.HoverTime, figure.FullThrottleThrust}},
		{"electronics", func(c *Craft) { c.ElectronicsW += 2 }, []figure.Quantity{figure.HoverPower},
			[]figure.Quantity{figure.HoverTime, figure.CruiseTime}},
	}
	f := Flying{SpeedMS: 12, Segments: EasySegments()}
	for name, base := range map[string]Craft{"nimble": nimble(t), "steep": steep(t)} {
		before := base.Evaluate(&f)
		for _, tt := range tests {
			c := base
			tt.change(&c)
			after := c.Evaluate(&f)
			for _, q := range tt.grows {
				if !(after.si[q] > before.si[q]) {
					t.Errorf("%s, more %s: quantity %d went from %.5g to %.5g, must grow", name, tt.name, q, before.si[q], after.si[q])
				}
			}
			for _, q := range tt.falls {
				if !(after.si[q] < before.si[q]) {
					t.Errorf("%s, more %s: quantity %d went from %.5g to %.5g, must fall", name, tt.name, q, before.si[q], after.si[q])
				}
			}
		}
	}
}

// Property: at the throttle cap every limit holds, and one that binds is met exactly.
func TestCapMeetsItsLimit(t *testing.T) {
	for _, c := range []float64{8, 15, 30, 60} {
		craft := nimble(t)
		craft.Pack.SafeCurrentA = 0.45 * c
		craft.Connector = Connector{ContinuousA: 15, PeakA: 30}
		full := craft.supply(1)
		duty, capped, which := craft.throttleCap(&full, craft.fullThrottle(&full, 1))
		u := craft.uses(&full, 1, duty, capped)
		_, most := craft.binding(&u)
		if most > 1+1e-4 || which != NoLimit && most < 1-1e-4 {
			t.Errorf("%g C: cap %.3f by %v at a use of %.5f", c, duty, which, most)
		}
	}
}

// Property: what is asked for alone comes out as it does among all, and what is neither asked for nor
// worked out on the way says so.
func TestEvaluateOnly(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	ways := [][]Segment{EasySegments(), MixedSegments(), HardSegments(), IndoorSegments(), hoverSegments[:]}
	for i := range 400 {
		craft := nimble(t)
		craft.FrameKg *= 0.5 + 4*rng.Float64()
		craft.Pack.SafeCurrentA *= 0.1 + rng.Float64()
		way := Flying{SpeedMS: float64(rng.IntN(4)) * 8, Segments: ways[i%len(ways)]}
		asked := figure.Set(rng.Uint64()) & figure.Every
		all, some := craft.Evaluate(&way), craft.EvaluateOnly(&way, asked)
		for q := range figure.Count {
			want, why := all.Get(q)
			got, whyGot := some.Get(q)
			if whyGot == NotAsked && !asked.Has(1<<q) && got == 0 {
				continue
			}
			if got != want || whyGot != why {
				t.Fatalf("craft %d, asked %b: quantity %d is %g (%v), among all %g (%v)", i, asked, q, got, whyGot, want, why)
			}
		}
		if asked.Has(1<<figure.StyleTime) && (some.SteadyMotorA != all.SteadyMotorA ||
			some.SteadyPackA != all.SteadyPackA) {
			t.Fatalf("craft %d: mean currents %g and %g A, among all %g and %g", i, some.SteadyMotorA, some.SteadyPackA,
				all.SteadyMotorA, all.SteadyPackA)
		}
	}
}

// Property: any craft in range gives finite numbers or a reason, in bounded time.
func FuzzEvaluate(f *testing.F) {
	f.Add(2.8, 1.7, uint8(3), 8200.0, 4.5, uint8(2), 420.0, 30.0, 1.0, 0.009, 12.0)
	f.Add(5.1, 4.8, uint8(3), 1950.0, 32.0, uint8(6), 1300.0, 120.0, 4.0, 0.02, 30.0)
	f.Add(1.2, 0.8, uint8(2), 25000.0, 1.5, uint8(1), 200.0, 5.0, 0.2, 0.0005, 0.0)
	f.Add(10.0, 2.0, uint8(2), 100.0, 500.0, uint8(1), 100.0, 1.0, 0.001, 1.0, 100.0)
	f.Fuzz(func(t *testing.T, diameterIn, pitchIn float64, blades uint8, kv, motorG float64, cells uint8, mAh, labelC,
		restScale, drag, speed float64) {
		in := func(x, low, high float64) float64 {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return low
			}
			return low + math.Mod(math.Abs(x-low), high-low)
		}
		diameterIn = in(diameterIn, 1, 12)
		pitchIn = in(pitchIn, 0.3*diameterIn, 1.4*diameterIn)
		law := rotor.LabelBlade()
		blade, err := law.Blade(diameterIn*inch, pitchIn*inch, 2+int(blades%5))
		if err != nil {
			return
		}
		air, _ := rotor.StandardAir(0)
		surface, err := rotor.NewMap(blade, rotor.LabelPolar(), air)
		if err != nil {
			return
		}
		motors := DefaultMotorLaw()
		ah := in(mAh, 50, 30000) / 1000
		n := 1 + int(cells%14)
		propKg := 1e-4 * diameterIn * diameterIn
		c := Craft{
			Rotors: 4,
			Propeller: rotor.Propeller{Map: surface, DiameterM: diameterIn * inch, MassKg: propKg,
				InertiaKgM2: 0.06 * propKg * math.Pow(diameterIn*inch, 2), ThrustFactor: 1, PowerFactor: 1, AdvanceFactor: 1},
			Motor: motors.Motor(MotorLabel{StatorM: 0.02, StatorHeightM: 0.006, KV: in(kv, 100, 40000), MassKg: in(motorG,
				1, 300) / 1000}).Motor,
			Pack: Pack{Cells: n, CapacityAs: ah * 3600, SafeCurrentA: ah * in(labelC, 1, 200),
				InternalOhm: EstimatePackResistance(LiPo, n, ah, 0).Value,
				LeadOhm:     LeadResistance(), MassKg: EstimatePackMass(LiPo, n, ah).Value, CapacityFactor: 1},
			Board:     Board{ESC: motors.ESC(0).ESC, ContinuousA: 30, BurstA: 40, MassKg: 0.01},
			Connector: Connector{ContinuousA: 15, PeakA: 30},
			FrameKg:   in(restScale, 0.005, 3), DragAreaM2: in(drag, 1e-4,
				0.2), ElectronicsW: 3, RotorDragFactor: 1, FlyingFactor: 1,
		}
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		way := Flying{SpeedMS: in(speed, 0, 60), Segments: HardSegments()}
		p := c.Evaluate(&way)
		for q := range figure.Count {
			if v := p.si[q]; math.IsNaN(v) || math.IsInf(v, 0) || v < 0 && q != figure.LoadedCell &&
				q != figure.ForwardAcceleration {
				t.Errorf("quantity %d is %g (%v)", q, v, p.why[q])
			}
		}
	})
}

// Property: what a turn takes goes on past full throttle without a step, and grows with every gram; the load factor
// goes on under 1, falls with every gram until there, without a step.
func TestTurnPastFullThrottle(t *testing.T) {
	craft := testCraft(t, 8, 2, 19000, 31/25.4, 0.9, 4, 0.25, 1, 450, 80, 12, 22)
	flying := Flying{SpeedMS: 3, Segments: IndoorSegments()}
	p := craft.Evaluate(&flying)
	top, _ := p.Get(figure.TopSpeed)
	flying.SpeedMS = 0.96 * top // at half charge it flies no faster than that
	var lastTurn, lastLoad float64
	beyond, sinking := 0, 0
	for i := range 200 {
		craft.ExtrasKg = float64(i-40) * 2e-4
		p := craft.Evaluate(&flying)
		if !p.Hovers() {
			break
		}
		turn, why := p.Get(figure.TurnThrottle)
		load, whyLoad := p.Get(figure.TurnLoadFactor)
		if why != Defined || whyLoad != Defined {
			t.Fatalf("%d: %d %d", i, why, whyLoad)
		}
		if i > 0 && (turn <= lastTurn || turn > lastTurn+0.03) {
			t.Errorf("at %.1f g a turn takes %.4f after %.4f", 1000*craft.MassKg(), turn, lastTurn)
		}
		if i > 0 && (load > math.Max(lastLoad, 1) || load < lastLoad-0.1) {
			t.Errorf("at %.1f g a load factor of %.4f after %.4f", 1000*craft.MassKg(), load, lastLoad)
		}
		lastTurn, lastLoad = turn, load
		if turn > 1 {
			beyond++
		}
		if load < 1 {
			sinking++
		}
	}
	if beyond < 20 || sinking < 3 {
		t.Errorf("%d of 200 beyond full throttle, %d with a load factor under 1", beyond, sinking)
	}
}

// Property: a craft that cannot hover takes a throttle over 100 % for it, the more the heavier, and nothing else of
// it is given.
func TestHoverPastFullThrottle(t *testing.T) {
	craft := testCraft(t, 8, 2, 19000, 31/25.4, 0.9, 4, 0.25, 1, 450, 80, 12, 22)
	flying := Flying{SpeedMS: 3, Segments: IndoorSegments()}
	last := 0.0
	for _, extraKg := range []float64{0.1, 0.12, 0.15} {
		craft.ExtrasKg = extraKg
		p := craft.Evaluate(&flying)
		hover, why := p.Get(figure.HoverThrottle)
		if p.Hovers() || why != Defined || hover <= math.Max(last, 1) {
			t.Errorf("%g kg more: hovers %v at %g (%d)", extraKg, p.Hovers(), hover, why)
		}
		if _, why := p.Get(figure.StyleTime); why != CannotHover {
			t.Errorf("%g kg more: a flying time (%d)", extraKg, why)
		}
		last = hover
	}
}

// Property: what an input is not said to move comes out the same to the last bit, and a Standard that is known is the
// one that would be worked out.
func TestMovesLeavesTheRestAlone(t *testing.T) {
	ways := []Flying{{SpeedMS: 12, Segments: MixedSegments()}, {SpeedMS: 3, Indoors: true, Segments: IndoorSegments()}}
	for name, base := range map[string]Craft{"nimble": nimble(t), "steep": steep(t)} {
		base.Motor.MaxCurrentA = 9
		for _, f := range ways {
			before := base.Evaluate(&f)
			for i := range uncertain.InputCount {
				for _, by := range []float64{-0.1, 0.1} {
					var d uncertain.Deviation
					d[i] = by
					alone := base.Deviate(&d)
					after := alone.Evaluate(&f)
					moved := Moves(i)
					for q := range figure.Count {
						if !moved.Has(1<<q) && (after.si[q] != before.si[q] || after.why[q] != before.why[q]) {
							t.Errorf("%s: %v moves %s", name, i, q.Key())
						}
					}
					standard := base.Standard()
					known := base
					known.Known = &standard
					known = known.Deviate(&d)
					if p := known.Evaluate(&f); p != after {
						t.Errorf("%s: %v: a known standard makes a difference", name, i)
					}
				}
			}
		}
	}
}
