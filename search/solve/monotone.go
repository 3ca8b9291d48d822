package solve

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// monotone says how a figure goes over a branch: its best value is the light craft's, its worst the poor one's (the
// heavy craft with the most drag and power taken in flight, the least capacity and the least ratings). Falls is of
// figures that are the lower the worse a craft is. OverMass is the elasticity by which a heavier craft may be better
// all the same (see bound), overOhm the same for a pack that sags more, slack and room what solvers are off, as a share and
// in the figure's SI unit.
type monotone struct {
	falls                    bool
	overMass, overOhm, slack float64
	room                     float64
}

// monotones are the figures whose limits rule branches out, beside those that relaxation.breaks knows more of. What is
// not among them has no worst end: voltages of cells (more resistance draws less), states at the end of a flight (who
// draws less lands emptier), speeds of least power, rise times and temperatures (see relaxation.breaks).
func monotones(q figure.Quantity) (monotone, bool) {
	switch q {
	case figure.HoverSpeed, figure.HoverCurrent, figure.HoverThrottle:
		return monotone{slack: boundSlack}, true
	case figure.HoverPower: // a pack that sags more loses less in ESCs
		return monotone{overOhm: 0.12, slack: 0.01}, true
	case figure.MeanCurrent:
		return monotone{overMass: currentOverMass, slack: 0.01}, true
	case figure.TurnThrottle:
		return monotone{overMass: turnThrottleOverMass, slack: boundSlack}, true
	case figure.FullThrottleThrust, figure.FullThrottleCurrent, figure.PackSagCurrent, figure.ElectricalSpeed,
		figure.TipMach, figure.ThrustToWeight:
		return monotone{falls: true, slack: boundSlack}, true
	case figure.StyleTime, figure.HoverTime, figure.CruiseTime, figure.HardTime:
		return monotone{falls: true, overMass: timeOverMass, slack: 0.01}, true
	case figure.UsedCharge:
		return monotone{falls: true, overMass: timeOverMass, slack: 0.02}, true
	case figure.TopSpeed:
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.01}, true
	case figure.ForwardAcceleration:
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.01, room: 0.5}, true
	case figure.Range: // at a speed that is found by a parabola through sixths of the top speed
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.25, room: 500}, true
	}
	return monotone{}, false
}

// poorAsks are the figures of a style's limits that the poor craft bounds.
func poorAsks(style *objective.Style) figure.Set {
	var asked figure.Set
	for _, ducted := range [...]bool{false, true} {
		for _, l := range style.Effective(ducted) {
			m, ok := monotones(l.Quantity)
			if ok && (m.falls && !math.IsInf(l.Range.High, 1) || !m.falls && !math.IsInf(l.Range.Low, -1)) {
				asked |= figure.SetOf(l.Quantity)
			}
		}
	}
	return asked
}

// outer is a range that holds a figure of every craft of the branch, in SI units; infinite where nothing bounds it.
func (x *relaxation) outer(q figure.Quantity) span {
	s := span{math.Inf(-1), math.Inf(1)}
	m, ok := monotones(q)
	if !ok {
		return s
	}
	off := math.Pow(x.mass, m.overMass) * math.Pow(x.ohm, m.overOhm) * (1 + m.slack)
	room := m.room
	best, worst := &s.low, &s.high
	if m.falls {
		best, worst = &s.high, &s.low
		off, room = 1/off, -room
	}
	if value, why := x.light.Get(q); why == physics.Defined {
		*best = value/off - room
	}
	if x.poor != nil {
		if value, why := x.poor.Get(q); why == physics.Defined {
			*worst = value*off + room
		}
	}
	if q == figure.FullThrottleCurrent { // it falls with resistance, but electronics add to it
		s.low, s.high = s.low-x.spareA, s.high+x.spareA
	}
	return s
}

// leastCellV is a voltage that no cell falls under in flight.
const leastCellV = 2.5

// spareA is at most what electronics of a branch draw beyond those that draw least.
func (x *bounder) spareA(b *branch) float64 {
	return (b.bodies.watts.high - b.bodies.watts.low) / (leastCellV * float64(x.space.SI.Packs[b.packs.first].Cells))
}
