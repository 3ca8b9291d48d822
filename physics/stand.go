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
	if !(throttle > 0 && throttle <= 1) {
		return StandPoint{}, fault.New("stand.throttle", fault.Values{"got": throttle * 100})
	}
	c, mains, err := s.fed(voltageV)
	if err != nil {
		return StandPoint{}, err
	}
	duty := math.Pow(throttle, s.ThrottleExponent)
	o := c.fullThrottle(&mains, duty)
	if !(o.speedRadS > 0) {
		return StandPoint{}, fault.New("stand.still", nil)
	}
	return s.reading(&c, &mains, o, duty, throttle), nil
}

// Lifting predicts the static point at a voltage at which the prop gives a thrust over 0: the speed follows from the
// thrust, what the motor needs from speed and torque, and the throttle from that. It returns false where full throttle
// gives less; then the point is that of full throttle.
func (s *Stand) Lifting(voltageV, thrustN float64) (StandPoint, bool, error) {
	if !(thrustN > 0 && thrustN <= 1e4) {
		return StandPoint{}, false, fault.New("stand.thrust", fault.Values{"got": thrustN})
	}
	c, mains, err := s.fed(voltageV)
	if err != nil {
		return StandPoint{}, false, err
	}
	o, ok := c.at(thrustN, rotor.Flow{})
	duty := 1.0
	if ok {
		duty, ok = mains.duty(o)
	}
	if !ok {
		most, err := s.Point(voltageV, 1)
		return most, false, err
	}
	return s.reading(&c, &mains, o, duty, math.Pow(duty, 1/s.ThrottleExponent)), true, nil
}

// fed is the stand as a craft of one rotor on its supply.
func (s *Stand) fed(voltageV float64) (Craft, supply, error) {
	if !(voltageV > 0 && voltageV <= 100) {
		return Craft{}, supply{}, fault.New("stand.volts", fault.Values{"high": 100.0, "got": voltageV})
	}
	return Craft{Rotors: 1, Propeller: s.Propeller, Motor: s.Motor},
		supply{openV: voltageV, rotors: 1, partLoss: s.ESC.PartThrottleLoss, rippleS: s.Motor.rippleS(s.ESC)}, nil
}

func (s *Stand) reading(c *Craft, mains *supply, o operating, duty, throttle float64) StandPoint {
	_, torque := c.Propeller.Loads(o.speedRadS, rotor.Flow{})
	current := mains.currentA(duty, o.currentA)
	return StandPoint{throttle, mains.openV, o.speedRadS, o.thrustN, torque, current, current * mains.openV}
}
