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
// if hover breaks them.
func (c *Craft) topSpeed(s *supply, charge, weightN, guessMS float64, hover operating) (float64, bool) {
	excess := func(o operating) float64 {
		d, _ := s.duty(o)
		u := c.uses(s, charge, d, o)
		_, most := c.binding(&u)
		return most - 1
	}
	atRest, still := s.marginV(1, hover), excess(hover)
	if atRest < 0 || still > 0 {
		return 0, false
	}
	var last operating
	v := upTo{high: fastestMS, atKnown: atRest, guess: guessMS, tolerance: speedToleranceMS}.most(func(v float64) float64 {
		var ok bool
		last, ok = c.level(weightN, v)
		return c.atCap(s, 1, last, ok)
	})
	over := excess(last) // next to v
	if over <= 0 {
		return v, true
	}
	// Currents go about with the square of speed over those of hover.
	return upTo{high: v, known: v, atKnown: -over, guess: v * math.Sqrt(math.Max(still/(still-over), 0.1)),
		tolerance: speedToleranceMS}.most(func(v float64) float64 {
		o, _ := c.level(weightN, v)
		return -excess(o)
	}), true
}

// turnLoad is the largest load factor of a level turn at a speed and a duty; double is the operating point of a turn
// of load factor 2. Where the duty carries none, it is the duty over the one that level flight at that speed takes,
// under 1. It returns false where no rotor speed carries that.
func (c *Craft) turnLoad(s *supply, duty, weightN, speedMS, highest float64, double trim) (float64, bool) {
	margin := func(n float64) float64 {
		o, ok := c.level(n*weightN, speedMS)
		return c.atCap(s, duty, o, ok)
	}
	from := upTo{low: 2, high: highest, known: 2, atKnown: c.atCap(s, duty, double.operating, double.ok), guess: heldStill * highest,
		tolerance: loadTolerance}
	if from.atKnown < 0 {
		from.low, from.known, from.atKnown = 1, 1, margin(1)
	}
	if from.atKnown >= 0 {
		return from.most(margin), true
	}
	// A disc that carries more tilts less against the same drag, so that less air meets it from above: close to top
	// speed a turn may be held where level flight is not.
	if easiest := numeric.Highest(margin, 1, easiestLoad, loadTolerance); margin(easiest) >= 0 {
		return largest(margin, easiest, math.Max(highest, easiest), loadTolerance)
	}
	o, ok := c.level(weightN, speedMS)
	return duty / s.demand(o), ok
}

// heldStill is about the load factor of a turn over the highest that is sought, 1.5 times static thrust over weight: a
// guess to start from.
const heldStill = 0.6

// easiestLoad is a load factor beyond which a turn takes more the harder it is.
const easiestLoad = 3.0

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
