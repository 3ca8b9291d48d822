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
		prop, err := law.New(Spec{DiameterM: c.diameterIn * metresPerInch, PitchM: c.pitchIn * metresPerInch, Blades: c.blades},
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
