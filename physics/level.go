package physics

import (
	"math"

	"partsaloft/physics/internal/numeric"
	"partsaloft/physics/rotor"
)

// rotorDragSM is h, the rotors' drag along the disc over thrust and in-plane speed, in s/m (five masses of one 5-inch
// craft in level flight, IMAV: with it 0.81, 1.12, 1.28 of the measured drag at 5, 10, 12.5 m/s, without it 0.29, 0.58,
// 0.72).
const rotorDragSM = 0.011

// tilted is one rotor's thrust and flow in level flight at a speed, where all rotors together give a lift and a forward
// force. The disc tilts so that thrust and the rotors' own drag along it add up to these:
//
//	H = h T V cos alpha,  F = sqrt(lift² + forward²) = sqrt(T² + H²),  alpha = atan(forward/lift) + atan(H/T)
//
// With tau = H/T that is tau sqrt(1 + tau²) = h V (cos beta − tau sin beta), beta the first of the two angles, which
// Newton's method solves, from where the root is 1 + tau²/2. The fuselage's lift is left out.
func (c *Craft) tilted(liftN, forwardN, speedMS float64) (thrustN float64, flow rotor.Flow) {
	force := math.Sqrt(liftN*liftN + forwardN*forwardN)
	cos, sin := liftN/force, forwardN/force
	h := rotorDragSM * c.RotorDragFactor * speedMS
	against := h * sin
	tau := h * cos / (1 + against)
	tau = h * cos / (1 + against + 0.5*tau*tau)
	for range 3 {
		root := math.Sqrt(1 + tau*tau)
		step := (tau*root + tau*against - h*cos) * root / (1 + 2*tau*tau + against*root)
		tau -= step
		if step < tiltStep && step > -tiltStep {
			break
		}
	}
	root := math.Sqrt(1 + tau*tau)
	each, along := force/(root*float64(c.Rotors)), speedMS/root
	return each, rotor.Flow{AxialMS: along * (sin + cos*tau), InplaneMS: along * (cos - sin*tau)}
}

// tiltStep is the step of Newton's method after which the error of tau is under 1e-6: it goes with the square.
const tiltStep = 1e-3

func (c *Craft) dragN(speedMS float64) float64 {
	return 0.5 * c.Propeller.Map.Air.DensityKgM3 * c.DragAreaM2 * speedMS * speedMS
}

// trim is an operating point in flight, ok where a rotor speed gives it.
type trim struct {
	operating
	ok bool
}

// level is the operating point of level flight at a speed with a lift of all rotors together.
func (c *Craft) level(liftN, speedMS float64) (operating, bool) {
	return c.at(c.tilted(liftN, c.dragN(speedMS), speedMS))
}

// largest finds the largest x in [low, high] whose margin is not under 0, given that it falls
// with x. It returns false when the margin is under 0 at low already.
func largest(margin func(float64) float64, low, high, tolerance float64) (float64, bool) {
	fl := margin(low)
	if fl < 0 {
		return low, false
	}
	fh := margin(high)
	if fh >= 0 {
		return high, true
	}
	x, _ := numeric.Root(margin, numeric.Bracket{Low: low, AtLow: fl, High: high, AtHigh: fh}, tolerance)
	return x, true
}

const (
	fastestMS        = 120.0 // no craft of this kind is faster
	highestLoad      = 60.0
	speedToleranceMS = 1e-2
	loadTolerance    = 1e-3
)

// atCap is the voltage margin at the throttle cap of an operating point; one that no rotor speed
// gives lies far under 0.
func (c *Craft) atCap(s *supply, duty float64, o operating, ok bool) float64 {
	if !ok {
		return -s.openV
	}
	return s.marginV(duty, o)
}

// topSpeed is the fastest level flight at full voltage that keeps the limits of pack, cells, board, plug and motor at
// that speed, where props unload; s is the pack at a state of charge, guessMS about that speed. It returns false
// if hover breaks them. What is broken at the guess is sought first, the other only if it is broken there.
func (c *Craft) topSpeed(s *supply, charge, weightN, guessMS float64, hover operating) (float64, bool) {
	var last trim
	var lastMS float64
	at := func(v float64) {
		lastMS = v
		last.operating, last.ok = c.level(weightN, v)
	}
	voltage := func() float64 { return c.atCap(s, 1, last.operating, last.ok) }
	currents := func() float64 {
		d, _ := s.duty(last.operating)
		u := c.uses(s, charge, d, last.operating)
		_, most := c.binding(&u)
		return 1 - most
	}
	last = trim{hover, true}
	byVoltage := upTo{high: fastestMS, atKnown: voltage(), guess: guessMS, steeper: voltageSteeper, tolerance: speedToleranceMS}
	byCurrents := byVoltage
	byCurrents.atKnown, byCurrents.steeper = currents(), currentSteeper
	if byVoltage.atKnown < 0 || byCurrents.atKnown < 0 {
		return 0, false
	}
	at(byVoltage.start())
	first, next, then, thenNext := byVoltage, voltage, byCurrents, currents
	if last.ok && currents() < 0 {
		first, next, then, thenNext = byCurrents, currents, byVoltage, voltage
	}
	v := first.mostFrom(lastMS, next(), func(v float64) float64 {
		at(v)
		return next()
	})
	m := thenNext() // close to v
	if m >= 0 {
		return v, true
	}
	then.high = math.Max(v, lastMS)
	return math.Min(v, then.mostFrom(lastMS, m, func(v float64) float64 {
		at(v)
		return thenNext()
	})), true
}

