package rotor

import (
	"errors"
	"fmt"
	"math"
)

// Coefficients are a prop's dimensionless thrust and power, CT = T/(rho n² D⁴) and
// CP = P/(rho n³ D⁵), with what they give.
type Coefficients struct {
	Thrust, Power, AdvanceRatio float64
	ThrustN, TorqueNm           float64
}

// ErrWindmilling says that a prop alone is driven by the airspeed, which the section data do not cover.
var ErrWindmilling = errors.New("beyond which the prop windmills")

// Coefficients of the prop alone at a speed in rad/s and an airspeed along its axis in m/s. It fails
// with ErrWindmilling on an airspeed far beyond that of zero thrust.
func (p *Propeller) Coefficients(speedRadS, airspeedMS float64) (Coefficients, error) {
	tip := speedRadS * p.DiameterM / 2
	if !(tip >= mapLowTipMS/4 && tip <= mapHighTipMS) {
		return Coefficients{}, fmt.Errorf("the blade tip must move at %g to %g m/s (%.0f to %.0f rpm for this prop), got %.3g m/s",
			mapLowTipMS/4, mapHighTipMS, mapLowTipMS/2/p.DiameterM*60/(2*math.Pi), mapHighTipMS*2/p.DiameterM*60/(2*math.Pi), tip)
	}
	n := speedRadS / (2 * math.Pi)
	advance := airspeedMS / (n * p.DiameterM)
	if most := 1.2 * p.Map.zeroAdvance * p.AdvanceFactor; !(airspeedMS >= 0 && advance <= most) {
		return Coefficients{}, fmt.Errorf("airspeed must be from 0 to %.3g m/s at this rpm, %w, got %g", most*n*p.DiameterM, ErrWindmilling, airspeedMS)
	}
	thrust, torque := p.Loads(speedRadS, Flow{AxialMS: airspeedMS})
	rho := p.Map.Air.DensityKgM3
	area := p.DiameterM * p.DiameterM
	return Coefficients{
		thrust / (rho * n * n * area * area), torque * 2 * math.Pi / (rho * n * n * area * area * p.DiameterM), advance, thrust, torque,
	}, nil
}
