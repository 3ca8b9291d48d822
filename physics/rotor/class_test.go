package rotor

import (
	"math"
	"testing"
)

// Independent: a second implementation of the multirotor law gives these coefficients for a factor of level 0.036
// and slope 0.323 in pitch, in standard air, to the digits printed.
func TestMultirotorLaw(t *testing.T) {
	law := DefaultLaw()
	p := &law.Multirotor.Polar
	p.Drag, p.DragLog, p.LogLow, p.ZeroLiftLog, p.LiftMax, p.DragRise = 0.0627, -0.765, -0.69, -0.030, 1.535, 0.056
	law.Multirotor.Blade.PitchScale, law.Multirotor.Blade.PitchPower = 0.570, 0.833
	law.Multirotor.Factor = LabelFactor{Level: 0.036, Pitch: 0.323, Blades: -0.020, Diameter: -0.309}
	for _, c := range []struct {
		diameterIn, pitchIn float64
		blades              int
		rpm, ct, cp         float64
	}{
		{5, 4.3, 3, 20000, .1815, .0973}, {5, 4.3, 3, 10000, .1731, .1019}, {5, 4, 2, 14000, .1350, .0680},
		{5, 5, 3, 20000, .2074, .1215}, {7, 5.6, 3, 10000, .1423, .0690},
	} {
		prop, err := law.New(Spec{DiameterM: c.diameterIn * metresPerInch, PitchM: c.pitchIn * metresPerInch,
			Blades: c.blades},
			seaLevel(t))
		if err != nil {
			t.Fatal(err)
		}
		got, err := prop.Coefficients(c.rpm*2*math.Pi/60, 0)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Thrust-c.ct) > 0.001*c.ct || math.Abs(got.Power-c.cp) > 0.001*c.cp {
			t.Errorf("%gx%gx%d at %g rpm: CT %.4f, CP %.4f, want %.4f and %.4f", c.diameterIn, c.pitchIn, c.blades, c.rpm,
				got.Thrust, got.Power, c.ct, c.cp)
		}
	}
}

// Property: the class follows from blades and diameter, from what a prop was made for where these leave it open, and
// passes over from 6 to 7 inch without a step.
func TestMultirotorShare(t *testing.T) {
	for _, c := range []struct {
		diameterIn float64
		blades     int
		madeFor    MadeFor
		want       float64
	}{
		{9, 3, MadeForConventional, 1}, {2.4, 2, MadeForConventional, 1}, {5, 2, MadeForUnknown, 1},
		{5, 2, MadeForMultirotor, 1}, {5, 2, MadeForConventional, 0}, {6.25, 2, MadeForUnknown, 0.75},
		{7, 2, MadeForMultirotor, 0}, {9, 2, MadeForUnknown, 0},
	} {
		s := Spec{DiameterM: c.diameterIn * metresPerInch, Blades: c.blades, MadeFor: c.madeFor}
		if got := s.MultirotorShare(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g inch, %d blades, made for %d: share %g, want %g", c.diameterIn, c.blades, c.madeFor, got, c.want)
		}
	}
	law := DefaultLaw()
	ctOf := func(diameterIn float64) float64 {
		p, err := law.New(Spec{DiameterM: diameterIn * metresPerInch, PitchM: 4 * metresPerInch, Blades: 2}, seaLevel(t))
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.Coefficients(100/p.DiameterM*2, 0)
		if err != nil {
			t.Fatal(err)
		}
		return c.Thrust
	}
	for x := 5.9; x < 7.1; x += 0.1 {
		if a, b := ctOf(x), ctOf(x+0.1); math.Abs(math.Log(a/b)) > 0.04 {
			t.Errorf("CT steps from %.4f at %.1f inch to %.4f", a, x, b)
		}
	}
}

// Property: speed for a thrust and the loads at that speed are each other's inverse where CT and CP change with speed,
// and the change is the power of the speed ratio that it is stated to be.
func TestSlopesOverSpeed(t *testing.T) {
	p, err := New(fiveInch(), seaLevel(t))
	if err != nil {
		t.Fatal(err)
	}
	bent := *p
	bent.ThrustSlope, bent.PowerSlope = 0.2, -0.15
	for _, flow := range []Flow{{}, {AxialMS: 6}, {AxialMS: 3, InplaneMS: 10}} {
		for _, speed := range []float64{600, 1200, 2400} {
			thrust, torque := bent.Loads(speed, flow)
			straightN, straightNm := p.Loads(speed, flow)
			x := math.Log(speed / p.ReferenceRadS)
			if math.Abs(math.Log(thrust/straightN)-0.2*x) > 1e-9 || math.Abs(math.Log(torque/straightNm)+0.15*x) > 1e-9 {
				t.Errorf("%g rad/s, %+v: %g N and %g N m, straight %g and %g", speed, flow, thrust, torque, straightN, straightNm)
			}
			if thrust < 0.2 {
				continue
			}
			back, q, ok := bent.SpeedFor(thrust, flow)
			if !ok || math.Abs(back/speed-1) > 2e-3 || math.Abs(q/torque-1) > 6e-3 {
				t.Errorf("%g N in %+v: %g rad/s and %g N m (%v), made at %g with %g", thrust, flow, back, q, ok, speed, torque)
			}
		}
	}
}