// turnLoad is the largest load factor of a level turn at a speed and a duty; double is the operating point of a turn
// of load factor 2. Where the duty carries none, it is the duty over the one that level flight at that speed takes,
// under 1. It returns false where no rotor speed carries that.
func (c *Craft) turnLoad(s *supply, duty, weightN, speedMS, highest float64, double trim) (float64, bool) {
	var last trim
	margin := func(n float64) float64 {
		last.operating, last.ok = c.level(n*weightN, speedMS)
		return c.atCap(s, duty, last.operating, last.ok)
	}
	from, held := 2.0, double
	m := c.atCap(s, duty, double.operating, double.ok)
	atDouble := m
	if m < 0 {
		from, m = 1, margin(1)
		held = last
	}
	if m < 0 {
		// A disc that carries more tilts less against the same drag, so that less air meets it from above: close to
		// top speed a turn may be held where level flight is not.
		level := last
		if from, m = easiest(margin, m, atDouble); m < 0 {
			return duty / s.demand(level.operating), level.ok
		}
		held = last
	}
	guess := from
	if m > 0 {
		guess = c.carried(s, duty, held.operating, from, c.dragN(speedMS)/weightN)
	}
	return upTo{low: from, high: math.Max(highest, from), known: from, atKnown: m, guess: guess, steeper: loadSteeper,
		tolerance: loadTolerance}.most(margin), true
}

// carried is about the load factor that a duty carries, from an operating point at another load factor, with the body's
// drag over the weight: a guess within 5 %.
func (c *Craft) carried(s *supply, duty float64, o operating, load, drag float64) float64 {
	r := c.spun(s, duty, o)
	return math.Sqrt(math.Max(r*r*r*r*(load*load+drag*drag)-drag*drag, 1))
}

// loadSteeper is as voltageSteeper, for load factors: margins fall next to straight.
const loadSteeper = 0.49

// easiest seeks a load factor that is held, where 1 and 2 are not, and returns it with its margin; under 0 there is
// none. Margins have one highest place: it is bracketed, then followed by parabolas through three points (successive
// parabolic interpolation, R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5).
func easiest(margin func(float64) float64, atOne, atTwo float64) (load, atLoad float64) {
	x := [...]float64{1, 1.5, 2}
	y := [...]float64{atOne, margin(1.5), atTwo}
	switch {
	case y[2] > y[1]:
		x, y = [...]float64{x[1], x[2], easiestLoad}, [...]float64{y[1], y[2], margin(easiestLoad)}
	case y[0] >= y[1]:
		x, y = [...]float64{x[0], 1.1, x[1]}, [...]float64{y[0], margin(1.1), y[1]}
	}
	for range 8 {
		if y[1] >= 0 || y[2] >= 0 {
			break
		}
		toLow, toHigh := (y[1]-y[0])/(x[1]-x[0]), (y[2]-y[1])/(x[2]-x[1])
		at := (x[0]+x[1])/2 + toLow*(x[2]-x[0])/2/(toLow-toHigh)
		if !(toLow > 0 && toHigh <= 0 && math.Abs(at-x[1]) > easiestTolerance) {
			break
		}
		m := margin(at)
		switch {
		case at > x[1] && m > y[1]:
			x, y = [...]float64{x[1], at, x[2]}, [...]float64{y[1], m, y[2]}
		case at > x[1]:
			x[2], y[2] = at, m
		case m > y[1]:
			x, y = [...]float64{x[0], at, x[1]}, [...]float64{y[0], m, y[1]}
		default:
			x[0], y[0] = at, m
		}
	}
	if y[2] > y[1] {
		return x[2], y[2]
	}
	return x[1], y[1]
}

const (
	easiestLoad      = 3.0 // a load factor beyond which a turn takes more the harder it is
	easiestTolerance = 0.01
)

// forwardAcceleration is what is left in level flight at a speed and a duty: the rotors' upward
// force carries the weight, the rest beats drag.
func (c *Craft) forwardAcceleration(s *supply, duty, weightN, speedMS, highest float64) (float64, bool) {
	drag := c.dragN(speedMS)
	forward, ok := largest(func(forwardN float64) float64 {
		o, ok := c.at(c.tilted(weightN, forwardN, speedMS))
		return c.atCap(s, duty, o, ok)
	}, drag, math.Max(highest*weightN, 2*drag), 1e-3*weightN)
	return (forward - drag) / (weightN / GravityMS2), ok
}
