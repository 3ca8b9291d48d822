package rotor

import (
	"math"
	"testing"
)

// Published: far beyond stall a section is a flat plate. Drag of a plate across the flow is 1.17 of a
// square one, 1.2 to 1.3 at aspect ratios of 5 to 10 and 1.98 without ends (S. F. Hoerner,
// Fluid-Dynamic Drag, 1965, chapter 3; from memory); at 45° lift equals drag.
func TestPolarEndsAsAPlate(t *testing.T) {
	polar := LabelPolar()
	sec := polar.section(polarReynolds, 0)
	at := func(alpha float64) (cl, cd float64) { return sec.at(alpha, math.Sin(alpha), math.Cos(alpha)) }
	if _, cd := at(math.Pi / 2); cd < 1.15 || cd > 1.98 {
		t.Errorf("a plate across the flow has a drag coefficient of %.2f", cd)
	}
	if cl, cd := at(math.Pi / 4); math.Abs(cl/cd-1) > 0.06 {
		t.Errorf("at 45° lift %.3f and drag %.3f of a plate differ", cl, cd)
	}
}

// Published, handbook values of thin cambered sections at low Reynolds numbers, wide for their kind
// (after M. S. Selig and others, Summary of Low-Speed Airfoil Data, volumes 1 to 3, at 60 000 and over;
// from memory): slope 4.5 to 6.3 a radian (thin-airfoil theory has 2 pi), largest lift 0.9 to 1.6,
// least −0.9 to −0.4, zero lift at −4 to −1°, least drag 0.015 to 0.06.
func TestPolarIsOfASection(t *testing.T) {
	polar := LabelPolar()
	for _, reynolds := range []float64{3e4, 6e4} {
		sec := polar.section(reynolds, polar.zeroLift(reynolds))
		at := func(alpha float64) (cl, cd float64) { return sec.at(alpha, math.Sin(alpha), math.Cos(alpha)) }
		low, _ := at(-0.02)
		high, _ := at(0.02)
		most, least, drag, zero := 0.0, 0.0, 1.0, math.NaN()
		for alpha := -0.3; alpha <= 0.3; alpha += 0.002 {
			cl, cd := at(alpha)
			most, least, drag = math.Max(most, cl), math.Min(least, cl), math.Min(drag, cd)
			if math.IsNaN(zero) && cl >= 0 {
				zero = alpha * 180 / math.Pi
			}
		}
		for _, x := range []struct {
			name           string
			got, low, high float64
		}{
			{"slope", (high - low) / 0.04, 4.5, 2 * math.Pi}, {"largest lift", most, 0.9, 1.6}, {"least lift", least, -0.9,
				-0.4},
			{"angle of zero lift", zero, -4, -1}, {"least drag", drag, 0.015, 0.06},
		} {
			if x.got < x.low || x.got > x.high {
				t.Errorf("Re %g: %s %.3f, sections have %g to %g", reynolds, x.name, x.got, x.low, x.high)
			}
		}
	}
	// Friction of a laminar plate goes with Re^−0.5 (H. Blasius 1908), of a turbulent one with Re^−0.2;
	// bubbles at these Reynolds numbers add to the former.
	slow, fast := polar.section(1e4, 0), polar.section(4e4, 0)
	if ratio := slow.cd0 / fast.cd0; ratio < 1.6 || ratio > 3 {
		t.Errorf("from Re 10 000 to 40 000 friction falls by a factor of %.2f, a laminar plate's by 2", ratio)
	}
}
