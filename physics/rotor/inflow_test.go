package rotor

import (
	"math"
	"testing"
)

// Published: closed forms of momentum theory and Glauert's equation; the ratios v/vh were
// computed from them apart from this program.
func TestInducedVelocity(t *testing.T) {
	tests := []struct {
		name                 string
		speed, tiltDeg, want float64
	}{
		{"hover", 0, 0, 1},
		{"climb 0.25", 0.25, 90, 0.8828},
		{"climb 0.5", 0.5, 90, 0.7808},
		{"climb 1", 1, 90, 0.6180},
		{"climb 2", 2, 90, 0.4142},
		{"Glauert 0.5, 0°", 0.5, 0, 0.93956},
		{"Glauert 1, 0°", 1, 0, 0.78615},
		{"Glauert 2, 0°", 2, 0, 0.48587},
		{"Glauert 3, 0°", 3, 0, 0.33132},
		{"Glauert 1, 10°", 1, 10, 0.74320},
		{"Glauert 2, 10°", 2, 10, 0.46903},
		{"Glauert 2, 30°", 2, 30, 0.44352},
		{"Glauert 3, 30°", 3, 30, 0.31550},
		{"Glauert 5, 45°", 5, 45, 0.19457},
	}
	for _, tt := range tests {
		sin, cos := math.Sincos(tt.tiltDeg * math.Pi / 180)
		axial, inplane := 7*tt.speed*sin, 7*tt.speed*cos
		v := inducedMS(7*7, axial, inplane)
		if got := v / 7; math.Abs(got-tt.want) > 4e-5 {
			t.Errorf("%s: v/vh %.6f, want %.5f", tt.name, got, tt.want)
		}
		more, less := inducedMS(7*7+0.5, axial, inplane), inducedMS(7*7-0.5, axial, inplane)
		if got := inducedSlope(v, axial, inplane); math.Abs(got/(more-less)-1) > 1e-3 {
			t.Errorf("%s: dv/dvh² %.5f, by differences %.5f", tt.name, got, more-less)
		}
	}
}

// Published: Leishman 2006, section 2.14.3, empirical quartic with kappa = 1 in the vortex ring
// and turbulent wake states, momentum theory in the windmill brake state.
func TestDescentInducedVelocity(t *testing.T) {
	for sink, want := range map[float64]float64{0: 1, 0.5: 1.3933, 1: 1.8160, 1.5: 2.0828, 2: 1.0260, 2.5: 0.5,
		3: 0.3820} {
		if got := descentInducedMS(5, 5*sink) / 5; math.Abs(got-want) > 1e-4 {
			t.Errorf("sink %g vh: v/vh %.4f, want %.4f", sink, got, want)
		}
	}
}

// Published: ideal power of hover by momentum theory, P = W sqrt(W/(2 rho A)). No rotor does
// better, and those of these crafts do worse by 1.3 to 2.5 times (figure of merit 0.4 to 0.75).
func TestHoverPowerOverIdeal(t *testing.T) {
	for _, tt := range []struct{ massKg, diameterIn, pitchIn, idealW float64 }{
		{0.030, 1.22, 1.2, 1.86}, {0.250, 3, 2, 18.16}, {0.250, 2.5, 2, 21.79}, {0.650, 5, 4.3, 45.68}, {0.750, 6, 4.5,
			47.18}, {0.627, 5.1, 4.3, 42.42},
	} {
		p := testPropeller(t, tt.diameterIn, tt.pitchIn, 3)
		speed, torque, ok := p.SpeedFor(tt.massKg*standardGravityMS2/4, Flow{})
		ideal := tt.massKg * standardGravityMS2 * math.Sqrt(tt.massKg*standardGravityMS2/4/(2*1.225*
			math.Pi/4*math.Pow(tt.diameterIn*metresPerInch, 2)))
		if math.Abs(ideal/tt.idealW-1) > 0.003 {
			t.Errorf("%g kg on %g inch: ideal power %.2f W, want %.2f", tt.massKg, tt.diameterIn, ideal, tt.idealW)
		}
		if ratio := 4 * speed * torque / ideal; !ok || ratio < 1.3 || ratio > 2.5 {
			t.Errorf("%g kg on %g inch: shaft power is %.2f times the ideal", tt.massKg, tt.diameterIn, ratio)
		}
	}
}

// Property, after the published trend that thrust at constant speed of rotation stays or grows
// with edgewise flight while power hardly changes (Kolaei, Barcelos & Bramesfeld 2018,
// doi 10.1155/2018/2560370; Gill & D'Andrea 2019, doi 10.3390/drones3040077).
func TestEdgewiseTrend(t *testing.T) {
	for _, label := range [][3]float64{{3, 1.6, 3}, {5, 3, 2}, {5.1, 4.8, 3}, {9, 6, 2}} {
		p := testPropeller(t, label[0], label[1], int(label[2]))
		omega := 90 / p.Map.Blade.RadiusM
		hover, hoverQ := p.Loads(omega, Flow{})
		for _, mu := range []float64{0.02, 0.05, 0.1, 0.15, 0.2} {
			thrust, torque := p.Loads(omega, Flow{InplaneMS: mu * 90})
			if thrust < 0.98*hover || thrust > 1.6*hover {
				t.Errorf("%v at mu %g: thrust %.4g, at hover %.4g", label, mu, thrust, hover)
			}
			if ratio := torque / hoverQ; ratio < 0.75 || ratio > 1.3 {
				t.Errorf("%v at mu %g: torque is %.3f of that at hover", label, mu, ratio)
			}
		}
	}
}
