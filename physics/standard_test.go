package physics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/physics/figure"
)

// anyCraft is a craft of a class from whoop to 7-inch with parts that go together, give or take.
func anyCraft(t testing.TB, rng *rand.Rand) Craft {
	t.Helper()
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	c := []struct{ inch, statorMM, heightMM, volts, restG, mAh float64 }{
		{1.3, 8, 2, 3.8, 19, 350}, {1.6, 11, 3, 7.6, 30, 400}, {2.5, 11, 4, 9, 55, 450}, {3, 14, 4, 12, 110, 700},
		{4, 15, 6, 15, 190, 1000}, {5.1, 22, 7, 19, 400, 1300}, {7, 28, 7, 20, 700, 2500},
	}[rng.IntN(7)]
	cells := max(1, int(math.Round(c.volts/3.8*between(0.8, 1.25))))
	// About 220 m/s of tip speed at rest with no load.
	kv := 220 / (c.inch * inch / 2) / rpm / (3.8 * float64(cells)) * between(0.9, 1.7)
	mAh := c.mAh * between(0.6, 1.8)
	craft := testCraft(t, c.statorMM, c.heightMM, kv, c.inch, c.inch*between(0.4, 1), 2+rng.IntN(3), 0.12*c.inch*c.inch,
		cells,
		mAh, between(20, 120), 0.0285*float64(cells)*mAh, c.restG*between(1.1, 1.8))
	craft.ElectronicsW = between(0.5, 4)
	craft.DragAreaM2 *= between(0.6, 1.6)
	return craft
}

// Property: no worse part lengthens a flight. Several hundred crafts from whoop to 7-inch, in every built-in way of
// flying: more mass, a draggier body, a worn pack, more resistance, weaker ESCs, plugs and label C, less capacity, more
// hungry electronics, and all of these together.
func TestNoWorsePartLengthensAFlight(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	worse := []struct {
		name   string
		change func(*Craft)
	}{
		{"more mass", func(c *Craft) { c.FrameKg += 0.15 * c.MassKg() }},
		{"a draggier body", func(c *Craft) { c.DragAreaM2 *= 1.5 }},
		{"a worn pack", func(c *Craft) { c.Pack.InternalOhm *= 2 }},
		{"a thin plug", func(c *Craft) { c.Pack.LeadOhm *= 3 }},
		{"less capacity", func(c *Craft) { c.Pack.CapacityFactor *= 0.9 }},
		{"weaker ESCs", func(c *Craft) { c.Board.ContinuousA /= 10; c.Board.BurstA /= 10 }},
		{"lossier ESCs", func(c *Craft) { c.Board.PartThrottleLoss += 0.2; c.Board.RippleFactor *= 1.5 }},
		{"a smaller label C", func(c *Craft) { c.Pack.SafeCurrentA /= 10 }},
		{"a weak plug", func(c *Craft) { c.Connector = Connector{ContinuousA: 2, PeakA: 4} }},
		{"a motor limit", func(c *Craft) { c.Motor.MaxCurrentA = 1 }},
		{"more electronics", func(c *Craft) { c.ElectronicsW += 1 }},
	}
	all := func(c *Craft) {
		for i := range worse {
			worse[i].change(c)
		}
	}
	ways := map[string]Flying{"gentle": {Segments: EasySegments()}, "mixed": {Segments: MixedSegments()},
		"hard": {Segments: HardSegments()}, "indoor": {Segments: IndoorSegments(), Indoors: true},
		"absolute": {Segments: []Segment{{Kind: Cruise, Share: 0.7, SpeedMS: 8, LoadFactor: 1.1},
			{Kind: Turn, Share: 0.3, SpeedMS: 8, LoadFactor: 1.8}}},
		"beyond": {Segments: []Segment{{Kind: Cruise, Share: 1, SpeedPart: 0.8, LoadPart: 0.5}}}}
	flown, strained := 0, 0
	for i := range 400 {
		base := anyCraft(t, rng)
		for name, way := range ways {
			p := base.EvaluateOnly(&way, figure.SetOf(figure.StyleTime))
			before, why := p.Get(figure.StyleTime)
			if why != Defined || before == 0 {
				continue
			}
			flown++
			if p.HardestDuty > 1 {
				strained++
			}
			tries := append(worse[:len(worse):len(worse)], struct {
				name   string
				change func(*Craft)
			}{"all of it", all})
			for _, w := range tries {
				c := base
				w.change(&c)
				flight, why := c.Fly(&way)
				if why == Defined && flight.DurationS > before*(1+1e-4) {
					t.Errorf("craft %d, %s: %s takes the flight from %.2f to %.2f s", i, name, w.name, before, flight.DurationS)
				}
			}
		}
	}
	if flown < 1500 || strained < 30 {
		t.Errorf("only %d flights, %d of them over the craft's voltage, were tried", flown, strained)
	}
}

