package physics

import (
	"errors"
	"fmt"
	"math"
	"partsaloft/physics/uncertain"
)

// Stand is a motor and a prop on a thrust stand, fed with a constant voltage at the ESC.
type Stand struct {
	Propeller Propeller
	Motor     Motor
	// ThrottleExponent bends throttle into duty, d = throttle^e; 1 nominal. ESCs differ at part
	// throttle and agree at both ends.
	ThrottleExponent float64
	Uncertainty      uncertain.Budget
}

// StandPoint is what a thrust stand shows.
type StandPoint struct {
	Throttle, VoltageV float64 // 0 to 1; V at the ESC
	SpeedRadS          float64
	ThrustN, TorqueNm  float64
	CurrentA, PowerW   float64 // from the supply
}

// Deviate returns the stand with every uncertain input multiplied by e to the deviation.
func (s *Stand) Deviate(d *uncertain.Deviation) Stand {
	v := *s
	v.Propeller.deviate(d)
	v.Motor.deviate(d)
	v.ThrottleExponent *= math.Exp(d[uncertain.ThrottleScale])
	return v
}

// Point predicts a static point at a voltage and a throttle over 0 and up to 1.
func (s *Stand) Point(voltageV, throttle float64) (StandPoint, error) {
	if !(voltageV > 0 && voltageV <= 100) {
		return StandPoint{}, fmt.Errorf("volts must be over 0 and up to 100, got %g", voltageV)
	}
	if !(throttle > 0 && throttle <= 1) {
		return StandPoint{}, fmt.Errorf("throttle must be over 0 and up to 100 %%, got %g %%", throttle*100)
	}
	duty := math.Pow(throttle, s.ThrottleExponent)
	c := Craft{Rotors: 1, Propeller: s.Propeller, Motor: s.Motor}
	mains := supply{openV: voltageV, rotors: 1}
	o := c.fullThrottle(&mains, duty)
	if !(o.speedRadS > 0) {
		return StandPoint{}, errors.New("the motor does not turn this prop at that voltage")
	}
	_, torque := c.Propeller.Loads(o.speedRadS, Flow{})
	current := busCurrentA(duty, o.currentA)
	return StandPoint{throttle, voltageV, o.speedRadS, o.thrustN, torque, current, current * voltageV}, nil
}

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
	if !(tip >= surfaceLowTipMS/4 && tip <= surfaceHighTipMS) {
		return Coefficients{}, fmt.Errorf("the blade tip must move at %g to %g m/s (%.0f to %.0f rpm for this prop), got %.3g m/s",
			surfaceLowTipMS/4, surfaceHighTipMS, surfaceLowTipMS/2/p.DiameterM*60/(2*math.Pi), surfaceHighTipMS*2/p.DiameterM*60/(2*math.Pi), tip)
	}
	n := speedRadS / (2 * math.Pi)
	advance := airspeedMS / (n * p.DiameterM)
	if most := 1.2 * p.Surface.zeroAdvance * p.AdvanceFactor; !(airspeedMS >= 0 && advance <= most) {
		return Coefficients{}, fmt.Errorf("airspeed must be from 0 to %.3g m/s at this rpm, %w, got %g", most*n*p.DiameterM, ErrWindmilling, airspeedMS)
	}
	thrust, torque := p.Loads(speedRadS, Flow{AxialMS: airspeedMS})
	rho := p.Surface.Air.DensityKgM3
	area := p.DiameterM * p.DiameterM
	return Coefficients{
		thrust / (rho * n * n * area * area), torque * 2 * math.Pi / (rho * n * n * area * area * p.DiameterM), advance, thrust, torque,
	}, nil
}
