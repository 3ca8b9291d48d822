package search

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
)

// How a bound comes about. All candidates of a branch share motor, prop, number of rotors, cells,
// chemistry and plug; they differ in the pack's resistance, capacity, rating and mass, and in the
// body's mass, drag, power and ratings. Two crafts stand at the ends of these ranges:
//
//   - the light one has the least mass, drag, power and resistance, the largest capacity and
//     ratings;
//   - the heavy one has the most mass, power and resistance.
//
// Where a figure can only get worse from one of them on, its value there bounds the branch: load
// factor in a turn (which is exactly inverse to mass), throttle in a turn and top speed over drag,
// power and resistance, flying time over all of these, pull-out over mass. The thrust step falls
// with mass, power and resistance, so the heavy craft bounds it; the time constant of response is
// least at one of the two masses, for the motor's damping kt²/Re + 2Q/Omega is convex in speed.
//
// Mass is not worse for every figure. A heavier craft tilts less against the same drag, so that
// less air meets the disc from above; with thrust falling in a straight line over axial speed,
// level flight gives
//
//	d ln v/d ln m ≤ cos² a/(1 + 2 cos² a) ≤ 1/3          top speed
//	d ln Omega/d ln m ≥ −cos² a (r − 1)/(r + 2)          speed in a turn, r = T0/T − 1
//
// (a the tilt, T0 the thrust at that speed standing still). The elasticities below leave room over
// what a thousand random crafts show, and the bounds are held against plain enumeration in tests.
const (
	topSpeedOverMass     = 0.35
	turnThrottleOverMass = 0.15
	timeOverMass         = 0.05
	responseOverMass     = 0.5
	pullOutOverDrag      = 1.1
	stepOverMass         = 2.5
	stepOverOhm          = 1.0

	// boundSlack is what the solvers' tolerances may be off, pullOutSlack the same for the steps of
	// the pull-out.
	boundSlack   = 0.002
	pullOutSlack = 0.03
	// limitSlack widens current limits where resistances differ: a cap found on a full pack leaves
	// a pack that sags more somewhat more at half charge.
	limitSlack = 1.35
	// tightRange is the ratio of ranges under which the heavy craft adds little to the light one.
	tightRange = 1.01
)

// branch is what is left to decide: some packs and some bodies for a motor and a prop.
type branch struct {
	motor, prop int32
	packs       *packRanges
	bodies      *bodyRanges
}

// bound is the best that a branch can hold: no candidate in it has an axis or a score over these.
type bound struct {
	axes  objective.Axes
	score float64
	none  bool // no candidate in it is feasible
}

// bound bounds a branch that would have to reach bar, or to lead the front, to matter; it stops
// refining once that is ruled out.
func (s *Space) bound(b *branch, matters func(*bound) bool) bound {
	style := &s.problem.Style
	light := s.corner(b, true)
	p := light.Evaluate(&s.gentle)
	mass := (light.MassKg() + b.packs.massKg.high - b.packs.massKg.low + b.bodies.massKg.high - b.bodies.massKg.low) / light.MassKg()
	x := optimist{p: &p, mass: mass, drag: b.bodies.dragM2.high / b.bodies.dragM2.low, ohm: ohmRatio(b)}
	if x.infeasible(style, b) {
		return bound{none: true}
	}
	first := x.bound(style, nil)
	if mass < tightRange && x.ohm < tightRange || !matters(&first) {
		return first
	}
	heavy := s.corner(b, false)
	h := heavy.Evaluate(&s.gentle)
	return x.bound(style, &h)
}

func ohmRatio(b *branch) float64 {
	low := b.packs.internalOhm.low + b.packs.leadOhm.low + b.bodies.plugOhm.low
	return (b.packs.internalOhm.high + b.packs.leadOhm.high + b.bodies.plugOhm.high) / low
}

// corner is the light or the heavy craft of a branch.
func (s *Space) corner(b *branch, light bool) physics.Craft {
	k, f := b.packs, b.bodies
	limits := 1.0
	if ohmRatio(b) > 1 {
		limits = limitSlack
	}
	end := func(r span) float64 {
		if light {
			return r.low
		}
		return r.high
	}
	c := physics.Craft{
		Rotors: f.rotors, Propeller: *s.si.propellers[b.prop], Motor: s.si.motors[b.motor], Pack: s.si.packs[k.first],
		Board:   physics.Board{ContinuousA: f.burstA.high, BurstA: f.burstA.high * limits},
		FrameKg: end(f.massKg), DragAreaM2: f.dragM2.low, ElectronicsW: end(f.watts), FlyingFactor: f.flying.low,
	}
	c.Propeller.PowerFactor *= s.si.powers[b.motor]
	if !math.IsInf(f.peakA.high, 1) {
		c.Connector.PeakA = f.peakA.high * limits
	}
	c.Motor.MaxCurrentA *= limits
	c.Pack.InternalOhm = end(k.internalOhm)
	c.Pack.LeadOhm = end(k.leadOhm) + end(f.plugOhm)
	c.Pack.MassKg = end(k.massKg)
	c.Pack.CapacityAs, c.Pack.SafeCurrentA = k.capacityAs.high, k.safeA.high*limits
	return c
}

