package rotor

import "math"

// inducedHoverMS is momentum theory's induced velocity at hover, sqrt(T/(2 rho A)).
func inducedHoverMS(thrustN, densityKgM3, areaM2 float64) float64 {
	return math.Sqrt(math.Max(thrustN, 0) / (2 * densityKgM3 * areaM2))
}

// inducedMS is Glauert's induced velocity v = vh²/sqrt(Vx² + (Vz + v)²) for a rotor with hover
// induced velocity vh that moves at Vz along its axis (positive in climb, Vz ≥ 0) and at Vx in
// its plane (H. Glauert 1926; J. G. Leishman, Principles of Helicopter Aerodynamics, 2nd ed.
// 2006, section 2.14.1).
func inducedMS(hoverMS, axialMS, inplaneMS float64) float64 {
	if hoverMS == 0 {
		return 0
	}
	if inplaneMS == 0 {
		half := axialMS / 2
		return math.Sqrt(half*half+hoverMS*hoverMS) - half
	}
	// f(v) = v sqrt(Vx² + (Vz+v)²) − vh² is convex and rising for v ≥ 0, so that Newton's method
	// converges from anywhere there; the axial value lies above the root, and Glauert's equation
	// with it below.
	half := axialMS / 2
	u := half + math.Sqrt(half*half+hoverMS*hoverMS)
	v := hoverMS * hoverMS / math.Sqrt(inplaneMS*inplaneMS+u*u)
	for range 30 {
		u = axialMS + v
		w := math.Sqrt(inplaneMS*inplaneMS + u*u)
		step := (v*w - hoverMS*hoverMS) / (w + v*u/w)
		v -= step
		if math.Abs(step) < 1e-3*hoverMS {
			break
		}
	}
	return v
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
