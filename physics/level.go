package physics

import (
	"math"

	"partsaloft/physics/internal/numeric"
	"partsaloft/physics/rotor"
)

// needs is one rotor's thrust and flow in level flight at a speed with a load factor: thrust
// carries load factor times weight and drag, the disc tilts into the wind by as much.
//
//	T = sqrt((n W)² + D²),  sin alpha = D/T,  D = ½ rho CdA V²
//
// The rotors' own drag along the disc and the fuselage's lift are left out.
func (c *Craft) needs(weightN, speedMS, loadFactor float64) (thrustN float64, flow rotor.Flow) {
	drag := c.dragN(speedMS)
	up := loadFactor * weightN
	total := math.Hypot(up, drag)
	return total / float64(c.Rotors), rotor.Flow{AxialMS: speedMS * drag / total, InplaneMS: speedMS * up / total}
}

func (c *Craft) dragN(speedMS float64) float64 {
	return 0.5 * c.Propeller.Map.Air.DensityKgM3 * c.DragAreaM2 * speedMS * speedMS
}

// level is the operating point of level flight.
func (c *Craft) level(weightN, speedMS, loadFactor float64) (operating, bool) {
	thrust, flow := c.needs(weightN, speedMS, loadFactor)
	return c.at(thrust, flow)
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
	x, _ := numeric.Root(margin, low, fl, high, fh, tolerance)
	return x, true
}

const (
	fastestMS        = 120.0 // no craft of this kind is faster
	highestLoad      = 60.0
	slowStartMS      = 15.0
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

// topSpeed is the fastest level flight at a duty that carries hover.
func (c *Craft) topSpeed(s *supply, duty, weightN float64, hover operating) float64 {
	margin := func(v float64) float64 {
		o, ok := c.level(weightN, v, 1)
		return c.atCap(s, duty, o, ok)
	}
	still := s.marginV(duty, hover)
	// What the margin loses goes about with the speed, or faster: go on to where it would be gone.
	low, lowMargin := 0.0, still
	high := slowStartMS
	highMargin := margin(high)
	for highMargin > 0 && high < fastestMS {
		low, lowMargin = high, highMargin
		high = math.Min(high*numeric.Clamp(1.05*still/math.Max(still-highMargin, 1e-9), 1.15, 2), fastestMS)
		highMargin = margin(high)
	}
	if highMargin > 0 {
		return fastestMS
	}
	v, _ := numeric.Root(margin, low, lowMargin, high, highMargin, speedToleranceMS)
	return v
}

// turnLoad is the largest load factor of a level turn at a speed and a duty.
func (c *Craft) turnLoad(s *supply, duty, weightN, speedMS, highest float64) (float64, bool) {
	return largest(func(n float64) float64 {
		o, ok := c.level(weightN, speedMS, n)
		return c.atCap(s, duty, o, ok)
	}, 1, highest, 1e-3)
}

// forwardAcceleration is what is left in level flight at a speed and a duty: the thrust's upward
// part carries the weight, the rest beats drag.
func (c *Craft) forwardAcceleration(s *supply, duty, weightN, speedMS, highest float64) (float64, bool) {
	drag := c.dragN(speedMS)
	thrust, ok := largest(func(total float64) float64 {
		forward := math.Sqrt(math.Max(total*total-weightN*weightN, 0))
		flow := rotor.Flow{AxialMS: speedMS * forward / total, InplaneMS: speedMS * weightN / total}
		o, ok := c.at(total/float64(c.Rotors), flow)
		return c.atCap(s, duty, o, ok)
	}, math.Hypot(weightN, drag), highest*weightN, 1e-3*weightN)
	if !ok {
		return 0, false
	}
	return (math.Sqrt(math.Max(thrust*thrust-weightN*weightN, 0)) - drag) / (weightN / GravityMS2), true
}
