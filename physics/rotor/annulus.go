package rotor

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// annulus is the momentum balance of one station at one operating point, with the forces at the
// angle tried last.
type annulus struct {
	section            section
	lift               func(alphaRad float64) (cl, cd float64) // replaces the section if set
	pitchRad           float64
	sinPitch, cosPitch float64
	quarter            float64 // a quarter of the local solidity
	tip, hub           float64 // Prandtl's exponents times sin phi
	lossless           bool
	axial, massFlow    float64 // V/(Omega r); see elements.loads

	sin, cos, cn, ct, loss float64
}

func (r *elements) annulus(st *station, twist float64, sec section) annulus {
	blades := float64(r.blade.Blades)
	a := annulus{section: sec, lift: r.lift, lossless: r.lossless, pitchRad: st.pitchRad,
		quarter: blades * st.chord / (8 * math.Pi * st.radius),
		tip:     blades / 2 * (1 - st.radius) / st.radius, hub: blades / 2 * (st.radius - hubRadius) / hubRadius}
	if twist != 1 {
		a.pitchRad = math.Atan(math.Tan(a.pitchRad) * twist)
	}
	a.sinPitch, a.cosPitch = math.Sincos(a.pitchRad)
	return a
}

// forces sets sine and cosine of the inflow angle and the force coefficients there.
func (a *annulus) forces(phi float64) {
	a.sin, a.cos = math.Sincos(phi)
	var cl, cd float64
	if a.lift != nil {
		cl, cd = a.lift(a.pitchRad - phi)
	} else {
		cl, cd = a.section.at(a.pitchRad-phi, a.sinPitch*a.cos-a.cosPitch*a.sin, a.cosPitch*a.cos+a.sinPitch*a.sin)
	}
	a.cn, a.ct = cl*a.cos-cd*a.sin, cl*a.sin+cd*a.cos
}

// residual is h of elements.loads.
func (a *annulus) residual(phi float64) float64 {
	a.forces(phi)
	a.loss = 1
	if !a.lossless {
		a.loss = prandtl(a.tip/a.sin) * prandtl(a.hub/a.sin)
	}
	s := a.quarter / a.loss
	return a.massFlow*a.sin*a.sin - a.cn*s - a.axial*(a.sin*a.cos+a.ct*s)
}

const (
	leastInflowRad = 1e-6
	mostInflowRad  = math.Pi/2 - 1e-6
	inflowTolRad   = 1e-6
	windmillRad    = 0.1 // negative angle of attack beyond which lift no longer falls steadily
)

// solve finds the first root from small phi and leaves the forces there. It starts from a known
// neighbour's angle where there is one, and then makes sure that no root lies below.
func (a *annulus) solve(start *inflowStart) bool {
	if start.phi > 0 && a.secant(start) && a.first(start.phi) {
		return true
	}
	step := a.scanStep()
	low, hLow := leastInflowRad, a.residual(leastInflowRad)
	if hLow > 0 {
		return false
	}
	for low < mostInflowRad {
		high := math.Min(low+step, mostInflowRad)
		hHigh := a.residual(high)
		if hHigh > 0 {
			phi, ok := numeric.Root(a.residual, numeric.Bracket{Low: low, AtLow: hLow, High: high, AtHigh: hHigh}, inflowTolRad)
			start.phi, start.slope = phi, (hHigh-hLow)/(high-low)
			a.residual(phi)
			return ok
		}
		low, hLow = high, hHigh
	}
	return false
}

func (a *annulus) scanStep() float64 { return math.Max(0.02, a.pitchRad/8) }

// secant goes from a near angle to a root where the residual rises.
func (a *annulus) secant(start *inflowStart) bool {
	x, slope := start.phi, start.slope
	h := a.residual(x)
	for range 8 {
		if !(slope > 0) {
			return false
		}
		d := -h / slope
		if math.Abs(d) < inflowTolRad {
			start.phi, start.slope = x, slope
			return true
		}
		next := x + d
		if !(next > leastInflowRad && next < mostInflowRad && math.Abs(d) < 0.2) {
			return false
		}
		hNext := a.residual(next)
		slope = (hNext - h) / d
		x, h = next, hNext
	}
	return false
}

// first reports whether the residual stays under 0 below a root, where stall could hide another;
// it leaves the forces at the root. Of a root far on the windmill side it is not sure.
func (a *annulus) first(phi float64) bool {
	if phi > a.pitchRad+windmillRad {
		return false
	}
	attached := a.section.polar.StallRad - a.section.polar.StallWidthRad
	end := math.Min(phi, a.pitchRad-attached)
	if end <= leastInflowRad {
		return true
	}
	step := a.scanStep()
	for x := end; x > leastInflowRad; x -= step {
		if x < phi-inflowTolRad && a.residual(x) > 0 {
			return false
		}
	}
	a.residual(phi)
	return true
}
