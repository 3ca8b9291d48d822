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

// Standard works out what motors, props and cells reach.
func (c *Craft) Standard() Standard {
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
	ref.SpeedMS = fastest(margin, math.Sqrt(dragOverStill*ref.ThrustN/dragPerV2))
	return ref
}

// fastest is the largest speed whose margin is not under 0, given that it falls with speed from over 0 at rest, from
// a guess that may lie on either side: the secant method inside a bracket.
func fastest(margin func(float64) float64, guess float64) float64 {
	low, high := 0.0, fastestMS
	last, lastMargin := 0.0, 0.0
	v := math.Min(guess, fastestMS)
	for i := range 60 {
		m := margin(v)
		if m >= 0 {
			if v >= fastestMS {
				return fastestMS
			}
			low = v
		} else {
			high = v
		}
		next := v * 1.1
		if m < 0 {
			next = v / 1.1
		}
		if i > 0 && (m > lastMargin) == (v < last) && m != lastMargin {
			next = v - m*(v-last)/(m-lastMargin)
		}
		switch {
		case next >= high && high == fastestMS:
			next = math.Min(2*v, fastestMS)
		case !(next > low && next < high):
			next = (low + high) / 2
		}
		if math.Abs(next-v) < speedToleranceMS {
			return next
		}
		last, lastMargin, v = v, m, next
	}
	return v
}

// flown is the speed and the lift of a segment.
func (ref *Standard) flown(g *Segment, weightN float64) (speedMS, liftN float64) {
	speedMS = math.Min(math.Abs(g.SpeedMS+g.SpeedPart*ref.SpeedMS), fastestMS)
	return speedMS, math.Max(g.LoadFactor, 1)*weightN + g.LoadPart*math.Max(ref.ThrustN-weightN, 0)
}
