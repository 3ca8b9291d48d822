package solve

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// relaxation is the relaxation of a branch: it turns the performances of the crafts at the ends of a branch into the
// best that it can hold; mass and ohm are the ratios of the ends of its ranges. Heavy is nil if it was not looked at.
type relaxation struct {
	of           *bounder
	branch       *branch
	known        *bound               // no worse
	light, heavy *physics.Performance // the light one with the broad one's pull-out
	lightKg      float64
	poor         *physics.Performance              // nil if it was not looked at
	desirable    [objective.CriterionCount]float64 // at most, of each criterion; as known before it is settled
	// place is where each figure stands on its scale, 0 the worst and 1 the best end, which it may be beyond; infinite where
	// it is not known.
	place      [objective.CriterionCount]float64
	mass, ohm  float64
	turnRise   float64 // see bounder.turnThrottleRise
	motorMeanA float64 // what the motor bears all along; infinite if that is not known
	spareA     float64 // see bounder.spareA
}

// logScale is the scale of a criterion whose desirability is a straight line over the figure's logarithm: place
// (ln y − worst) slope, y in SI units. Slope is 0 of one that is none.
type logScale struct {
	worst, slope float64
	least        float64 // desirability at the worst end and beyond
}

// logScales are those of the criteria.
func logScales() [objective.CriterionCount]logScale {
	var scales [objective.CriterionCount]logScale
	for i := range scales {
		c := objective.CriterionOf(i)
		l := &scales[i]
		if c.Scale.Log && (c.Scale.Exponent == 0 || c.Scale.Exponent == 1) {
			f := c.Figure()
			worst, best := f.ToSI(c.Scale.Worst), f.ToSI(c.Scale.Best)
			l.worst, l.slope, l.least = math.Log(worst), 1/math.Log(best/worst), c.Desirability(worst)
		}
	}
	return scales
}

// desirability at a place.
func (l *logScale) desirability(place float64) float64 { return max(l.least, min(place, 1)) }

// infeasible reports whether every candidate of the branch breaks a rule for certain.
func (x *relaxation) infeasible() bool {
	if d, why := x.light.Get(figure.HoverThrottle); why != physics.Defined || d > 0.9*(1+boundSlack) {
		return true
	}
	bodies := x.branch.bodies
	return (!bodies.open || x.breaks(x.of.limits[0])) && (!bodies.ducted || x.breaks(x.of.limits[1]))
}

// breaks reports whether every candidate of the branch breaks one of some limits for certain.
func (x *relaxation) breaks(limits []objective.Limit) bool {
	for i := range limits {
		l := &limits[i]
		if !ofParts(l.Quantity) && apart(x.outer(l.Quantity), l) {
			return true
		}
	}
	return false
}

// tooFast reports whether the electrical speed of a craft, where it is known, is over the style's limit: that of every
// candidate is, if the heavy craft's is, whose pack sags most.
func (x *relaxation) tooFast(p *physics.Performance) bool {
	speed, _ := p.Get(figure.ElectricalSpeed)
	for i, there := range [...]bool{x.branch.bodies.open, x.branch.bodies.ducted} {
		for _, l := range x.of.limits[i] {
			if there && l.Quantity == figure.ElectricalSpeed &&
				l.Quantity.FromSI(speed) <= l.Range.High*(1+boundSlack) {
				return false
			}
		}
	}
	return true
}

// overdrawn reports whether the steady segments take more on average than the continuous ratings of every
// board or plug of the branch: the light craft's currents are the least, less what mass may save.
func (x *relaxation) overdrawn(b *branch) bool {
	const room = 1 + boundSlack
	return x.light.SteadyMotorA > min(b.bodies.boardA, x.motorMeanA)*room || x.light.SteadyPackA > b.bodies.plugA*room
}

// begin takes every figure to be as good as is known.
func (x *relaxation) begin() bound {
	x.desirable = x.known.desirable
	for i := range x.place {
		x.place[i] = math.Inf(1)
	}
	return *x.known
}

// settle takes figures in that are worked out.
func (x *relaxation) settle(asked figure.Set) {
	for i := range x.desirable {
		criterion := objective.CriterionOf(i)
		if !asked.Has(1 << criterion.Quantity) {
			continue
		}
		si, known := x.best(criterion.Quantity)
		if !known {
			continue
		}
		l := &x.of.scales[i]
		if l.slope == 0 || si <= 0 {
			x.desirable[i] = min(x.desirable[i], criterion.Desirability(si))
			continue
		}
		x.place[i] = (math.Log(si) - l.worst) * l.slope
		x.desirable[i] = min(x.desirable[i], l.desirability(x.place[i]))
	}
}

// rounding is what a score of bounds may be off by rounding alone.
const rounding = 1e-12

// bound puts the figures together.
func (x *relaxation) bound() bound {
	b := bound{desirable: x.desirable, axes: objective.AxesFrom(&x.desirable), within: x.known.within}
	b.score = min(x.known.score, x.of.space.Problem.Style.Weights.Score(&b.axes)*(1+rounding))
	return b
}

// massPieces is into how many pieces of equal ratio a range of masses is cut at most, massPiece about how long one is.
const (
	massPieces = 8
	massPiece  = 0.05
)

