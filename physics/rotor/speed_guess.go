package rotor

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// speedGuess is where Propeller.SpeedFor starts: t as a straight line in lambda, through hover and no thrust at a middle
// speed, which leaves a quadratic for the tip's speed, and a table of what the map's own t makes of that speed. The step of Newton's method from there is mostly the last.
type speedGuess struct {
	rest, fall float64 // the line is rest − fall lambda
	still      float64 // t without inflow, which the line does not go through
	hover      float64 // t in hover
	logRadius  float64
	perInflow  float64   // nodes per unit of lambda
	factors    []float64 // by [speed][inflow], one node added on every side
}

const (
	guessInflows = 24
	// guessMost is the share of the line's way to no thrust that is tabulated; there is little thrust beyond.
	guessMost = 0.96
	// guessLowMS and guessHighMS are the tip speeds between which guesses are held, inside those of a solution.
	guessLowMS  = 1.1 * mapLowTipMS / 4
	guessHighMS = 0.9 * mapHighTipMS
)

func (g *speedGuess) fill(s *Map) {
	const middle = mapSpeeds / 2
	g.hover, g.still = math.Max(s.hover[middle].t, 1e-6), s.still[middle+1]
	g.logRadius = math.Log(s.Blade.RadiusM)
	first := math.Sqrt(g.hover / 2)
	none := s.highInflow()
	for lambda := first + mapInflowStep; lambda < none; lambda += mapInflowStep {
		if t, byInflow, _, _, _ := s.thrustAt(lambda, s.logLow+middle/s.perLog); !(t > 0) && byInflow < 0 {
			none = lambda - t/byInflow
			break
		}
	}
	g.fall = g.hover / (none - first)
	g.rest = g.hover + g.fall*first
	g.perInflow = (guessInflows - 1) / (guessMost * none)
	const wide = guessInflows + 2
	g.factors = make([]float64, (mapSpeeds+2)*wide)
	for k := range mapSpeeds {
		log := s.logLow + float64(k)/s.perLog
		factor := 1.0
		for i := range guessInflows {
			inflow := float64(i) / g.perInflow
			// Newton's method on the logarithm of the factor f for f² t(lambda/f) = rest − fall lambda.
			for range 20 {
				t, byInflow, byLog, _, _ := s.thrustAt(inflow/factor, log+math.Log(factor))
				excess := factor*factor*t - (g.rest - g.fall*inflow)
				slope := factor*factor*(2*t+byLog) - factor*inflow*byInflow
				if !(slope > 0) {
					break
				}
				step := numeric.Clamp(-excess/slope, -0.2, 0.2)
				factor *= 1 + step
				if math.Abs(step) < 1e-4 {
					break
				}
			}
			factor = numeric.Clamp(factor, 0.5, 2)
			g.factors[(k+1)*wide+i+1] = factor
		}
	}
	surround(g.factors, wide)
}

// of is a guess of the tip's speed and of the logarithm of the rotor speed for an inflow in m/s and the square of tip
// speed times t in m²/s².
func (g *speedGuess) of(s *Map, inflowMS, squared float64) (tipMS, logSpeed float64) {
	if !(squared > 0) {
		squared = 0
	}
	fall := g.fall * inflowMS
	tip := (fall + math.Sqrt(fall*fall+4*g.rest*squared)) / (2 * g.rest)
	if !(tip > guessLowMS) {
		tip = guessLowMS
	}
	if tip > guessHighMS {
		tip = guessHighMS
	}
	i, x := place(inflowMS/tip*g.perInflow, guessInflows)
	k, y := s.speedPlace(numeric.RoughLog(tip) - g.logRadius)
	byInflow, bySpeed := catmullRom(x), catmullRom(y)
	tip *= mix(g.factors, guessInflows+2, k, i, &bySpeed, &byInflow)
	return tip, numeric.Log(tip / s.Blade.RadiusM)
}

// logNear is ln(1 + x) to x⁵/180.
func logNear(x float64) float64 { return x * (6 + 3*x) / (6 + x*(6+x)) }

// expNear is e^x to x⁵/720 close to 0, by the quotient of two quadratics.
func expNear(x float64) float64 {
	if !(x < 0.1 && x > -0.1) {
		return math.Exp(x)
	}
	return (12 + x*(6+x)) / (12 - x*(6-x))
}
