package physics

import "math"

// rotor solves blade-element momentum theory for one blade geometry and polar.
type rotor struct {
	blade *Blade
	polar *Polar
	// lossless leaves out Prandtl's factor and lift replaces the polar; for checks against sources
	// that do so.
	lossless bool
	lift     func(alphaRad float64) (cl, cd float64)
}

// loads returns thrust and torque at a rotor speed in rad/s and an axial speed ≥ 0 in m/s.
//
// With inflow angle phi, local solidity s = B c/(2 pi r), cn = cl cos phi − cd sin phi,
// ct = cl sin phi + cd cos phi, and Prandtl's factor F for tip and hub, each station solves
//
//	h(phi) = m sin²phi − cn s/(4F) − (V/(Omega r)) (sin phi cos phi + ct s/(4F)) = 0
//
// on (0, pi/2), A. Ning's residual (Struct. Multidisc. Optim. 64, 994, 2021,
// doi 10.1007/s00158-021-02883-6) cleared of its poles, which is continuous through hover; of
// several roots (deep stall) the first from small phi is taken. Then a' = k'/(1+k') with
// k' = ct s/(4F sin phi cos phi), Vt = Omega r (1−a'), W = Vt/cos phi and the loads per metre are
// ½ rho W² c cn and ½ rho W² c ct. Reynolds numbers are those before induction.
//
// m is 1 in hover and climb. A hover with m over 1 lets m times the air through the disc for the
// same induced velocity, as sideways flight does; it serves to tabulate the blade at less inflow.
func (r *rotor) loads(speedRadS, axialMS, massFlow float64, air Air) (thrustN, torqueNm float64, ok bool) {
	b := r.blade
	tipMS := speedRadS * b.RadiusM
	axial := axialMS / tipMS
	zeroLift := r.polar.zeroLift(r.reynolds(tipMS, axialMS, air))
	ok = true
	for i := range b.stations {
		st := &b.stations[i]
		w := math.Hypot(tipMS*st.radius, axialMS)
		sec := r.polar.section(w*st.chord*b.RadiusM*air.DensityKgM3/air.ViscosityPaS, zeroLift)
		phi, cn, ct, f, found := r.solve(st, &sec, axial/st.radius, massFlow)
		if !found {
			ok = false
			continue
		}
		sin, cos := math.Sincos(phi)
		k := ct * r.localSolidity(st) / (4 * f * sin * cos)
		vt := tipMS * st.radius / (1 + k)
		r.add(st, vt/cos, cn, ct, air, &thrustN, &torqueNm)
	}
	return thrustN, torqueNm, ok
}

// loadsAtInflow returns thrust and torque with a given uniform inflow through the disc, positive
// with the thrust's wake, without solving for induction. It serves flow from below.
func (r *rotor) loadsAtInflow(speedRadS, inflowMS float64, air Air) (thrustN, torqueNm float64) {
	b := r.blade
	tipMS := speedRadS * b.RadiusM
	zeroLift := r.polar.zeroLift(r.reynolds(tipMS, 0, air))
	for i := range b.stations {
		st := &b.stations[i]
		sec := r.polar.section(tipMS*st.radius*st.chord*b.RadiusM*air.DensityKgM3/air.ViscosityPaS, zeroLift)
		phi := math.Atan2(inflowMS, tipMS*st.radius)
		cl, cd := r.section(&sec, st.pitchRad-phi)
		sin, cos := math.Sincos(phi)
		r.add(st, tipMS*st.radius/cos, cl*cos-cd*sin, cl*sin+cd*cos, air, &thrustN, &torqueNm)
	}
	return thrustN, torqueNm
}

func (r *rotor) reynolds(tipMS, axialMS float64, air Air) float64 {
	chord, _ := r.blade.at(0.75)
	return math.Hypot(0.75*tipMS, axialMS) * chord * r.blade.RadiusM * air.DensityKgM3 / air.ViscosityPaS
}

func (r *rotor) section(sec *section, alphaRad float64) (cl, cd float64) {
	if r.lift != nil {
		return r.lift(alphaRad)
	}
	return sec.at(alphaRad)
}

func (r *rotor) localSolidity(st *station) float64 {
	return float64(r.blade.Blades) * st.chord / (2 * math.Pi * st.radius)
}

func (r *rotor) add(st *station, speedMS, cn, ct float64, air Air, thrustN, torqueNm *float64) {
	radius := r.blade.RadiusM
	perCoefficient := 0.5 * air.DensityKgM3 * speedMS * speedMS * st.chord * st.width * radius * radius * float64(r.blade.Blades)
	*thrustN += perCoefficient * cn
	*torqueNm += perCoefficient * ct * st.radius * radius
}

// solve finds the inflow angle of one station; axial is V/(Omega r).
func (r *rotor) solve(st *station, sec *section, axial, massFlow float64) (phi, cn, ct, f float64, ok bool) {
	solidity := r.localSolidity(st)
	tip := float64(r.blade.Blades) / 2 * (1 - st.radius) / st.radius
	hub := float64(r.blade.Blades) / 2 * (st.radius - hubRadius) / hubRadius
	residual := func(phi float64) float64 {
		sin, cos := math.Sincos(phi)
		cl, cd := r.section(sec, st.pitchRad-phi)
		cn, ct = cl*cos-cd*sin, cl*sin+cd*cos
		f = 1
		if !r.lossless {
			f = prandtl(tip/sin) * prandtl(hub/sin)
		}
		return massFlow*sin*sin - cn*solidity/(4*f) - axial*(sin*cos+ct*solidity/(4*f))
	}
	const least, most = 1e-6, math.Pi/2 - 1e-6
	step := math.Max(0.02, st.pitchRad/8)
	low, hLow := least, residual(least)
	if hLow > 0 {
		return 0, 0, 0, 1, false
	}
	for low < most {
		high := math.Min(low+step, most)
		hHigh := residual(high)
		if hHigh > 0 {
			phi, ok = root(residual, low, hLow, high, hHigh, 1e-10)
			residual(phi)
			return phi, cn, ct, f, ok
		}
		low, hLow = high, hHigh
	}
	return 0, 0, 0, 1, false
}

// prandtl is Prandtl's loss factor (2/pi) acos(e^−x).
func prandtl(x float64) float64 {
	if x > 30 {
		return 1
	}
	return 2 / math.Pi * math.Acos(math.Exp(-x))
}
