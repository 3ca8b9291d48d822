package rotor

import (
	"errors"
	"math"

	"partsaloft/physics/fault"
)

// Coefficients are a prop's dimensionless thrust and power, CT = T/(rho n² D⁴) and
// CP = P/(rho n³ D⁵), with what they give.
type Coefficients struct {
	Thrust, Power, AdvanceRatio float64
	ThrustN, TorqueNm           float64
}

// ErrWindmilling says that a prop alone is driven by the airspeed, which the section data do not cover.
var ErrWindmilling = errors.New("prop.windmilling")

// windmilling is ErrWindmilling with the airspeeds.
type windmilling struct{ *fault.Fault }

// Is reports whether the error asked for is ErrWindmilling.
func (windmilling) Is(target error) bool { return target == ErrWindmilling }

// Unwrap returns the fault.
func (w windmilling) Unwrap() error { return w.Fault }

// Coefficients of the prop alone at a speed in rad/s and an airspeed along its axis in m/s. It fails
// with ErrWindmilling on an airspeed far beyond that of zero thrust.
func (p *Propeller) Coefficients(speedRadS, airspeedMS float64) (Coefficients, error) {
	tip := speedRadS * p.DiameterM / 2
	if !(tip >= mapLowTipMS/4 && tip <= mapHighTipMS) {
		perTip := 2 / p.DiameterM * 60 / (2 * math.Pi)
		return Coefficients{}, fault.New("prop.tip", fault.Values{
			"low": mapLowTipMS / 4, "high": mapHighTipMS, "low_rpm": math.Round(mapLowTipMS / 4 * perTip), "high_rpm": math.Round(mapHighTipMS * perTip),
			"got": fault.Digits(tip, 3)})
	}
	n := speedRadS / (2 * math.Pi)
	advance := airspeedMS / (n * p.DiameterM)
	if most := 1.2 * p.Map.zeroAdvance * p.AdvanceFactor; !(airspeedMS >= 0 && advance <= most) {
		return Coefficients{}, windmilling{fault.New("prop.windmilling",
			fault.Values{"high": fault.Digits(most*n*p.DiameterM, 3), "got": airspeedMS})}
	}
	thrust, torque := p.Loads(speedRadS, Flow{AxialMS: airspeedMS})
	rho := p.Map.Air.DensityKgM3
	area := p.DiameterM * p.DiameterM
	return Coefficients{
		thrust / (rho * n * n * area * area), torque * 2 * math.Pi / (rho * n * n * area * area * p.DiameterM), advance, thrust, torque,
	}, nil
}