// coupled lowers a bound by what figures have in common: no craft has at once the load factor of the
// lightest, the thrust step of the heaviest and the capacity of the heaviest pack. The range of masses is cut into
// pieces, the axes of each bounded by what mass does at least to each figure; the best score of them bounds the branch.
func (x *relaxation) coupled(b bound) bound {
	long := math.Log(x.mass)
	n := min(int(math.Ceil(long/massPiece)), massPieces)
	if n < 2 {
		return b
	}
	best := 0.0
	for piece := range n {
		from, to := long*float64(piece)/float64(n), long*float64(piece+1)/float64(n)
		desirable := x.desirable
		for i := range desirable {
			if l := &x.of.scales[i]; l.slope != 0 && !math.IsInf(x.place[i], 0) {
				worse := x.worse(objective.CriterionOf(i).Quantity, from, to, long)
				desirable[i] = min(desirable[i], l.desirability(x.place[i]-worse*math.Abs(l.slope)))
			}
		}
		b.pieces[piece] = objective.AxesFrom(&desirable)
		best = max(best, x.of.space.Problem.Style.Weights.Score(&b.pieces[piece]))
	}
	b.cut = n
	b.score = min(b.score, best*(1+rounding))
	return b
}

// worse is by how much a figure's logarithm is worse at least than its best in the branch, for masses whose logarithms
// lie from and to over the light craft's, of a branch that is so long.
func (x *relaxation) worse(q figure.Quantity, from, to, long float64) float64 {
	switch q {
	case figure.TurnLoadFactor: // the lift is the same for all masses, while a turn is one
		if n, why := x.light.Get(q); why == physics.Defined && n >= 1 {
			return min(from, math.Log(n))
		}
	case figure.PullOut:
		return pullOutOverMass * from
	case figure.TurnThrottle:
		if x.turnRise < 0 {
			return -x.turnRise * (long - to)
		}
		return x.turnRise * from
	case figure.ThrustStep:
		if x.heavy != nil {
			return leastStepOverMass * (long - to)
		}
		return stepOverMass * (long - to)
	case figure.StyleTime:
		packs := x.branch.packs
		return packs.lnCapacityUpTo(packs.massKg.high) - packs.lnCapacityUpTo(packs.massKg.low+x.lightKg*math.Expm1(to))
	}
	return 0
}

// best is the best value of a quantity in the branch; false if nothing bounds it.
func (x *relaxation) best(q figure.Quantity) (float64, bool) {
	value, why := x.light.Get(q)
	known := why == physics.Defined
	power := func(elasticity float64) float64 { return math.Pow(x.mass, elasticity) }
	switch q {
	case figure.TurnThrottle:
		if !known { // full throttle does not do it
			return 1 / power(turnThrottleOverMass) * (1 - boundSlack), true
		}
		return value * power(min(x.turnRise, 0)) * (1 - boundSlack), true
	case figure.TurnLoadFactor:
		return x.loadFactor(value, known)
	case figure.PullOut:
		return value * (1 - pullOutSlack), known
	case figure.StyleTime:
		return value * (1 + boundSlack), known // what mass saves is in the light craft
	case figure.TopSpeed:
		return value * x.topSpeedGain(value) * (1 + boundSlack), known
	case figure.Response:
		if x.heavy != nil {
			if other, why := x.heavy.Get(q); why == physics.Defined {
				return math.Min(value, other) * (1 - boundSlack), known
			}
		}
		return value / power(responseOverMass) * (1 - boundSlack), known
	case figure.ThrustStep:
		if x.heavy != nil {
			other, why := x.heavy.Get(q)
			return other * (1 - boundSlack), why == physics.Defined
		}
		return value / power(stepOverMass) / math.Pow(x.ohm, stepOverOhm) * (1 - boundSlack), known
	}
	return 0, false
}

// topSpeedGain is by what factor the heaviest craft of the branch may be faster at most than the light one at its top
// speed.
func (x *relaxation) topSpeedGain(speedMS float64) float64 {
	air := &x.of.space.SI.Propellers[x.branch.prop].Map.Air
	dragN := 0.5 * air.DensityKgM3 * x.branch.bodies.dragM2.low * speedMS * speedMS
	weightN := x.lightKg * physics.GravityMS2
	squared := func(n float64) float64 { return 3*n*n + dragN*dragN }
	return math.Pow(squared(weightN*x.mass)/squared(weightN), 1.0/6)
}

// loadFactor is the largest load factor in a turn, given that of the light craft. A turn that the
// light craft cannot hold, for want of thrust against its drag, a heavier one may: the lift n m of
// such turns is the same for all masses, so that it is at most that of the heavy craft, or, if that
// one holds none as well, under the heavy craft's weight.
func (x *relaxation) loadFactor(light float64, known bool) (float64, bool) {
	switch {
	case known && light >= 1:
		return light * (1 + boundSlack), true
	case x.heavy == nil && x.mass >= tightRange:
		return 0, false
	}
	n := 1.0
	if x.heavy != nil {
		if m, why := x.heavy.Get(figure.TurnLoadFactor); why == physics.Defined {
			n = math.Max(m, 1)
		}
	}
	return n * x.mass * (1 + boundSlack), true
}
