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

// Fly works out one flight. The reason is Defined, or says why there is no such flight: the craft cannot hover at half
// charge, or its cells are at the landing voltage at once.
func (c *Craft) Fly(f *Flying) (Flight, Reason) {
	var l load
	r, why := c.flyInto(&l, f)
	if why != Defined {
		return Flight{}, why
	}
	current := c.meanA(&l, r.endCharge)
	return Flight{r.durationS, r.usedAs, r.usedAs / r.durationS, current, r.endCharge,
		c.Pack.cellUnderLoadV(r.endCharge, current), c.Pack.Chemistry.CellV(r.endCharge), r.ending}, Defined
}

func (c *Craft) flyInto(l *load, f *Flying) (flight, Reason) {
	from := still{mid: c.supply(midCharge), weightN: c.MassKg() * GravityMS2}
	var ok bool
	from.hover, ok = c.at(from.weightN/float64(c.Rotors), rotor.Flow{})
	if !ok || from.mid.marginV(1, from.hover) < 0 {
		return flight{}, CannotHover
	}
	c.load(l, f.Segments, f.unsteadiness(), &from)
	r := c.fly(l, f)
	if r.durationS <= 0 {
		return r, CellsCollapse
	}
	return r, Defined
}

// DischargePoint is the pack at one moment of a flight.
type DischargePoint struct {
	TimeS, Charge, LoadedCellV, CurrentA float64
}

// Discharge follows one flight in a number of equal steps of charge.
func (c *Craft) Discharge(f *Flying, steps int) ([]DischargePoint, Reason) {
	var l load
	flight, why := c.flyInto(&l, f)
	if why != Defined {
		return nil, why
	}
	capacity := c.Pack.CapacityAs * c.Pack.CapacityFactor
	points := make([]DischargePoint, steps+1)
	var elapsed, last float64
	for i := range points {
		charge := 1 - (1-flight.endCharge)*float64(i)/float64(steps)
		current := c.meanA(&l, charge)
		if i > 0 {
			elapsed += capacity * (1 - flight.endCharge) / float64(steps) * (1/current + 1/last) / 2
		}
		points[i] = DischargePoint{elapsed, charge, c.Pack.cellUnderLoadV(charge, current), current}
		last = current
	}
	return points, Defined
}

// PunchS is how long full throttle can be held from a full pack at a duty until the loaded cell
// falls to the chemistry's lowest voltage, in seconds; 0 if it falls there at once.
func (c *Craft) PunchS(duty float64) float64 {
	const emptied = 0.02
	return c.discharge(func(charge float64) float64 {
		s := c.supply(charge)
		return s.currentA(duty, c.fullThrottle(&s, duty).currentA)
	}, emptied, c.Pack.Chemistry.LowestCellV(), false).durationS
}

// SpeedPoint is level flight at one speed, at mid charge.
type SpeedPoint struct {
	SpeedMS, PowerW, CurrentA, Duty, TiltRad float64
	// DurationS is the time in the air at this speed alone; 0 where it cannot be held.
	DurationS float64
}

// SpeedCurve works out level flight at equally spaced speeds from hover to the fastest at half charge. It is empty if
// the craft cannot hover, or hover breaks a limit.
func (c *Craft) SpeedCurve(f *Flying, steps int) []SpeedPoint {
	mid := c.supply(midCharge)
	weight := c.MassKg() * GravityMS2
	hover, ok := c.at(weight/float64(c.Rotors), rotor.Flow{})
	if !ok || steps < 1 {
		return nil
	}
	top, ok := c.topSpeed(&mid, midCharge, weight, 3*weight, hover)
	if !ok {
		return nil
	}
	var points []SpeedPoint
	for i := range steps + 1 {
		// Just under the top speed, which is known to its tolerance only.
		v := (top - 2*speedToleranceMS) * float64(i) / float64(steps)
		_, flow := c.tilted(weight, c.dragN(v), v)
		o, ok := c.level(weight, v)
		d, holds := mid.duty(o)
		if !ok || !holds {
			break
		}
		current := mid.currentA(d, o.currentA)
		point := SpeedPoint{v, current * mid.busV(d, o.currentA), current, d, math.Atan2(flow.AxialMS, flow.InplaneMS), 0}
		one := *f
		one.Segments = []Segment{{Kind: Cruise, Share: 1, SpeedMS: v, LoadFactor: 1}}
		if flight, why := c.Fly(&one); why == Defined {
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
