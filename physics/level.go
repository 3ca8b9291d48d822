package physics

import "math"

// needs is one rotor's thrust and flow in level flight at a speed with a load factor: thrust
// carries load factor times weight and drag, the disc tilts into the wind by as much.
//
//	T = sqrt((n W)² + D²),  sin alpha = D/T,  D = ½ rho CdA V²
//
// The rotors' own drag along the disc and the fuselage's lift are left out.
func (c *Craft) needs(weightN, speedMS, loadFactor float64) (thrustN float64, flow Flow) {
	drag := c.dragN(speedMS)
	up := loadFactor * weightN
	total := math.Hypot(up, drag)
	return total / float64(c.Rotors), Flow{speedMS * drag / total, speedMS * up / total}
}

func (c *Craft) dragN(speedMS float64) float64 {
	return 0.5 * c.Propeller.Surface.Air.DensityKgM3 * c.DragAreaM2 * speedMS * speedMS
}

// level is the operating point of level flight.
func (c *Craft) level(weightN, speedMS, loadFactor, guessRadS float64) (operating, bool) {
	thrust, flow := c.needs(weightN, speedMS, loadFactor)
	return c.at(thrust, flow, guessRadS)
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
	x, _ := root(margin, low, fl, high, fh, tolerance)
	return x, true
}

const (
	fastestMS        = 120.0 // no craft of this kind is faster
	highestLoad      = 60.0
	speedToleranceMS = 1e-2
)

// atCap is the voltage margin at the throttle cap of an operating point; one that no rotor speed
// gives lies far under 0.
func (c *Craft) atCap(s *supply, duty float64, o operating, ok bool) float64 {
	if !ok {
		return -s.openV
	}
	return s.marginV(duty, o)
}

// topSpeed is the fastest level flight at a duty.
func (c *Craft) topSpeed(s *supply, duty, weightN, guessRadS float64) (float64, bool) {
	last := guessRadS
	margin := func(v float64) float64 {
		o, ok := c.level(weightN, v, 1, last)
		if ok {
			last = o.speedRadS
		}
		return c.atCap(s, duty, o, ok)
	}
	// Double from a slow flight until the margin is gone.
	low, high := 4.0, 16.0
	for high < fastestMS && margin(high) > 0 {
		low, high = high, 1.6*high
	}
	return largest(margin, low, high, speedToleranceMS)
}

// turnLoad is the largest load factor of a level turn at a speed and a duty.
func (c *Craft) turnLoad(s *supply, duty, weightN, speedMS, highest, guessRadS float64) (float64, bool) {
	last := guessRadS
	return largest(func(n float64) float64 {
		o, ok := c.level(weightN, speedMS, n, last)
		if ok {
			last = o.speedRadS
		}
		return c.atCap(s, duty, o, ok)
	}, 1, highest, 1e-3)
}

// forwardAcceleration is what is left in level flight at a speed and a duty: the thrust's upward
// part carries the weight, the rest beats drag.
func (c *Craft) forwardAcceleration(s *supply, duty, weightN, speedMS, highest, guessRadS float64) (float64, bool) {
	last := guessRadS
	drag := c.dragN(speedMS)
	thrust, ok := largest(func(total float64) float64 {
		forward := math.Sqrt(math.Max(total*total-weightN*weightN, 0))
		flow := Flow{speedMS * forward / total, speedMS * weightN / total}
		o, ok := c.at(total/float64(c.Rotors), flow, last)
		if ok {
			last = o.speedRadS
		}
		return c.atCap(s, duty, o, ok)
	}, math.Hypot(weightN, drag), highest*weightN, 1e-3*weightN)
	if !ok {
		return 0, false
	}
	return (math.Sqrt(math.Max(thrust*thrust-weightN*weightN, 0)) - drag) / (weightN / GravityMS2), true
}
