package physics

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// oddProps are props of 0.8 to 13 inch of any pitch, two to six blades.
func oddProps(t *testing.T, rng *rand.Rand, n int) []rotor.Propeller {
	air, err := rotor.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	var props []rotor.Propeller
	for tried := 0; len(props) < n; tried++ {
		in := logUniform(rng, 0.8, 13)
		p, err := rotor.New(rotor.Spec{DiameterM: in * inch, PitchM: in * inch * logUniform(rng, 0.3, 1.4),
			Blades: 2 + rng.IntN(5), MassKg: 0.12e-3 * in * in * logUniform(rng, 0.5, 2)}, air)
		if err == nil {
			props = append(props, *p)
		} else if tried > 10*n {
			t.Fatal(err)
		}
	}
	return props
}

func logUniform(rng *rand.Rand, low, high float64) float64 {
	return low * math.Pow(high/low, rng.Float64())
}

// oddCraft is any motor under any prop on any pack, however little they suit.
func oddCraft(rng *rand.Rand, p *rotor.Propeller) Craft {
	of := func(low, high float64) float64 { return logUniform(rng, low, high) }
	law := DefaultMotorLaw()
	cells, chemistry, ah := 1+rng.IntN(8), Chemistry(rng.IntN(3)), of(0.08, 10)
	c := Craft{
		Rotors: 3 + rng.IntN(6), Propeller: *p,
		Motor: law.Motor(MotorLabel{StatorM: of(6, 31) * 1e-3, StatorHeightM: of(1.5, 12) * 1e-3, KV: of(200, 40e3)}).Motor,
		Pack: Pack{Chemistry: chemistry, Cells: cells, CapacityAs: 3600 * ah, CapacityFactor: 1, SafeCurrentA: ah * of(1, 150),
			InternalOhm: EstimatePackResistance(chemistry, cells, ah, 0).Value * of(0.3, 4), LeadOhm: of(5e-4, 0.2),
			MassKg: EstimatePackMass(chemistry, cells, ah).Value * of(0.3, 3)},
		Board:   Board{ESC: law.ESC(0).ESC, ContinuousA: of(1, 80), BurstA: of(1, 100), MassKg: of(0.001, 0.05)},
		FrameKg: of(0.001, 0.8), ExtrasKg: of(1e-4, 0.5), DragAreaM2: dragAreaPerM * p.DiameterM * of(0.2, 5),
		RotorDragFactor: 1, FlyingFactor: of(0.7, 1.5), ElectronicsW: of(0.01, 25),
	}
	if rng.IntN(3) == 0 {
		c.Motor.MaxCurrentA = of(0.3, 100)
	}
	if rng.IntN(3) == 0 {
		c.Connector = Connector{ContinuousA: of(1, 60), PeakA: of(1, 100)}
	}
	if rng.IntN(3) == 0 {
		c.Propeller.ThrustSlope, c.Propeller.PowerSlope = 0.1*rng.NormFloat64(), 0.1*rng.NormFloat64()
	}
	return c
}

// Property: any parts whatever give figures that are finite and not under 0, or a reason; of a craft that is heavier
// by a hundred thousandth they are the same to a hundredth where the reasons are; and more throttle gives more thrust.
// The last two hold where less than half of the voltage is lost in the pack: beyond, the pack gives less power the more
// current it gives.
func TestOddParts(t *testing.T) {
	n := 3000
	if os.Getenv("PARTSALOFT_LONG") != "" {
		n = 100_000
	}
	rng := rand.New(rand.NewPCG(5, 5))
	props := oddProps(t, rng, 20+n/1000)
	ways := [...]Flying{{Segments: EasySegments()}, {Segments: MixedSegments()}, {Segments: HardSegments()},
		{Segments: IndoorSegments(), Indoors: true}}
	hover := 0
	for i := range n {
		c := oddCraft(rng, &props[rng.IntN(len(props))])
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		f := ways[i%len(ways)]
		f.SpeedMS = logUniform(rng, 1, 60)
		p := c.Evaluate(&f)
		if p.Hovers() {
			hover++
		}
		heavier := c
		heavier.FrameKg += 1e-5 * c.MassKg()
		after := heavier.Evaluate(&f)
		full := c.supply(1)
		packA, _ := p.Get(figure.FullThrottleCurrent)
		sound := full.resistanceOhm*packA < full.openV/2
		for q := range figure.Quantity(figure.Count) {
			x, why := p.Get(q)
			y, whyAfter := after.Get(q)
			key := figure.Of(q).Key
			if !(x >= 0) || math.IsInf(x, 0) {
				t.Errorf("craft %d: %s is %g, reason %d", i, key, x, why)
			}
			part, whole := 0.01, 1e-6
			switch q {
			case figure.BestEnduranceSpeed, figure.BestRangeSpeed, figure.Range:
				continue // of few speeds, the last of which half charge may just hold or not
			case figure.Rise: // it grows without end where the throttle just gets there
				part = 0.05
			case figure.HoverTime, figure.CruiseTime, figure.HardTime, figure.StyleTime, figure.UsedCharge:
				whole = 0.1 // flights of no time at all, in s and A s
			}
			if sound && why == whyAfter && math.Abs(y-x) > part*x+whole {
				t.Errorf("craft %d: %s goes from %g to %g by a hundred thousandth of mass", i, key, x, y)
			}
		}
		for _, x := range [...]float64{p.SteadyPackA, p.SteadyMotorA, p.HardestDuty, p.PeakMotorA, p.PeakPackA, p.FullSpeedRadS} {
			if !(x >= 0) || math.IsInf(x, 0) {
				t.Errorf("craft %d: a current, duty or speed is %g", i, x)
			}
		}
		if i%10 > 0 {
			continue
		}
		var last ThrottlePoint
		for _, at := range c.ThrottleCurve(20) {
			if full.resistanceOhm*at.PackA < full.openV/2 && at.ThrustN < last.ThrustN-1e-6 {
				t.Errorf("craft %d: thrust falls from %g to %g N at a duty of %g", i, last.ThrustN, at.ThrustN, at.Duty)
			}
			last = at
		}
	}
	if hover < n/5 {
		t.Errorf("only %d of %d hover", hover, n)
	}
}
