package physics

import "math"

// commandLagS is the delay between command and motor voltage: flight controller loop, ESC
// protocol and its own filter. Published speed time constants of 5-inch racers (30 to 39 ms,
// NeuroBEM arXiv 2106.08015, Agilicious arXiv 2307.06100, lag included) lie this much over the
// motor law's own.
const commandLagS = 0.012

// response is the time constant of thrust about an operating point,
//
//	tau = J/(kt²/Re + dQ/dOmega) + lag,  dQ/dOmega = 2 Q/Omega
//
// for the torque grows with the square of speed.
func (c *Craft) response(o operating) float64 {
	kt := c.Motor.TorqueConstantNmA
	torque := o.currentA*kt - c.Motor.LossNm
	return c.InertiaKgM2()/(kt*kt/c.Motor.EffectiveOhm(o.speedRadS)+2*torque/o.speedRadS) + commandLagS
}

// spinCurrentA is the motor current at a speed and duty, sag included, whether steady or not.
//
//	d (E − R (N d I + Ie)) = ke w + Re I
func (c *Craft) spinCurrentA(s *supply, duty, speedRadS float64) float64 {
	open := duty*(s.openV-s.resistanceOhm*s.electronicsA) - c.Motor.TorqueConstantNmA*speedRadS
	return math.Max(open/(c.Motor.EffectiveOhm(speedRadS)+duty*duty*s.rotors*s.resistanceOhm), 0)
}

// spinUp is the angular acceleration in rad/s² at a speed, a duty and an air torque.
func (c *Craft) spinUp(s *supply, duty, speedRadS, torqueNm float64) float64 {
	drive := c.spinCurrentA(s, duty, speedRadS)*c.Motor.TorqueConstantNmA - c.Motor.LossNm
	return (drive - torqueNm) / c.InertiaKgM2()
}

// rise is the time to spin from one static operating point to a faster one at a duty, lag
// included: the integral of dOmega over the acceleration (Simpson's rule). Between the two the
// air's torque goes with the square of speed. It returns false if the duty does not get there.
func (c *Craft) rise(s *supply, duty float64, from, to operating) (float64, bool) {
	kt := c.Motor.TorqueConstantNmA
	torque := from.currentA*kt - c.Motor.LossNm
	var sum float64
	for i, weight := range [...]float64{1, 4, 2, 4, 2, 4, 1} {
		speed := from.speedRadS + (to.speedRadS-from.speedRadS)*float64(i)/6
		ratio := speed / from.speedRadS
		a := c.spinUp(s, duty, speed, torque*ratio*ratio)
		if a <= 0 {
			return 0, false
		}
		sum += weight / a
	}
	return (to.speedRadS-from.speedRadS)/18*sum + commandLagS, true
}

// pullOut is the height lost in ending a vertical dive with the disc level: full throttle at the
// given duty is called at a quarter of full rpm, and the sink stops when thrust and drag have
// eaten it. The rotor's speed follows its present equilibrium exponentially, the sink by the
// trapezoid rule, in steps that grow from a third of the rotor's time constant. It returns false
// if the sink does not stop within ten seconds.
func (c *Craft) pullOut(s *supply, duty, weightN, diveMS, fullRadS float64) (float64, bool) {
	mass := weightN / GravityMS2
	kt := c.Motor.TorqueConstantNmA
	inertia := c.InertiaKgM2()
	sink, speed, height := diveMS, fullRadS/4, diveMS*commandLagS
	slope := func(sink, speed float64) (dSink, torqueNm float64) {
		var thrust float64
		thrust, torqueNm = c.Propeller.DescentLoads(speed, math.Max(sink, 0))
		return GravityMS2 - (float64(c.Rotors)*thrust+c.dragN(sink))/mass, torqueNm
	}
	damping := func(speed, torqueNm float64) float64 {
		return (kt*kt/(c.Motor.EffectiveOhm(speed)+duty*duty*s.rotors*s.resistanceOhm) + 2*torqueNm/speed) / inertia
	}
	dSink, torque := slope(sink, speed)
	step := 1 / (3 * damping(speed, torque))
	for t := 0.0; t < 10; t += step {
		rate := damping(speed, torque)
		next := speed + c.spinUp(s, duty, speed, torque)*(1-math.Exp(-rate*step))/rate
		nextSlope, nextTorque := slope(sink+dSink*step, next)
		mean := (dSink + nextSlope) / 2
		if mean >= 0 && math.Abs(next-speed) < settledPart*speed {
			return height, false // at full speed, and still sinking faster
		}
		if sink+mean*step <= 0 {
			return height - sink*sink/mean/2, true
		}
		height += step * (sink + mean*step/2)
		sink += mean * step
		speed, dSink, torque = next, nextSlope, nextTorque
		step = math.Min(1.2*step, math.Max(longestStepS, longestStepPart*t))
	}
	return height, false
}

const (
	longestStepS    = 0.04
	longestStepPart = 0.02 // of the time so far, where the rotor has long settled
	settledPart     = 1e-3 // a rotor whose speed changes by less in a step follows the sink
)