// optimist turns the light craft's performance, and the heavy one's if there is one, into the best
// that a branch can hold; mass, drag and ohm are the ratios of the ends of its ranges.
type optimist struct {
	p               *physics.Performance
	mass, drag, ohm float64
}

// infeasible says whether every candidate of the branch breaks a rule for certain.
func (x *optimist) infeasible(style *objective.Style, b *branch) bool {
	if d, why := x.p.Get(physics.HoverThrottle); why != physics.Defined || d > 0.9*(1+boundSlack) {
		return true
	}
	limits := style.Effective()
	for i := range limits {
		l := &limits[i]
		f := objective.FigureOf(l.Quantity)
		low, high := f.ToSI(l.Range.Low), f.ToSI(l.Range.High)
		value, why := x.p.Get(l.Quantity)
		switch l.Quantity {
		case physics.AllUpMass:
			if value > high*(1+1e-9) || value*x.mass < low*(1-1e-9) {
				return true
			}
		case physics.ThrustToWeight:
			if value < low*(1-boundSlack) {
				return true
			}
		case physics.ThrottleCap:
			if x.ohm <= 1 && value < low*0.97 {
				return true
			}
		case physics.HoverThrottle:
			if value > high*(1+boundSlack) {
				return true
			}
		case physics.StyleTime:
			if why == physics.Defined && value*math.Pow(x.mass, timeOverMass)*(1+boundSlack) < low {
				return true
			}
		case physics.TopSpeed:
			if why == physics.Defined && value*math.Pow(x.mass, topSpeedOverMass)*(1+boundSlack) < low {
				return true
			}
		}
	}
	return false
}

// bound puts the figures together; heavy is nil if the heavy craft was not looked at.
func (x *optimist) bound(style *objective.Style, heavy *physics.Performance) bound {
	var d [objective.FeedCount]float64
	for i := range d {
		feed := objective.FeedOf(i)
		si, known := x.best(feed.Quantity, heavy)
		if !known {
			d[i] = 1
			continue
		}
		d[i] = feed.Desirability(si)
	}
	b := bound{axes: objective.AxesFrom(&d)}
	b.score = style.Weights.Score(&b.axes) * (1 + 1e-12)
	return b
}

// best is the best value of a quantity in the branch; false if nothing bounds it.
func (x *optimist) best(q physics.Quantity, heavy *physics.Performance) (float64, bool) {
	value, why := x.p.Get(q)
	known := why == physics.Defined
	power := func(elasticity float64) float64 { return math.Pow(x.mass, elasticity) }
	switch q {
	case physics.TurnThrottle:
		if !known {
			value = 1 // full throttle does not do it
		}
		return value / power(turnThrottleOverMass) * (1 - boundSlack), true
	case physics.TurnLoadFactor:
		switch {
		case known:
			return value * (1 + boundSlack), true
		case heavy == nil && x.mass >= tightRange:
			return 0, false
		}
		// A load factor that the light craft lacks, the heavy one may have.
		n := 1.0
		if heavy != nil {
			if m, why := heavy.Get(q); why == physics.Defined {
				n = m
			}
		}
		return n * x.mass * (1 + boundSlack), true
	case physics.PullOut:
		return value / math.Pow(x.drag, pullOutOverDrag) * (1 - pullOutSlack), known
	case physics.StyleTime:
		return value * power(timeOverMass) * (1 + boundSlack), known
	case physics.TopSpeed:
		if !known {
			return 0, false
		}
		return value * power(topSpeedOverMass) * (1 + boundSlack), true
	case physics.Response:
		if heavy == nil {
			return value / power(responseOverMass) * (1 - boundSlack), known
		}
		other, why := heavy.Get(q)
		if why != physics.Defined {
			return value / power(responseOverMass) * (1 - boundSlack), known
		}
		return math.Min(value, other) * (1 - boundSlack), known
	case physics.ThrustStep:
		if heavy != nil {
			other, why := heavy.Get(q)
			return other * (1 - boundSlack), why == physics.Defined
		}
		return value / power(stepOverMass) / math.Pow(x.ohm, stepOverOhm) * (1 - boundSlack), known
	}
	return 0, false
}

// gentleFlying is a way of flying with its punches left out: they take more than the rest, the
// more the higher the throttle cap, so that without them every candidate flies longer.
func gentleFlying(f *physics.Flying) physics.Flying {
	gentle := *f
	gentle.Segments = nil
	var share float64
	for _, g := range f.Segments {
		if g.Kind != physics.Punch {
			gentle.Segments = append(gentle.Segments, g)
			share += g.Share
		}
	}
	if gentle.Segments == nil {
		gentle.Segments = f.Segments
		return gentle
	}
	for i := range gentle.Segments {
		gentle.Segments[i].Share /= share
	}
	return gentle
}
