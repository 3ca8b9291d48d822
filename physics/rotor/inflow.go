package rotor

import "math"

// inducedMS is Glauert's induced velocity v = vh²/sqrt(Vx² + (Vz + v)²) for a rotor that moves at Vz
// along its axis (positive in climb, Vz ≥ 0) and at Vx in its plane (H. Glauert 1926; J. G. Leishman,
// Principles of Helicopter Aerodynamics, 2nd ed. 2006, section 2.14.1). It takes the square of the
// induced velocity at hover, which is momentum theory's vh² = T/(2 rho A), in m²/s².
func inducedMS(hoverSquared, axialMS, inplaneMS float64) float64 {
	if !(hoverSquared > 0) {
		return 0
	}
	half := axialMS / 2
	through := half + math.Sqrt(half*half+hoverSquared) // Vz + v without flow in the plane
	if inplaneMS == 0 {
		return through - axialMS
	}
	// Glauert's equation hardly minds the v on its right, so that one put in from a formula that is right to a
	// twentieth leads to a v right to 1e-3; Newton's method makes the rest.
	inplane := inplaneMS * inplaneMS
	u := axialMS + hoverSquared*through/(through*through+0.27*inplane)
	v := hoverSquared / math.Sqrt(inplane+u*u)
	for range 30 {
		u = axialMS + v
		square := inplane + u*u
		right := hoverSquared / math.Sqrt(square)
		step := (right - v) / (1 + right*u/square)
		v += step
		if step*step < 1e-5*hoverSquared {
			break
		}
	}
	return v
}

// inducedSlope is the derivative of inducedMS over hoverSquared where it is v: from v w = vh², w = sqrt(Vx² + (Vz + v)²).
func inducedSlope(v, axialMS, inplaneMS float64) float64 {
	u := axialMS + v
	w := math.Sqrt(inplaneMS*inplaneMS + u*u)
	return 1 / (w + v*u/w)
}

// descentInducedMS is the induced velocity in axial descent at a sink speed ≥ 0: in the vortex
// ring and turbulent wake states (sink up to twice vh) the empirical quartic
// v/vh = kappa − 1.125 x − 1.372 x² − 1.718 x³ − 0.655 x⁴, x = −sink/vh, and below that the
// windmill brake state of momentum theory (Leishman 2006, section 2.14.3). The flow there is
// unsteady; the quartic is a mean.
func descentInducedMS(hoverMS, sinkMS float64) float64 {
	if hoverMS == 0 {
		return 0
	}
	x := -sinkMS / hoverMS
	if x >= -2 {
		return hoverMS * (1 + x*(-1.125+x*(-1.372+x*(-1.718+x*-0.655))))
	}
	return hoverMS * (-x/2 - math.Sqrt(x*x/4-1))
}
