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
	light, heavy *physics.Performance              // the light one with the broad one's pull-out
	poor         *physics.Performance              // nil if it was not looked at
	desirable    [objective.CriterionCount]float64 // at most, of each criterion; 1 before it is settled
	mass, ohm    float64
	motorMeanA   float64 // what the motor bears all along; infinite if that is not known
	spareA       float64 // see bounder.spareA
	open, ducted bool    // whether it holds crafts without and with ducts
}

// infeasible reports whether every candidate of the branch breaks a rule for certain.
func (x *relaxation) infeasible(style *objective.Style) bool {
	if d, why := x.light.Get(figure.HoverThrottle); why != physics.Defined || d > 0.9*(1+boundSlack) {
		return true
	}
	return (!x.open || x.breaks(style.Effective(false))) && (!x.ducted || x.breaks(style.Effective(true)))
}

// breaks reports whether every candidate of the branch breaks one of some limits for certain. Limits on heat prune
// nothing: a flight heats the more the longer it lasts, but a lower cap heats less, so that no end of the ranges is
// the coolest.
func (x *relaxation) breaks(limits []objective.Limit) bool {
	for _, l := range limits {
		f := figure.Of(l.Quantity)
		low, high := f.ToSI(l.Range.Low), f.ToSI(l.Range.High)
		value, _ := x.light.Get(l.Quantity)
		switch l.Quantity {
		case figure.ThrottleCap:
			if x.ohm == 1 && value < low*0.97 {
				return true
			}
		case figure.TurnThrottle, figure.Response, figure.ThrustStep, figure.PullOut:
			if best, known := x.best(l.Quantity); known && best > high {
				return true
			}
		}
		if r := x.outer(l.Quantity); r.high < low || r.low > high {
			return true
		}
	}
	return false
}

// tooFast reports whether the electrical speed of every candidate is over the style's limit: it is least where a pack
// sags most, in the heavy craft.
func (x *relaxation) tooFast(style *objective.Style) bool {
	speed, _ := x.heavy.Get(figure.ElectricalSpeed)
	for _, ducted := range [...]bool{false, true} {
		if ducted && !x.ducted || !ducted && !x.open {
			continue
		}
		for _, l := range style.Effective(ducted) {
			if l.Quantity == figure.ElectricalSpeed && l.Quantity.FromSI(speed) <= l.Range.High*(1+boundSlack) {
				return false
			}
		}
	}
	return true
}

// overdrawn reports whether the steady segments take more on average than the continuous ratings of every
// board or plug of the branch: the light craft's currents are the least, but for what mass may
// save as it does in a turn.
func (x *relaxation) overdrawn(b *branch) bool {
	save := math.Pow(x.mass, currentOverMass) * (1 + boundSlack)
	return x.light.SteadyMotorA > min(b.bodies.boardA, x.motorMeanA)*save || x.light.SteadyPackA > b.bodies.plugA*save
}

// begin takes every figure to be as good as can be.
func (x *relaxation) begin() {
	for i := range x.desirable {
		x.desirable[i] = 1
	}
}

// settle takes figures in that are worked out.
func (x *relaxation) settle(asked figure.Set) {
	for i := range x.desirable {
		criterion := objective.CriterionOf(i)
		if !asked.Has(1 << criterion.Quantity) {
			continue
		}
		if si, known := x.best(criterion.Quantity); known {
			x.desirable[i] = criterion.Desirability(si)
		}
	}
}

// bound puts the figures together.
func (x *relaxation) bound(style *objective.Style) bound {
	b := bound{desirable: x.desirable, axes: objective.AxesFrom(&x.desirable)}
	b.score = style.Weights.Score(&b.axes) * (1 + 1e-12)
	return b
}

// best is the best value of a quantity in the branch; false if nothing bounds it.
func (x *relaxation) best(q figure.Quantity) (float64, bool) {
	value, why := x.light.Get(q)
	known := why == physics.Defined
	power := func(elasticity float64) float64 { return math.Pow(x.mass, elasticity) }
	switch q {
	case figure.TurnThrottle:
		if !known {
			value = 1 // full throttle does not do it
		}
		return value / power(turnThrottleOverMass) * (1 - boundSlack), true
	case figure.TurnLoadFactor:
		return x.loadFactor(value, known)
	case figure.PullOut:
		return value * (1 - pullOutSlack), known
	case figure.StyleTime:
		return value * power(timeOverMass) * (1 + boundSlack), known
	case figure.TopSpeed:
		return value * power(topSpeedOverMass) * (1 + boundSlack), known
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