// Property: the standard is one value for all crafts with the same motors, props and cells.
func TestStandardIsOfMotorPropAndCells(t *testing.T) {
	base := nimble(t)
	want := base.Standard()
	for i, change := range []func(*Craft){
		func(c *Craft) { c.FrameKg *= 3 }, func(c *Craft) { c.DragAreaM2 *= 4 }, func(c *Craft) { c.Pack.InternalOhm *= 9 },
		func(c *Craft) { c.Pack.Chemistry = LiHV }, func(c *Craft) { c.ElectronicsW *= 9 },
		func(c *Craft) { c.Board.BurstA, c.Pack.SafeCurrentA = 1, 1 }, func(c *Craft) { c.FlyingFactor = 2 },
	} {
		c := base
		change(&c)
		if got := c.Standard(); got != want {
			t.Errorf("change %d moves the standard from %+v to %+v", i, want, got)
		}
	}
	more := base
	more.Pack.Cells++
	if got := more.Standard(); got.SpeedMS <= want.SpeedMS || got.ThrustN <= want.ThrustN {
		t.Errorf("a cell more takes the standard from %+v to %+v", want, got)
	}
}

// Property: with the disc tilted as found, thrust and the rotors' drag along it add up to the forces asked for.
func TestTiltBalancesForces(t *testing.T) {
	c := nimble(t)
	for _, speed := range []float64{0, 1, 8, 20, 45, 80, 119} {
		for _, forward := range []float64{0, 0.1, 1, 10} {
			for _, lift := range []float64{0.5, 1, 12} {
				thrust, flow := c.tilted(lift, forward, speed)
				thrust *= float64(c.Rotors)
				sin, cos := 0.0, 1.0
				if speed > 0 {
					sin, cos = flow.AxialMS/speed, flow.InplaneMS/speed
				} else {
					sin, cos = forward/math.Hypot(lift, forward), lift/math.Hypot(lift, forward)
				}
				along := rotorDragSM * thrust * speed * cos
				up, ahead := thrust*cos+along*sin, thrust*sin-along*cos
				if math.Abs(up-lift) > 1e-5*lift || math.Abs(ahead-forward) > 1e-5*(lift+forward) {
					t.Errorf("%s: lift %g, forward %g", fmt.Sprint(speed, forward, lift), up, ahead)
				}
			}
		}
	}
}

// Property: a segment over the craft's voltage keeps its current and says how far over it is.
func TestSegmentOverTheVoltage(t *testing.T) {
	c := nimble(t)
	c.Pack.InternalOhm /= 5
	way := Flying{Segments: []Segment{{Kind: Turn, Share: 1, SpeedMS: 12, LoadFactor: 1.5}}}
	easy := c.Evaluate(&way)
	way.Segments[0].LoadFactor = 8
	hard := c.Evaluate(&way)
	if easy.Strained != 0 || hard.Strained != 1<<figure.StyleTime {
		t.Errorf("strained: %b and %b", easy.Strained, hard.Strained)
	}
	if easy.HardestDuty <= 0 || easy.HardestDuty >= 1 || hard.HardestDuty <= 1 || math.IsInf(hard.HardestDuty, 0) {
		t.Errorf("hardest duties %g and %g", easy.HardestDuty, hard.HardestDuty)
	}
	if a, b := easy.si[figure.StyleTime], hard.si[figure.StyleTime]; !(b > 0 && b < a/2) {
		t.Errorf("%g s at a load factor of 1.5, %g s at 8", a, b)
	}
}
