package rotor

import (
	"math"

	"partsaloft/physics/fault"
)

// elements solves blade-element momentum theory for one blade geometry and polar.
type elements struct {
	blade *Blade
	polar *Polar
	// start holds each station's solution of the last call of loads, from which the next begins;
	// nil begins afresh.
	start []inflowStart
	// lossless leaves out Prandtl's factor and lift replaces the polar; for checks against sources
	// that do so.
	lossless bool
	lift     func(alphaRad float64) (cl, cd float64)
}

// inflowStart is an inflow angle with the slope of the residual there; an angle of 0 is unknown.
type inflowStart struct{ phi, slope float64 }

// Solver solves a blade point by point, without a table. It is not safe for concurrent use: each
// solution starts from the last one.
type Solver struct {
	rotor elements
	air   Air
}

// NewSolver returns a solver of one blade in one state of air.
func NewSolver(blade Blade, polar Polar, air Air) (*Solver, error) {
	if len(blade.stations) == 0 || !(blade.RadiusM > 0) {
		return nil, fault.New("blade.none", nil)
	}
	return &Solver{elements{blade: &blade, polar: &polar, start: make([]inflowStart, len(blade.stations))}, air}, nil
}

// Replace gives the solver another blade with as many stations, to go on from the same solution.
func (s *Solver) Replace(blade Blade, polar Polar) {
	s.rotor.blade, s.rotor.polar = &blade, &polar
}

// Loads returns thrust in N and torque in N m at a speed in rad/s and an axial airspeed ≥ 0 in
// m/s. It returns false where a section has no solution.
func (s *Solver) Loads(speedRadS, axialMS float64) (thrustN, torqueNm float64, ok bool) {
	return s.rotor.loads(speedRadS, axialMS, 1, s.air)
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
func (r *elements) loads(speedRadS, axialMS, massFlow float64, air Air) (thrustN, torqueNm float64, ok bool) {
	b := r.blade
	tipMS := speedRadS * b.RadiusM
	axial := axialMS / tipMS
	perReynolds := b.RadiusM * air.DensityKgM3 / air.ViscosityPaS
	zeroLift := r.polar.zeroLift(r.reynolds(tipMS, axialMS, air))
	twist := b.twistLeft(0.5 * air.DensityKgM3 * tipMS * tipMS)
	ok = true
	for i := range b.stations {
		st := &b.stations[i]
		w := math.Hypot(tipMS*st.radius, axialMS)
		a := r.annulus(st, twist, r.polar.section(w*st.chord*perReynolds, zeroLift))
		a.axial, a.massFlow = axial/st.radius, massFlow
		var start inflowStart
		if r.start != nil {
			start = r.start[i]
		}
		if !a.solve(&start) {
			ok = false
			continue
		}
		if r.start != nil {
			r.start[i] = start
		}
		k := a.ct * a.quarter / (a.loss * a.sin * a.cos)
		vt := tipMS * st.radius / (1 + k)
		t, q := r.annulusLoads(st, vt/a.cos, a.cn, a.ct, air)
		thrustN += t
		torqueNm += q
	}
	return thrustN, torqueNm, ok
}

// loadsAtInflow returns thrust and torque with a given uniform inflow through the disc, positive
// with the thrust's wake, without solving for induction. It serves flow from below.
func (r *elements) loadsAtInflow(speedRadS, inflowMS float64, air Air) (thrustN, torqueNm float64) {
	b := r.blade
	tipMS := speedRadS * b.RadiusM
	zeroLift := r.polar.zeroLift(r.reynolds(tipMS, 0, air))
	twist := b.twistLeft(0.5 * air.DensityKgM3 * tipMS * tipMS)
	for i := range b.stations {
		st := &b.stations[i]
		a := r.annulus(st, twist, r.polar.section(tipMS*st.radius*st.chord*b.RadiusM*air.DensityKgM3/air.ViscosityPaS,
			zeroLift))
		a.forces(math.Atan2(inflowMS, tipMS*st.radius))
		t, q := r.annulusLoads(st, tipMS*st.radius/a.cos, a.cn, a.ct, air)
		thrustN += t
		torqueNm += q
	}
	return thrustN, torqueNm
}

func (r *elements) reynolds(tipMS, axialMS float64, air Air) float64 {
	chord, _ := r.blade.At(0.75)
	return math.Hypot(0.75*tipMS, axialMS) * chord * r.blade.RadiusM * air.DensityKgM3 / air.ViscosityPaS
}

// annulusLoads are one annulus' thrust and torque at a speed of the air over its blades.
func (r *elements) annulusLoads(st *station, speedMS, cn, ct float64, air Air) (thrustN, torqueNm float64) {
	radius := r.blade.RadiusM
	perCoefficient := 0.5 * air.DensityKgM3 * speedMS * speedMS * st.chord * st.width * radius * radius * float64(r.blade.Blades)
	return perCoefficient * cn, perCoefficient * ct * st.radius * radius
}

// prandtl is Prandtl's loss factor (2/pi) acos(e^−x), with the arc cosine of M. Abramowitz and
// I. Stegun, Handbook of Mathematical Functions, 4.4.46, good to 2e-8.
func prandtl(x float64) float64 {
	if x > 16 { // 1 − F is under a ten-millionth
		return 1
	}
	y := math.Exp(-x)
	return 2 / math.Pi * math.Sqrt(1-y) * (1.5707963050 + y*(-0.2145988016+y*(0.0889789874+y*(-0.0501743046+
		y*(0.0308918810+y*(-0.0170881256+y*(0.0066700901-y*0.0012624911)))))))
}
