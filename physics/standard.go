package physics

import (
	"math"
)

// Standard is what a craft's motors, props and number of cells reach on a body and a pack that are the same for all:
// drag as is usual for the prop's size, a pack that holds 3.8 V a cell under any current, no limit, a weight of a
// quarter of the static thrust. Ways of flying are measured by it, because it is one value for all crafts with the same
// motors, props and cells: fractions of a craft's own top speed and throttle cap would let a weaker ESC, a worn pack,
// more mass or more drag lengthen a flight.
type Standard struct {
	SpeedMS float64 // V_ref, the fastest level flight
	ThrustN float64 // T_ref, the largest static thrust of all rotors
	full    operating
}

const (
	standardCellV = 3.8
	// standardThrustToWeight is the thrust-to-weight ratio at which V_ref is taken (judgement: with 2.5, 8 and 50 timed
	// flights are met as well, to a point of per cent).
	standardThrustToWeight = 4.0
	// dragOverStill is about what the body drags at top speed over static thrust: a guess to start from.
	dragOverStill = 0.42
)

// Standard is what motors, props and cells reach: Craft.Known where that is there, else worked out.
func (c *Craft) Standard() Standard {
	if c.Known != nil {
		return *c.Known
	}
	s := supply{openV: standardCellV * float64(c.Pack.Cells), rotors: float64(c.Rotors)}
	full := c.fullThrottle(&s, 1)
	ref := Standard{ThrustN: float64(c.Rotors) * full.thrustN, full: full}
	weightN := ref.ThrustN / standardThrustToWeight
	dragPerV2 := 0.5 * c.Propeller.Map.Air.DensityKgM3 * dragAreaPerM * c.Propeller.DiameterM
	margin := func(v float64) float64 {
		thrust, flow := c.tilted(weightN, dragPerV2*v*v, v)
		o, ok := c.at(thrust, flow)
		return c.atCap(&s, 1, o, ok)
	}
	ref.SpeedMS = upTo{high: fastestMS, atKnown: margin(0), guess: math.Sqrt(dragOverStill * ref.ThrustN / dragPerV2),
		steeper: voltageSteeper, tolerance: speedToleranceMS}.most(margin)
	return ref
}

// upTo is where to seek the largest argument whose margin is not under 0: a margin that falls between low and high,
// known at one of the two, and a guess that may lie on either side of what is sought. The first step from there takes
// the margin to fall with a square from what is known, as powers and currents do, and then so much more steeply; the
// secant method takes over.
type upTo struct {
	low, high, known, atKnown, guess, steeper, tolerance float64
}

// How much more steeply margins fall at top speed than a square from rest would, the medians over some 700 crafts of
// all sizes: of voltage (0.93 to 1.6 in eight of ten), and of currents, which go with the power of 3.8.
const (
	voltageSteeper = 1.1
	currentSteeper = 1.9
)

// bending is a bound of |f″/2f′| times the argument for the margins sought here, by which the secant method's error is
// known from its last two: what is left is bending times their product over the argument.
const bending = 2.0

// start is the guess, held in the bracket.
func (u *upTo) start() float64 { return math.Max(math.Min(u.guess, u.high), u.low+u.tolerance) }

// most is the largest argument whose margin is not under 0: the secant method inside a bracket.
func (u upTo) most(margin func(float64) float64) float64 {
	x := u.start()
	return u.mostFrom(x, margin(x), margin)
}

// mostFrom is most where the margin at the start is known.
func (u *upTo) mostFrom(x, m float64, margin func(float64) float64) float64 {
	low, high := u.low, u.high
	last, lastMargin := u.known, u.atKnown
	for i := range 60 {
		if m >= 0 {
			if x >= u.high {
				return u.high
			}
			low = x
		} else {
			high = x
		}
		slope := (m - lastMargin) / (x - last)
		next := x - m/slope
		if i == 0 && u.known == u.low {
			next = x + (x-last)*(math.Sqrt(lastMargin/(lastMargin-m))-1)/u.steeper
		}
		left := math.Abs(next - x)
		switch {
		case !(slope < 0) || next >= high && high == u.high:
			next = (low + math.Min(2*x, high)) / 2
			left = math.Abs(next - x)
			if m >= 0 {
				next, left = math.Min(2*x, u.high), math.Inf(1)
			}
		case !(next > low && next < high):
			next = (low + high) / 2
			left = math.Abs(next - x)
		case i > 0 && math.Abs(m) < 0.2*math.Abs(lastMargin):
			left *= math.Min(bending*math.Abs(next-last)/x, 1)
		}
		if left < u.tolerance {
			return next
		}
		last, lastMargin, x = x, m, next
		m = margin(x)
	}
	return x
}

// flown is the speed and the lift of a segment.
func (ref *Standard) flown(g *Segment, weightN float64) (speedMS, liftN float64) {
	speedMS = math.Min(math.Abs(g.SpeedMS+g.SpeedPart*ref.SpeedMS), fastestMS)
	return speedMS, math.Max(g.LoadFactor, 1)*weightN + g.LoadPart*math.Max(ref.ThrustN-weightN, 0)
}
