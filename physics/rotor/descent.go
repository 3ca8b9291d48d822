package rotor

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// The grid of axial descent: the sink over tip speed in equal steps, to beyond where the inflow lies at the map's border
// (windmill brake state: lambda = −sigma + vh²/sigma with vh² = t/2 under 0.06, thus sigma over 0.7).
const (
	descentStep  = 0.0125
	descentSinks = 61
)

// fillDescent tabulates t and q in axial descent by rotor speed and by sigma = sink/(Omega R): thrust and momentum
// balance leave nothing else free. One node is added on every side.
func (s *Map) fillDescent() {
	wide := descentSinks + 2
	s.descentT = make([]float64, (mapSpeeds+2)*wide)
	s.descentQ = make([]float64, (mapSpeeds+2)*wide)
	for k := range mapSpeeds {
		r := s.rows(math.Exp(s.logLow + float64(k)/s.perLog))
		inflow := 0.05
		for i := range descentSinks {
			var t float64
			t, inflow = s.descent(&r, float64(i)*descentStep, inflow)
			at := (k+1)*wide + i + 1
			s.descentT[at], s.descentQ[at] = t, r.of(s, s.torques, inflow)
		}
	}
	surround(s.descentT, wide)
	surround(s.descentQ, wide)
}

// descent solves for the inflow ratio in axial descent at sigma = sink/(Omega R) ≥ 0 with the empirical induced
// velocity of descentInducedMS, from a guess; t is the coefficient of thrust there. The excess of the momentum side's
// flow over the inflow falls through zero; secant steps inside a bracket.
func (s *Map) descent(r *rows, sigma, guess float64) (t, inflow float64) {
	low, high := mapLowInflow, s.highInflow()
	lambda := numeric.Clamp(guess, low, high)
	slope := -1.5
	var lastLambda, lastExcess float64
	for i := range 60 {
		t = r.of(s, s.thrusts, lambda)
		excess := descentInducedMS(math.Sqrt(math.Max(t, 0)/2), sigma) - sigma - lambda
		if excess > 0 {
			low = lambda
		} else {
			high = lambda
		}
		if i > 0 && lambda != lastLambda {
			if d := (excess - lastExcess) / (lambda - lastLambda); d < -0.2 {
				slope = d
			}
		}
		lastLambda, lastExcess = lambda, excess
		next := lambda - excess/slope
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-lambda) < 1e-6 {
			break
		}
		lambda = next
	}
	return t, lambda
}

// DescentLoads returns thrust and torque of one rotor that sinks along its axis at a speed ≥ 0, interpolated; beyond
// 0.75 of the tip's speed the coefficients are those there.
func (p *Propeller) DescentLoads(speedRadS, sinkMS float64) (thrustN, torqueNm float64) {
	s := p.Map
	tip := speedRadS * s.Blade.RadiusM
	r := s.rows(speedRadS)
	i, part := place(sinkMS/(p.AdvanceFactor*tip)*(1/descentStep), descentSinks)
	w := catmullRom(part)
	force := s.Air.DensityKgM3 * s.AreaM2 * tip * tip
	thrust, power := p.factors(speedRadS)
	return thrust * force * mix(s.descentT, descentSinks+2, r.first, i, &r.weights, &w),
		power * force * s.Blade.RadiusM * mix(s.descentQ, descentSinks+2, r.first, i, &r.weights, &w)
}
