package rotor

import (
	"math"
	"testing"
)

const rpm = 2 * math.Pi / 60

// coefficients returns the propeller coefficients CT = T/(rho n² D⁴) and CP = P/(rho n³ D⁵).
func propCoefficients(thrustN, torqueNm, speedRadS, diameterM, densityKgM3 float64) (ct, cp float64) {
	n := speedRadS / (2 * math.Pi)
	return thrustN / (densityKgM3 * n * n * math.Pow(diameterM, 4)),
		torqueNm * speedRadS / (densityKgM3 * n * n * n * math.Pow(diameterM, 5))
}

// Independent: check values of the classic two momentum balances per station (axial and rotational,
// iterated to convergence), computed by another program: two blades, 11 stations r = 0.08 … 0.80 m, chord 0.10 m,
// theta = atan(1/(2 pi r)), cl = 6.2 alpha, cd = 0.008 − 0.003 cl + 0.01 cl², no losses,
// rectangle rule of 0.072 m.
func TestRotorMatchesClassicBladeElements(t *testing.T) {
	blade := Blade{Blades: 2, RadiusM: 0.8}
	for i := range 11 {
		x := 0.1 + 0.09*float64(i)
		blade.stations = append(blade.stations, station{x, 0.09, 0.125, math.Atan(1 / (2 * math.Pi * x * 0.8))})
	}
	polar := LabelPolar()
	r := elements{blade: &blade, polar: &polar, lossless: true, lift: func(a float64) (float64, float64) {
		cl := 6.2 * a
		return cl, 0.008 - 0.003*cl + 0.01*cl*cl
	}}
	air := Air{DensityKgM3: 1.225, ViscosityPaS: 1.79e-5}
	omega := 2100 * rpm
	thrust, torque, ok := r.loads(omega, 1, 1, air)
	if !ok || math.Abs(thrust-1045.36) > 0.01 || math.Abs(torque-80.364) > 0.001 {
		t.Errorf("1 m/s: thrust %.3f N, torque %.4f N m, want 1045.36, 80.364", thrust, torque)
	}
	thrust, torque, ok = r.loads(omega, 20, 1, air)
	ct, cp := propCoefficients(thrust, torque, omega, 1.6, air.DensityKgM3)
	if cq := cp / (2 * math.Pi); !ok || math.Abs(ct-0.05611) > 1e-5 || math.Abs(cq-0.004337) > 1e-6 {
		t.Errorf("20 m/s: CT %.6f CQ %.7f, want 0.05611, 0.004337", ct, cq)
	}
}
