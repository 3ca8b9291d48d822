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
// eaten it. In each step the rotor's speed follows its present equilibrium exponentially; with the
// loads at the step's end that gives, speed and sink are corrected to the second order (exponential
// time differencing of second order with one evaluation a step: S. M. Cox, P. C. Matthews, Journal
// of Computational Physics 176, 430, 2002, and the trapezoid rule). Steps grow from half of the rotor's
// time constant; heights come out within 3 % of those of fine steps, within 0.7 % at the mean. It
// returns false if the sink does not stop within ten seconds.
func (c *Craft) pullOut(s *supply, duty, weightN, diveMS, fullRadS float64) (float64, bool) {
	perMass := GravityMS2 / weightN
	kt, perInertia := c.Motor.TorqueConstantNmA, 1/c.InertiaKgM2()
	open, sagOhm := duty*(s.openV-s.resistanceOhm*s.electronicsA), duty*duty*s.rotors*s.resistanceOhm
	stillOhm, ohmPerSpeed := c.Motor.EffectiveOhm(0)+sagOhm, c.Motor.resistancePerSpeed()
	fallPerV2, liftPerN := c.dragN(1)*perMass, float64(c.Rotors)*perMass
	// loads are the accelerations by gravity with drag and by thrust, and the torque.
	loads := func(sink, speed float64) (fall, lift, torqueNm float64) {
		if sink < 0 {
			sink = 0
		}
		thrust, torque := c.Propeller.DescentLoads(speed, sink)
		return GravityMS2 - fallPerV2*sink*sink, liftPerN * thrust, torque
	}
	// spin is spinUp, with what current gives of the rate at which the rotor nears its equilibrium.
	spin := func(speed, torqueNm float64) (gain, byCurrent float64) {
		perOhm := kt / (stillOhm + ohmPerSpeed*speed)
		drive := 0.0
		if over := open - kt*speed; over > 0 {
			drive = over * perOhm
		}
		return (drive - c.Motor.LossNm - torqueNm) * perInertia, kt * perOhm * perInertia
	}
	sink, speed, height := diveMS, fullRadS/4, diveMS*commandLagS
	fall, lift, torque := loads(sink, speed)
	dSink := fall - lift
	gain, rate := spin(speed, torque)
	rate += 2 * torque / speed * perInertia
	step := firstStepPart / rate
	for t := 0.0; t < 10; t += step {
		reach := (1 - math.Exp(-rate*step)) / rate // of a gain that fades at the rate
		next := speed + gain*reach
		fall, lift, torque = loads(sink+dSink*step, next)
		nextGain, _ := spin(next, torque)
		correction := (nextGain - gain + rate*gain*reach) * (step - reach) / (rate * step)
		loaded := 1 + correction/next // loads go about with the square of speed
		next += correction
		nextSink := fall - lift*loaded*loaded
		mean := (dSink + nextSink) / 2
		if dSink >= 0 && nextSink >= 0 && math.Abs(next-speed) < settledPart*speed {
			return height, false // at full speed, and still sinking faster
		}
		if sink+mean*step <= 0 { // it stops within the step, in which the slope goes in a straight line
			bend := (nextSink - dSink) / (2 * step)
			in := 2 * sink / (math.Sqrt(math.Max(dSink*dSink-4*bend*sink, 0)) - dSink)
			return height + in*(sink+in*(dSink/2+in*bend/3)), true
		}
		height += step * (sink + step*(2*dSink+nextSink)/6)
		sink += mean * step
		speed, dSink = next, nextSink
		torque *= loaded * loaded
		gain, rate = spin(speed, torque)
		rate += 2 * torque / speed * perInertia
		step = math.Min(1.3*step, math.Max(longestStepS, longestStepPart*t))
	}
	return height, false
}

const (
	firstStepPart   = 0.5 // of the rotor's time constant
	longestStepS    = 0.1
	longestStepPart = 0.04 // of the time so far, where the rotor has long settled
	settledPart     = 1e-3 // a rotor whose speed changes by less in a step follows the sink
)
