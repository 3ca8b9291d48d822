package rotor

import (
	"math"
	"testing"
)

// overDisc is the mean over a turn of the integral from hub to tip of f(tangential, radial) with the
// speeds in parts of the tip's, for a rotor that moves in its plane at mu of the tip speed.
func overDisc(mu float64, f func(tangential, radial float64) float64) float64 {
	const around, along = 360, 200
	var sum float64
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / around)
		for j := range along {
			x := (float64(j) + 0.5) / along
			sum += f(x+mu*sin, mu*cos)
		}
	}
	return sum / (around * along)
}

// Independent: the power that a constant drag coefficient takes along the whole local velocity, radial
// flow and reversed flow included, by integration over the disc; W. Johnson, Helicopter Theory 1980,
// section 5-12 (from memory), has the same integral grow by 1 + 4.5 mu² + 1.61 mu^3.7.
func TestProfilePowerOverDisc(t *testing.T) {
	power := func(mu float64) float64 {
		return overDisc(mu, func(tangential, radial float64) float64 { return math.Pow(math.Hypot(tangential, radial), 3) })
	}
	for _, mu := range []float64{0.05, 0.1, 0.2, 0.3} {
		want := power(mu)/power(0) - 1
		_, q := coefficients{q: 1}.edgewise(0, mu*mu)
		if got := q - 1; math.Abs(got/want-1) > 0.08 {
			t.Errorf("mu %g: profile power grows by %.4f, the integral by %.4f", mu, got, want)
		}
	}
}

// Independent: the lift of an untwisted blade of constant lift coefficient goes with the square of the
// tangential speed; its mean over the disc by integration, flow reversed on a small part left in.
func TestEdgewiseThrustOverDisc(t *testing.T) {
	lift := func(mu float64) float64 {
		return overDisc(mu, func(tangential, _ float64) float64 { return tangential * tangential })
	}
	for _, mu := range []float64{0.05, 0.1, 0.2, 0.3} {
		want := lift(mu)/lift(0) - 1
		thrust, _ := coefficients{t: 1, still: 1}.edgewise(0, mu*mu)
		if got := thrust - 1; math.Abs(got/want-1) > 0.02 {
			t.Errorf("mu %g: thrust grows by %.4f, the integral by %.4f", mu, got, want)
		}
	}
}

// Independent: what blades without any drag take over momentum theory's ideal power at hover is induced
// alone: uneven inflow, tip and hub losses, swirl.
func TestInducedPowerOfDraglessBlades(t *testing.T) {
	law, polar, air := LabelBlade(), LabelPolar(), seaLevel(t)
	for _, label := range [][3]float64{{2, 1.6, 3}, {3.5, 2.2, 3}, {5, 3, 2}, {5.1, 4.3, 3}, {7, 4.5, 2}} {
		blade, err := law.Blade(label[0]*metresPerInch, label[1]*metresPerInch, int(label[2]))
		if err != nil {
			t.Fatal(err)
		}
		r := elements{blade: &blade, polar: &polar, lift: func(alpha float64) (cl, cd float64) {
			return 5.4 * math.Sin(alpha+0.05), 0
		}}
		omega := 90 / blade.RadiusM
		thrust, torque, ok := r.loads(omega, 0, 1, air)
		ideal := thrust * math.Sqrt(thrust/(2*air.DensityKgM3*math.Pi*blade.RadiusM*blade.RadiusM))
		if kappa := torque * omega / ideal; !ok || math.Abs(kappa/inducedPowerFactor-1) > 0.12 {
			t.Errorf("%v: induced power is %.3f times the ideal, the factor %g", label, kappa, inducedPowerFactor)
		}
	}
}
