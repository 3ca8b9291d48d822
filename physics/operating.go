package physics

import "math"

// operating is one rotor at work: its speed, and what its motor takes for it.
type operating struct {
	speedRadS, thrustN float64
	voltageV, currentA float64 // at the motor
}

// at finds the operating point of one rotor that gives a thrust in a flow.
func (c *Craft) at(thrustN float64, flow Flow) (operating, bool) {
	speed, torque, ok := c.Propeller.SpeedFor(thrustN, flow)
	v, i := c.Motor.voltageV(torque, speed)
	return operating{speed, thrustN, v, i}, ok
}

// turning is the operating point of one rotor held at a speed in still air.
func (c *Craft) turning(speedRadS float64) operating {
	thrust, torque := c.Propeller.hoverLoads(speedRadS)
	v, i := c.Motor.voltageV(torque, speedRadS)
	return operating{speedRadS, thrust, v, i}
}

// supply is the pack at one state of charge with the electronics on it.
type supply struct {
	openV, resistanceOhm, electronicsA float64
	rotors                             float64
}

func (c *Craft) supply(charge float64) supply {
	open := c.Pack.openV(charge)
	return supply{open, c.Pack.resistanceOhm(), c.ElectronicsW / open, float64(c.Rotors)}
}

// busV is the voltage left with all motors at a duty and a motor current.
func (s *supply) busV(duty, motorCurrentA float64) float64 {
	return s.openV - s.resistanceOhm*s.currentA(duty, motorCurrentA)
}

// currentA is the pack's current with all motors at a duty and a motor current.
func (s *supply) currentA(duty, motorCurrentA float64) float64 {
	return s.rotors*busCurrentA(duty, motorCurrentA) + s.electronicsA
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
	for range 30 {
		bus := s.rotors * o.currentA * s.resistanceOhm
		slope := s.openV - s.resistanceOhm*s.electronicsA - bus*d*(2+partThrottleLoss*(2-3*d))
		next := d - s.marginV(d, o)/slope
		if !(next > 0 && next <= 1) {
			next = (d + 1) / 2
		}
		if math.Abs(next-d) < 1e-9 {
			return next, true
		}
		d = next
	}
	return d, true
}

// fullThrottle is the static operating point at a duty.
func (c *Craft) fullThrottle(s *supply, duty float64) operating {
	// The margin falls with speed from a positive value at rest to under 0 at the speed where the
	// motor's back-EMF takes all the voltage.
	high := duty * s.openV / c.Motor.TorqueConstantNmA
	low := high * 1e-5 // the torque is all but gone there
	margin := func(speed float64) float64 { return s.marginV(duty, c.turning(speed)) }
	// The root mostly lies at 50 to 90 % of the no-load speed: narrow before the search.
	a, b := 0.55*high, 0.85*high
	fa, fb := margin(a), margin(b)
	for fa < 0 && a > low {
		b, fb = a, fa
		a *= 0.6
		fa = margin(a)
	}
	if fb > 0 {
		a, fa = b, fb
		b = high
		fb = margin(b)
	}
	speed, _ := root(margin, a, fa, b, fb, 1e-7*high)
	return c.turning(speed)
}
