package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

func nimble(t testing.TB) Craft {
	return testCraft(t, 11, 3, 8000, 3, 1.6, 3, 1.17, 2, 450, 75, 28, 56.6)
}

func steep(t testing.TB) Craft {
	return testCraft(t, 11, 5, 5000, 3, 3, 3, 1.5, 3, 450, 75, 40, 70)
}

func evaluated(c Craft, speedMS float64) Performance {
	f := Flying{SpeedMS: speedMS, Segments: MixedSegments()}
	return c.Evaluate(&f)
}

// Common practice, no source: a craft of 85 g with 11 mm motors of 8000 kV and shallow 3-inch
// three-blades on a 2S pack of 450 mAh flies about 3 minutes hard and up to 7 gently.
func TestTradeFlyingTime(t *testing.T) {
	p := evaluated(nimble(t), 12)
	if hard := p.si[figure.HardTime] / 60; hard < 2.2 || hard > 4 {
		t.Errorf("hard flying lasts %.1f min, about 3 in practice", hard)
	}
	if gentle := p.si[figure.CruiseTime] / 60; gentle < 5.2 || gentle > 8.5 {
		t.Errorf("gentle flying lasts %.1f min, up to 7 in practice", gentle)
	}
}

// Common practice, no source: on those motors a stiff 3x2 two-blade with its mass out to the tip
// answers slower than the heavier three-blade, but is still quick enough.
func TestTradeTipMassAnswersSlower(t *testing.T) {
	air, _ := StandardAir(0)
	with := func(spec PropSpec) float64 {
		p, err := NewPropeller(spec, air)
		if err != nil {
			t.Fatal(err)
		}
		c := nimble(t)
		c.Propeller = *p
		r := evaluated(c, 12)
		return r.si[figure.Response]
	}
	light := with(PropSpec{DiameterM: 3 * metresPerInch, PitchM: 1.6 * metresPerInch, Blades: 3, MassKg: 1.17e-3})
	stiff := with(PropSpec{DiameterM: 3 * metresPerInch, PitchM: 2 * metresPerInch, Blades: 2, MassKg: 0.95e-3, MassPlace: MassTip, Flex: FlexStiff})
	if stiff <= light || stiff > 0.1 {
		t.Errorf("time constants: two-blade %.1f ms, three-blade %.1f ms", stiff*1e3, light*1e3)
	}
}

// Common practice, no source: motors of 5000 kV on 3S with steep three-blades grip better at
// speed; the shallow prop needs more throttle at
// load factor 2, in turns and pull-outs alike.
func TestTradeSteepGripsAtSpeed(t *testing.T) {
	for _, speed := range []float64{12, 14, 16} {
		shallow, grips := evaluated(nimble(t), speed), evaluated(steep(t), speed)
		if grips.si[figure.TurnThrottle] >= shallow.si[figure.TurnThrottle]-0.03 {
			t.Errorf("%g m/s: turn throttle %.2f steep, %.2f shallow", speed, grips.si[figure.TurnThrottle], shallow.si[figure.TurnThrottle])
		}
	}
}

// Common practice, no source: the 8000 kV motors overdraw a 3S pack of 300 mAh at full throttle.
func TestTradeSmallPackIsOverdrawn(t *testing.T) {
	c := testCraft(t, 11, 3, 8000, 3, 1.6, 3, 1.17, 3, 300, 75, 27, 56.6)
	p := evaluated(c, 12)
	if p.si[figure.PackCurrentUse] < 1.2 || p.Cap == NoLimit || p.si[figure.ThrottleCap] >= 0.95 {
		t.Errorf("pack use %.2f, cap %.2f by %v", p.si[figure.PackCurrentUse], p.si[figure.ThrottleCap], p.Cap)
	}
	if bigger := testCraft(t, 11, 3, 8000, 3, 1.6, 3, 1.17, 3, 450, 75, 40, 56.6); bigger.MassKg() < 0.095 {
		t.Errorf("with 3S 450 mAh it weighs %.1f g", bigger.MassKg()*1e3)
	}
}

// Published: speed time constants of 5-inch racing quadrotors, ESC lag included: 33 ms (NeuroBEM,
// arXiv 2106.08015), 39 ms (Agilicious, arXiv 2307.06100), 30 ms (Sun et al. 2022). Motors of
// 23 x 6 mm, 2400 kV, 4S, 5.1-inch three-blades, 0.75 kg; parts from memory.
func TestPublishedTimeConstant(t *testing.T) {
	c := testCraft(t, 23, 6, 2400, 5.1, 4.3, 3, 4.3, 4, 1500, 75, 190, 560)
	p := evaluated(c, 12)
	if ms := p.si[figure.Response] * 1e3; ms < 27 || ms > 42 {
		t.Errorf("time constant %.1f ms, published 30 to 39 ms", ms)
	}
}

// Published: open flight logs of two nano quadrotors in hover, 34.7 g on four 45 mm two-blade
// props at 18015 rpm, 37 g on 55 mm ones at 15026 rpm. Their pitch is not known: it is taken from
// 0.5 to 0.8 of the diameter, and the published speed must lie inside, 10 % either way.
func TestPublishedHoverSpeed(t *testing.T) {
	for _, tt := range []struct{ massKg, diameterM, rpm float64 }{{0.0347, 0.045, 18015}, {0.037, 0.055, 15026}} {
		speed := func(ratio float64) float64 {
			p := testPropeller(t, tt.diameterM/metresPerInch, ratio*tt.diameterM/metresPerInch, 2)
			p.ThrustFactor = labelThrustFactor(tt.diameterM, ratio*tt.diameterM, 2)
			s, _, ok := p.SpeedFor(tt.massKg*GravityMS2/4, Flow{})
			if !ok {
				t.Fatal("no speed")
			}
			return s / rpm
		}
		if slow, fast := speed(0.8), speed(0.5); tt.rpm < 0.9*slow || tt.rpm > 1.1*fast {
			t.Errorf("%g g on %g mm: %.0f to %.0f rpm, published %g", tt.massKg*1e3, tt.diameterM*1e3, slow, fast, tt.rpm)
		}
	}
}

// Published: thrust at half throttle is 0.28 to 0.39 of full on public thrust-stand runs.
func TestHalfThrottleThrust(t *testing.T) {
	for _, c := range []Craft{nimble(t), steep(t), testCraft(t, 22, 7, 1950, 5.1, 4.6, 3, 4.3, 6, 1300, 120, 205, 410)} {
		s := Stand{Propeller: c.Propeller, Motor: c.Motor, ThrottleExponent: 1}
		volts := 3.9 * float64(c.Pack.Cells)
		half, err := s.Point(volts, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		full, err := s.Point(volts, 1)
		if err != nil {
			t.Fatal(err)
		}
		if share := half.ThrustN / full.ThrustN; share < 0.26 || share > 0.41 || math.IsNaN(share) {
			t.Errorf("thrust at half throttle is %.2f of full", share)
		}
	}
}
