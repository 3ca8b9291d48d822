package physics

import (
	"math"

	"partsaloft/physics/fault"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Stand is a motor and a prop on a thrust stand, fed with a constant voltage at the ESC.
type Stand struct {
	Propeller rotor.Propeller
	Motor     Motor
	ESC       ESC
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
	v.Propeller.Deviate(d)
	v.Motor.Deviate(d)
	v.ESC.Deviate(d)
	v.ThrottleExponent *= math.Exp(d[uncertain.ThrottleScale])
	return v
}

// Point predicts a static point at a voltage and a throttle over 0 and up to 1.
func (s *Stand) Point(voltageV, throttle float64) (StandPoint, error) {
	if !(voltageV > 0 && voltageV <= 100) {
		return StandPoint{}, fault.New("stand.volts", fault.Values{"high": 100.0, "got": voltageV})
	}
	if !(throttle > 0 && throttle <= 1) {
		return StandPoint{}, fault.New("stand.throttle", fault.Values{"got": throttle * 100})
	}
	duty := math.Pow(throttle, s.ThrottleExponent)
	c := Craft{Rotors: 1, Propeller: s.Propeller, Motor: s.Motor}
	mains := supply{openV: voltageV, rotors: 1, partLoss: s.ESC.PartThrottleLoss, rippleS: s.Motor.rippleS(s.ESC)}
	o := c.fullThrottle(&mains, duty)
	if !(o.speedRadS > 0) {
		return StandPoint{}, fault.New("stand.still", nil)
	}
	_, torque := c.Propeller.Loads(o.speedRadS, rotor.Flow{})
	current := mains.currentA(duty, o.currentA)
	return StandPoint{throttle, voltageV, o.speedRadS, o.thrustN, torque, current, current * voltageV}, nil
}
