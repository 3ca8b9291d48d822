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

// drawnA is currentA at the duty that an operating point takes, where d V_bus = V_m; at full duty the ripple is nothing.
func (s *supply) drawnA(duty float64, o operating) float64 {
	off := 1 - duty
	return s.rotors*(switchedA(s.partLoss, duty, o.currentA)+s.rippleS*duty*off*off*o.voltageV) + s.electronicsA
}

// duty solves d V_bus(d) = V_m for the smaller root: Newton's method from the root of the quadratic that holds the
// losses at part throttle and the ripple at their value close by. It returns false when no duty up to 1 does.
func (s *supply) duty(o operating) (float64, bool) {
	open := s.openV - s.resistanceOhm*s.electronicsA
	bus := s.rotors * o.currentA * s.resistanceOhm
	if open-bus < o.voltageV {
		return 1, false
	}
	ripple := s.rotors * s.rippleS * s.resistanceOhm
	x := o.voltageV / open
	near := x * (1 + bus*x/open)
	d := x * (1 + ripple*chopped(near))
	if square := 1 - 4*d*bus*(1+s.partLoss*(1-near))/open; square > 0 {
		d = 2 * d / (1 + math.Sqrt(square))
	}
	if !(d < 1) {
		d = 1
	}
	for range 30 {
		// The margin is d A/B − V_m, A what is left without ripple and B what the ripple divides it by.
		off := 1 - d
		left := open - bus*d*(1+s.partLoss*off)
		by := 1 + ripple*chopped(d)
		// The residual is d A − V_m B, with its derivative.
		slope := left - d*bus*(1+s.partLoss*(1-2*d)) - o.voltageV*2*ripple*d*off*(1-2*d)
		step := (o.voltageV*by - d*left) / slope
		next := d + step
		if !(next > 0 && next <= 1) {
			next = (d + 1) / 2
			step = next - d
		}
		d = next
		if step < dutyStep && step > -dutyStep {
			break
		}
	}
	return d, true
}

// thrustStep is the derivative of the logarithm of thrust over duty about a static operating point, at the duty that it
// takes: thrust and torque grow with powers a and b of speed, current by b Q/ke, the motor's voltage by
//
//	dV = (ke w + Re' w I + Re b Q/ke) dln w
//
// and the duty by what d V_bus = V_m makes of both.
func (c *Craft) thrustStep(s *supply, duty float64, o operating) float64 {
	thrust, torque := c.Propeller.HoverPowers(o.speedRadS)
	m := &c.Motor
	byA := torque * (o.currentA - m.currentA(0))
	byV := o.speedRadS*(m.TorqueConstantNmA+m.resistancePerSpeed()*o.currentA) + m.EffectiveOhm(o.speedRadS)*byA
	off := 1 - duty
	sag := s.rotors * s.resistanceOhm
	ripple := sag * s.rippleS
	left := s.openV - s.resistanceOhm*s.electronicsA - sag*o.currentA*duty*(1+s.partLoss*off)
	byDuty := left - sag*o.currentA*duty*(1+s.partLoss*(1-2*duty)) - o.voltageV*2*ripple*duty*off*(1-2*duty)
	return thrust * byDuty / (byV*(1+ripple*chopped(duty)) + sag*byA*duty*duty*(1+s.partLoss*off))
}

// demand is the duty that an operating point takes. Where full duty does not carry it, it is the voltage that motors
// and sag take there over the pack's open-circuit voltage, which is 1 where full duty just does:
//
//	d = (V_m + R I_pack(1))/E
func (s *supply) demand(o operating) float64 {
	if d, holds := s.duty(o); holds {
		return d
	}
	return s.shortOf(o)
}

// shortOf is the demand of an operating point that full duty does not carry.
func (s *supply) shortOf(o operating) float64 {
	return (o.voltageV + s.resistanceOhm*s.currentA(1, o.currentA)) / s.openV
}

// dutyStep is the step of Newton's method after which errors are under some 1e-7: they go with its square.
const dutyStep = 3e-4

// spun is about the speed that a duty gives over that of an operating point close by, as if the air's torque went with
// the square of speed, with I0 the current without load:
//
//	ke w r + Re (I − I0) r² = d E' − Re I0
func (c *Craft) spun(s *supply, duty float64, o operating) float64 {
	idleA := c.Motor.currentA(0)
	ohm := c.Motor.EffectiveOhm(o.speedRadS) + s.rotors*s.resistanceOhm*switchedA(s.partLoss, duty, duty)
	open := duty*(s.openV-s.resistanceOhm*s.electronicsA) - ohm*idleA
	emf := c.Motor.TorqueConstantNmA * o.speedRadS
	return 2 * open / (emf + math.Sqrt(emf*emf+4*ohm*(o.currentA-idleA)*open))
}

// fullThrottle is the static operating point at a duty: the secant method on the margin, which falls
// with speed from a positive value at rest to under 0 at the speed whose back-EMF takes all the
// voltage. The start and the first slope take the air's torque to go with the square of speed, the start the
// effective resistance to be that at seven tenths of the highest speed. At no duty nothing turns.
func (c *Craft) fullThrottle(s *supply, duty float64) operating {
	if duty <= 0 {
		return operating{}
	}
	kt := c.Motor.TorqueConstantNmA
	high := duty * s.openV / kt
	low, most := 0.0, high
	sag := s.rotors * s.resistanceOhm * switchedA(s.partLoss, duty, duty)
	ohm := c.Motor.EffectiveOhm(0.7*high) + sag
	open := math.Max(duty*(s.openV-s.resistanceOhm*s.electronicsA)-ohm*c.Motor.LossNm/kt, 0.1*duty*s.openV)
	speed := 2 * open / (kt + math.Sqrt(kt*kt+4*open*ohm*c.Propeller.HoverTorqueNmS2()/kt))
	var last, lastMargin float64
	for i := range 100 {
		o := c.turning(speed)
		margin := s.marginV(duty, o)
		if margin > 0 {
			low = speed
		} else {
			most = speed
		}
		var next float64
		left := 1.0 // of the step, at most
		if i == 0 {
			air := math.Max(o.currentA-c.Motor.currentA(0), 0)
			next = speed + margin/(kt+c.Motor.resistancePerSpeed()*o.currentA+(c.Motor.EffectiveOhm(speed)+sag)*2*air/speed)
		} else {
			next = speed + margin*(speed-last)/(lastMargin-margin)
			left = math.Abs(next-last) / speed
		}
		if !(next > low && next < most) {
			next, left = (low+most)/2, 1
		}
		if math.Abs(next-speed)*left < fullSpeedError*high {
			return c.turning(next)
		}
		last, lastMargin, speed = speed, margin, next
	}
	return c.turning(speed)
}

// fullSpeedError is the error of a speed at full throttle over that without load.
const fullSpeedError = 3e-6
