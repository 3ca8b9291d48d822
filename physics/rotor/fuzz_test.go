package rotor

import (
	"math"
	"testing"
)

// Property: any blade in range at any speed, airspeed and air gives finite loads or says that it has no
// solution, whether it begins afresh or from another point's solution; static loads pull.
func FuzzRotor(f *testing.F) {
	f.Add(2.8, 1.7, uint8(3), 20000.0, 0.0, 0.0, 15.0, 1.0)
	f.Add(5.1, 4.8, uint8(2), 25000.0, 45.0, 3000.0, -20.0, 1.0)
	f.Add(0.8, 0.2, uint8(8), 120000.0, 90.0, 9000.0, 60.0, 3.0)
	f.Add(20.0, 40.0, uint8(2), 100.0, 0.001, -500.0, -40.0, 0.1)
	f.Add(2.0, 0.2, uint8(6), 100.0, 99.0, 0.0, 0.0, 1.7)
	f.Fuzz(func(t *testing.T, diameterIn, pitchIn float64, blades uint8, rpm, axialMS, altitudeM, temperatureC,
		massFlow float64) {
		in := func(x, low, high float64) float64 {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return low
			}
			return low + math.Mod(math.Abs(x-low), high-low)
		}
		diameterM := in(diameterIn, 0.8, 20) * metresPerInch
		pitchM := in(pitchIn, 0.1*diameterM/metresPerInch, 2*diameterM/metresPerInch) * metresPerInch
		law := LabelBlade()
		blade, err := law.Blade(diameterM, pitchM, 2+int(blades%7))
		if err != nil {
			return
		}
		standard, err := StandardAir(in(altitudeM, -500, 9000))
		if err != nil {
			t.Fatal(err)
		}
		air, err := AirOf(standard.PressurePa, CelsiusToKelvin(in(temperatureC, -40, 60)))
		if err != nil {
			t.Fatal(err)
		}
		polar := LabelPolar()
		speed := in(rpm, 100, 120000) * 2 * math.Pi / 60
		axial := in(axialMS, 0, speed*diameterM/4)
		r := elements{blade: &blade, polar: &polar}
		warm := elements{blade: &blade, polar: &polar, start: make([]inflowStart, len(blade.stations))}
		for _, one := range []*elements{&r, &warm, &warm} {
			for _, v := range []float64{0, axial} {
				thrust, torque, ok := one.loads(speed, v, in(massFlow, 1, 4), air)
				if math.IsNaN(thrust) || math.IsInf(thrust, 0) || math.IsNaN(torque) || math.IsInf(torque, 0) {
					t.Fatalf("at %.4g rad/s and %.4g m/s: %g N and %g N m (%v)", speed, v, thrust, torque, ok)
				}
				if v == 0 && ok && !(thrust > 0 && torque > 0) {
					t.Errorf("static at %.4g rad/s: %g N and %g N m", speed, thrust, torque)
				}
			}
		}
		for _, inflow := range []float64{-axial, 0, axial} {
			thrust, torque := r.loadsAtInflow(speed, inflow, air)
			if math.IsNaN(thrust) || math.IsInf(thrust, 0) || math.IsNaN(torque) || math.IsInf(torque, 0) {
				t.Fatalf("with an inflow of %.4g m/s: %g N and %g N m", inflow, thrust, torque)
			}
		}
	})
}
