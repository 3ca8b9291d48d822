package physics

import (
	"math"

	"partsaloft/physics/rotor"
)

// Flight is one flight in a way of flying, from a full pack to landing.
type Flight struct {
	DurationS, UsedAs, MeanA float64
	EndA                     float64 // mean current at landing
	EndCharge                float64 // state of charge at landing, 0 to 1
	LoadedCellV, RestCellV   float64 // of one cell at landing, under the mean current and without
	Ending                   Ending
}

// hover is the operating point of one rotor in hover.
func (c *Craft) hover() operating {
	o, _ := c.at(c.MassKg()*GravityMS2/float64(c.Rotors), rotor.Flow{})
	return o
}

// Fly works out one flight with the throttle held at or under a duty. The reason is Defined, or
// says why there is no such flight.
func (c *Craft) Fly(f *Flying, duty float64) (Flight, Reason) {
	mid := c.supply(midCharge)
	weight := c.MassKg() * GravityMS2
	var l load
	if !c.load(&l, f.Segments, &mid, duty, weight, c.hover()) {
		return Flight{}, SegmentTooHard
	}
	r := c.fly(&l, f)
	if r.durationS <= 0 {
		return Flight{}, SegmentTooHard
	}
	current := c.meanA(&l, r.endCharge)
	return Flight{r.durationS, r.usedAs, r.usedAs / r.durationS, current, r.endCharge,
		c.Pack.cellUnderLoadV(r.endCharge, current), c.Pack.Chemistry.CellV(r.endCharge), r.ending}, Defined
}

// DischargePoint is the pack at one moment of a flight.
type DischargePoint struct {
	TimeS, Charge, LoadedCellV, CurrentA float64
}

// Discharge follows one flight in a number of equal steps of charge.
func (c *Craft) Discharge(f *Flying, duty float64, steps int) ([]DischargePoint, Reason) {
	flight, why := c.Fly(f, duty)
	if why != Defined {
		return nil, why
	}
	mid := c.supply(midCharge)
	var l load
	c.load(&l, f.Segments, &mid, duty, c.MassKg()*GravityMS2, c.hover())
	capacity := c.Pack.CapacityAs * c.Pack.CapacityFactor
	points := make([]DischargePoint, steps+1)
	var elapsed, last float64
	for i := range points {
		charge := 1 - (1-flight.EndCharge)*float64(i)/float64(steps)
		current := c.meanA(&l, charge)
		if i > 0 {
			elapsed += capacity * (1 - flight.EndCharge) / float64(steps) * (1/current + 1/last) / 2
		}
		points[i] = DischargePoint{elapsed, charge, c.Pack.cellUnderLoadV(charge, current), current}
		last = current
	}
	return points, Defined
}

// PunchS is how long full throttle can be held from a full pack at a duty until the loaded cell
// falls to the chemistry's lowest voltage, in seconds; 0 if it falls there at once.
func (c *Craft) PunchS(duty float64) float64 {
	mid := c.supply(midCharge)
	var l load
	c.load(&l, []Segment{{Punch, 1, 0, 1}}, &mid, duty, c.MassKg()*GravityMS2, operating{})
	l.moving[0] = false
	lowest := c.Pack.Chemistry.LowestCellV()
	return c.fly(&l, &Flying{LandingV: lowest, IonV: lowest, Reserve: 0.02}).durationS
}

// SpeedPoint is level flight at one speed, at mid charge.
type SpeedPoint struct {
	SpeedMS, PowerW, CurrentA, Duty, TiltRad float64
	// DurationS is the time in the air at this speed alone; 0 where it cannot be held.
	DurationS float64
}

// SpeedCurve works out level flight at equally spaced speeds from hover to the fastest that a
// duty holds.
func (c *Craft) SpeedCurve(f *Flying, duty float64, steps int) []SpeedPoint {
	mid := c.supply(midCharge)
	weight := c.MassKg() * GravityMS2
	hover := c.hover()
	if mid.marginV(duty, hover) < 0 || steps < 1 {
		return nil
	}
	top := c.topSpeed(&mid, duty, weight, hover)
	var points []SpeedPoint
	for i := range steps + 1 {
		// Just under the top speed, which is known to its tolerance only.
		v := (top - 2*speedToleranceMS) * float64(i) / float64(steps)
		o, ok := c.level(weight, v, 1)
		d, holds := mid.duty(o)
		if !ok || !holds {
			break
		}
		current := mid.currentA(d, o.currentA)
		point := SpeedPoint{v, current * mid.busV(d, o.currentA), current, d, math.Atan2(c.dragN(v), weight), 0}
		one := *f
		one.Segments = []Segment{{Cruise, 1, v, 1}}
		if flight, why := c.Fly(&one, 1); why == Defined {
			point.DurationS = flight.DurationS
		}
		points = append(points, point)
	}
	return points
}

// ThrottlePoint is full static thrust at one duty, on a full pack.
type ThrottlePoint struct {
	Duty, ThrustN, PackA, MotorA, LoadedCellV, SpeedRadS float64
}

// ThrottleCurve works out static thrust and currents at equally spaced duties up to full.
func (c *Craft) ThrottleCurve(steps int) []ThrottlePoint {
	full := c.supply(1)
	points := make([]ThrottlePoint, 0, steps)
	for i := 1; i <= steps; i++ {
		d := float64(i) / float64(steps)
		o := c.fullThrottle(&full, d)
		if !(o.speedRadS > 0) {
			continue
		}
		pack := full.currentA(d, o.currentA)
		points = append(points, ThrottlePoint{d, float64(c.Rotors) * o.thrustN, pack, o.currentA, c.Pack.cellUnderLoadV(1,
			pack), o.speedRadS})
	}
	return points
}
