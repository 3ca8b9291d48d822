package rotor

import (
	"math"
	"testing"
)

func testPropeller(t testing.TB, diameterIn, pitchIn float64, blades int) *Propeller {
	t.Helper()
	law := LabelBlade()
	blade, err := law.Blade(diameterIn*metresPerInch, pitchIn*metresPerInch, blades)
	if err != nil {
		t.Fatal(err)
	}
	air, err := StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewMap(blade, LabelPolar(), air)
	if err != nil {
		t.Fatal(err)
	}
	return &Propeller{Map: s, DiameterM: diameterIn * metresPerInch, ThrustFactor: 1, PowerFactor: 1, AdvanceFactor: 1}
}

// Property: in axial flight the interpolated map agrees with the solver it was made from.
func TestMapAgreesWithSolver(t *testing.T) {
	polar := LabelPolar()
	for _, label := range [][3]float64{{1.22, 1, 3}, {2, 2, 4}, {3, 1.6, 3}, {3, 3, 3}, {5, 3, 2}, {5.1, 4.8, 3}, {7, 7,
		2}, {9, 9, 2}} {
		p := testPropeller(t, label[0], label[1], int(label[2]))
		r := elements{blade: &p.Map.Blade, polar: &polar}
		for _, tip := range []float64{12, 33, 70, 121, 190} {
			omega := tip / p.Map.Blade.RadiusM
			hover, _ := p.Loads(omega, Flow{})
			for _, advance := range []float64{0, 0.03, 0.15, 0.31, 0.52} {
				v := advance * label[1] / label[0] * tip / math.Pi
				want, wantQ, ok := r.loads(omega, v, 1, p.Map.Air)
				got, gotQ := p.Loads(omega, Flow{AxialMS: v})
				if !ok || math.Abs(got-want) > 0.004*hover || math.Abs(gotQ/wantQ-1) > 0.01 {
					t.Errorf("%v tip %g m/s J %g: thrust %.5g torque %.5g, solver %.5g %.5g", label, tip, advance, got, gotQ, want,
						wantQ)
				}
				if got <= 0.05*hover {
					continue
				}
				back, torque, ok := p.SpeedFor(got, Flow{AxialMS: v, InplaneMS: 3})
				again, againQ := p.Loads(back, Flow{AxialMS: v, InplaneMS: 3})
				if !ok || math.Abs(again/got-1) > 1e-6 || math.Abs(againQ/torque-1) > 1e-6 {
					t.Errorf("%v tip %g J %g: thrust %.6g at %.6g rad/s, wanted %.6g (%v)", label, tip, advance, again, back, got, ok)
				}
			}
		}
	}
}

func BenchmarkSpeedFor(b *testing.B) {
	p := testPropeller(b, 5, 4.3, 3)
	b.ReportAllocs()
	for b.Loop() {
		p.SpeedFor(2, Flow{AxialMS: 4, InplaneMS: 12})
	}
}

func BenchmarkNewMap(b *testing.B) {
	for b.Loop() {
		testPropeller(b, 5, 4.3, 3)
	}
}
