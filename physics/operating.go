package physics

import (
	"math"

	"partsaloft/physics/rotor"
)

// operating is one rotor at work: its speed, and what its motor takes for it.
type operating struct {
	speedRadS, thrustN float64
	voltageV, currentA float64 // at the motor
}

// at finds the operating point of one rotor that gives a thrust in a flow.
func (c *Craft) at(thrustN float64, flow rotor.Flow) (operating, bool) {
	speed, torque, ok := c.Propeller.SpeedFor(thrustN, flow)
	v, i := c.Motor.VoltageV(torque, speed)
	return operating{speed, thrustN, v, i}, ok
}

// turning is the operating point of one rotor held at a speed in still air.
func (c *Craft) turning(speedRadS float64) operating {
	thrust, torque := c.Propeller.HoverLoads(speedRadS)
	v, i := c.Motor.VoltageV(torque, speedRadS)
	return operating{speedRadS, thrust, v, i}
}

// supply is the pack at one state of charge with the electronics on it.
type supply struct {
	openV, resistanceOhm, electronicsA float64
	rotors                             float64
	partLoss                           float64 // of the ESCs
	rippleS                            float64 // of one motor, see Motor.rippleS
}

func (c *Craft) supply(charge float64) supply {
	open := c.Pack.openV(charge)
	return supply{open, c.Pack.resistanceOhm(), c.ElectronicsW / open, float64(c.Rotors), c.Board.PartThrottleLoss,
		c.Motor.rippleS(c.Board.ESC)}
}

// busV is the voltage left with all motors at a duty and a motor current; the ripple goes with it.
//
//	V = [E − R (N I_d + Ie)]/(1 + R N g (d (1 − d))²),  I_d = d I (1 + k (1 − d))
func (s *supply) busV(duty, motorCurrentA float64) float64 {
	return (s.openV - s.resistanceOhm*(s.rotors*switchedA(s.partLoss, duty, motorCurrentA)+s.electronicsA)) /
		(1 + s.resistanceOhm*s.rotors*s.rippleS*chopped(duty))
}

// currentA is the pack's current with all motors at a duty and a motor current.
func (s *supply) currentA(duty, motorCurrentA float64) float64 {
	return s.rotors*(switchedA(s.partLoss, duty, motorCurrentA)+s.rippleS*chopped(duty)*s.busV(duty, motorCurrentA)) +
		s.electronicsA
}

// marginV is the voltage that a duty leaves over what the operating point needs; under 0 it
// cannot be held.
func (s *supply) marginV(duty float64, o operating) float64 {
	return duty*s.busV(duty, o.currentA) - o.voltageV
}

// duty solves d V_bus(d) = V_m for the smaller root. It returns false when no duty up to 1 does.
func (s *supply) duty(o operating) (float64, bool) {
	if s.marginV(1, o) < 0 {
		return 1, false
	}
	d := o.voltageV / s.openV
	bus := s.rotors * o.currentA * s.resistanceOhm
	ripple := s.rotors * s.rippleS * s.resistanceOhm
	for range 30 {
		// The margin is d A/B − V_m, A what is left without ripple and B what the ripple divides it by.
		left := s.openV - s.resistanceOhm*s.electronicsA - bus*d*(1+s.partLoss*(1-d))
		by := 1 + ripple*chopped(d)
		volts := left / by
		slope := volts + d*(-bus*(1+s.partLoss*(1-2*d))-volts*2*ripple*d*(1-d)*(1-2*d))/by
		next := d - (d*volts-o.voltageV)/slope
		if !(next > 0 && next <= 1) {
			next = (d + 1) / 2
		}
		if math.Abs(next-d) < dutyStep {
			return next, true
		}
		d = next
	}
	return d, true
}

// demand is the duty that an operating point takes. Where full duty does not carry it, it is the voltage that motors
// and sag take there over the pack's open-circuit voltage, which is 1 where full duty just does:
//
//	d = (V_m + R I_pack(1))/E
func (s *supply) demand(o operating) float64 {
	if d, holds := s.duty(o); holds {
		return d
	}
	return (o.voltageV + s.resistanceOhm*s.currentA(1, o.currentA)) / s.openV
}

// dutyStep is the step of Newton's method after which errors are some 1e-10: they go with its square.
const dutyStep = 1e-5

// fullThrottle is the static operating point at a duty: Newton's method on the margin, which falls
// with speed from a positive value at rest to under 0 at the speed whose back-EMF takes all the
// voltage. The slope takes the air's torque to go with the square of speed.
func (c *Craft) fullThrottle(s *supply, duty float64) operating {
	high := duty * s.openV / c.Motor.TorqueConstantNmA
	low, most := 0.0, high
	speed := 0.7 * high
	sag := s.rotors * s.resistanceOhm * switchedA(s.partLoss, duty, duty)
	for range 100 {
		o := c.turning(speed)
		margin := s.marginV(duty, o)
		if margin > 0 {
			low = speed
		} else {
			most = speed
		}
		air := math.Max(o.currentA-c.Motor.currentA(0), 0)
		slope := c.Motor.TorqueConstantNmA + c.Motor.resistancePerSpeed()*o.currentA +
			(c.Motor.EffectiveOhm(speed)+sag)*2*air/speed
		next := speed + margin/slope
		if !(next > low && next < most) {
			next = (low + most) / 2
		}
		if math.Abs(next-speed) < 1e-6*high {
			return c.turning(next)
		}
		speed = next
	}
	return c.turning(speed)
}
