package rotor

import (
	"math"
	"math/rand/v2"
	"testing"
)

// plainLoads is an independent rotor: axial induction by bisection on the momentum balance of
// each annulus, swirl by fixed-point iteration, no inflow angle as unknown.
func plainLoads(r *elements, speedRadS, axialMS float64, air Air) (thrustN, torqueNm float64) {
	b := r.blade
	tip := speedRadS * b.RadiusM
	zeroLift := r.polar.zeroLift(r.reynolds(tip, axialMS, air))
	for i := range b.stations {
		st := &b.stations[i]
		radius := st.radius * b.RadiusM
		chord := st.chord * b.RadiusM
		sec := r.polar.section(math.Hypot(speedRadS*radius, axialMS)*chord*air.DensityKgM3/air.ViscosityPaS, zeroLift)
		forces := func(induced, swirl float64) (dT, dQ, factor float64) {
			up, around := axialMS+induced, speedRadS*radius-swirl
			phi := math.Atan2(up, around)
			sin, cos := math.Sincos(st.pitchRad - phi)
			cl, cd := sec.at(st.pitchRad-phi, sin, cos)
			w2 := up*up + around*around
			pressure := 0.5 * air.DensityKgM3 * w2 * chord * float64(b.Blades)
			sinPhi := math.Max(math.Sin(phi), 1e-9)
			blades := float64(b.Blades) / 2
			factor = 2 / math.Pi * math.Acos(math.Exp(-blades*(b.RadiusM-radius)/(radius*sinPhi)))
			factor *= 2 / math.Pi * math.Acos(math.Exp(-blades*(st.radius-hubRadius)/(hubRadius*sinPhi)))
			return pressure * (cl*math.Cos(phi) - cd*math.Sin(phi)), pressure * (cl*math.Sin(phi) +
				cd*math.Cos(phi)) * radius, factor
		}
		var swirl, induced float64
		for range 200 {
			low, high := 0.0, tip
			for range 60 {
				induced = (low + high) / 2
				dT, _, factor := forces(induced, swirl)
				if dT > 4*math.Pi*radius*air.DensityKgM3*factor*(axialMS+induced)*induced {
					low = induced
				} else {
					high = induced
				}
			}
			_, dQ, factor := forces(induced, swirl)
			next := dQ / (4 * math.Pi * radius * radius * air.DensityKgM3 * factor * (axialMS + induced))
			swirl += 0.5 * (next - swirl)
		}
		dT, dQ, _ := forces(induced, swirl)
		thrustN += dT * st.width * b.RadiusM
		torqueNm += dQ * st.width * b.RadiusM
	}
	return thrustN, torqueNm
}

// Independent: a second implementation of blade-element momentum theory, with the two momentum
// balances as unknowns instead of the inflow angle, agrees with the solver where lift is positive.
func TestSolverAgreesWithPlainMomentumLoop(t *testing.T) {
	polar, law := LabelPolar(), LabelBlade()
	air, _ := StandardAir(300)
	random := rand.New(rand.NewPCG(1, 2))
	compared := 0
	for range 40 {
		diameter := 0.03 + 0.2*random.Float64()
		pitch := diameter * (0.4 + 0.5*random.Float64())
		blade, err := law.Blade(diameter, pitch, 2+random.IntN(3))
		if err != nil {
			t.Fatal(err)
		}
		r := elements{blade: &blade, polar: &polar}
		tip := 40 + 100*random.Float64()
		omega := tip / blade.RadiusM
		v := tip / math.Pi * 0.4 * pitch / diameter * random.Float64()
		thrust, torque, ok := r.loads(omega, v, 1, air)
		plain, plainQ := plainLoads(&r, omega, v, air)
		if !ok || math.Abs(thrust/plain-1) > 0.002 || math.Abs(torque/plainQ-1) > 0.002 {
			t.Errorf("D %.3f P %.3f B %d tip %.0f V %.1f: thrust %.5g torque %.5g, plain loop %.5g %.5g", diameter, pitch,
				blade.Blades, tip, v, thrust, torque, plain, plainQ)
		}
		compared++
	}
	if compared < 40 {
		t.Errorf("only %d rotors were compared", compared)
	}
}
