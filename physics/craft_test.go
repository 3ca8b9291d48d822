package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

const (
	inch = 0.0254
	rpm  = 2 * math.Pi / 60
)

// labelProp is a prop from its label in standard air; a mass of 0 is not known.
func labelProp(t testing.TB, diameterM, pitchM float64, blades int, massKg float64) *rotor.Propeller {
	t.Helper()
	air, err := rotor.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	p, err := rotor.New(rotor.Spec{DiameterM: diameterM, PitchM: pitchM, Blades: blades, MassKg: massKg}, air)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// testCraft builds a craft from labels alone, as inventory does.
func testCraft(t testing.TB, statorMM, heightMM, kv, diameterIn, pitchIn float64, blades int, propG float64,
	cells int, mAh, labelC, packG, restG float64) Craft {
	t.Helper()
	p := labelProp(t, diameterIn*inch, pitchIn*inch, blades, propG/1000)
	motor := lawMotor(statorMM, heightMM, kv)
	c := Craft{
		Rotors: 4, Propeller: *p,
		Motor: motor,
		Pack: Pack{Cells: cells, CapacityAs: mAh * 3.6, SafeCurrentA: mAh / 1000 * labelC,
			InternalOhm: EstimatePackResistance(LiPo, cells, mAh/1000,
				0).Value, LeadOhm: LeadResistance(), MassKg: packG / 1000, CapacityFactor: 1},
		Board:    Board{ESC: lawESC(), ContinuousA: 45, BurstA: 55, MassKg: 0.001},
		FrameKg:  restG/1000 - 0.001 - 4*(motor.MassKg+propG/1000),
		ExtrasKg: 0, DragAreaM2: EstimateDragArea(diameterIn*inch, false).Value, ElectronicsW: 2,
		RotorDragFactor: 1, FlyingFactor: 1,
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func BenchmarkEvaluate(b *testing.B) {
	c := testCraft(b, 22, 7, 1950, 5.1, 4.6, 3, 4.3, 6, 1300, 120, 205, 410)
	f := Flying{SpeedMS: 12, Segments: MixedSegments()}
	b.ReportAllocs()
	for b.Loop() {
		c.Evaluate(&f)
	}
}

// What a style judges alone, beside BenchmarkEvaluate, which is the same craft in full.
func BenchmarkEvaluateOnly(b *testing.B) {
	c := testCraft(b, 22, 7, 1950, 5.1, 4.6, 3, 4.3, 6, 1300, 120, 205, 410)
	f := Flying{SpeedMS: 12, Segments: MixedSegments()}
	asked := figure.SetOf(figure.TurnThrottle, figure.TurnLoadFactor, figure.PullOut, figure.StyleTime, figure.Response,
		figure.ThrustStep, figure.TopSpeed)
	b.ReportAllocs()
	for b.Loop() {
		c.EvaluateOnly(&f, asked)
	}
}

// Property: the curves agree with Evaluate where they meet.
func TestCurvesMeetEvaluate(t *testing.T) {
	for _, c := range []Craft{nimble(t), steep(t)} {
		f := Flying{SpeedMS: 12, Segments: HardSegments()}
		p := c.Evaluate(&f)
		near := func(name string, got, want float64) {
			if math.Abs(got/want-1) > 0.01 {
				t.Errorf("%s: curve %.5g, Evaluate %.5g", name, got, want)
			}
		}
		duty := p.si[figure.ThrottleCap]
		flight, why := c.Fly(&f)
		if why != Defined {
			t.Fatal(why)
		}
		near("time", flight.DurationS, p.si[figure.StyleTime])
		near("charge", flight.UsedAs, p.si[figure.UsedCharge])
		points, _ := c.Discharge(&f, 40)
		near("discharge", points[40].TimeS, p.si[figure.StyleTime])
		near("landing cell", points[40].LoadedCellV, flight.LoadedCellV)
		speeds := c.SpeedCurve(&f, 20)
		if top := speeds[20].SpeedMS; top > p.si[figure.TopSpeed] || top < 0.9*p.si[figure.TopSpeed] {
			t.Errorf("half empty it flies at %.4g m/s, at 90 %% at %.4g", top, p.si[figure.TopSpeed])
		}
		near("hover power", speeds[0].PowerW, p.si[figure.HoverPower])
		throttles := c.ThrottleCurve(10)
		near("full thrust", throttles[9].ThrustN, p.si[figure.FullThrottleThrust])
		near("full current", throttles[9].PackA, p.si[figure.FullThrottleCurrent])
		for i := 1; i < 10; i++ {
			if throttles[i].ThrustN <= throttles[i-1].ThrustN {
				t.Errorf("thrust falls at a duty of %g", throttles[i].Duty)
			}
		}
		if s := c.PunchS(duty); s < 2 || s > 200 {
			t.Errorf("a punch can be held for %.1f s", s)
		}
	}
}
