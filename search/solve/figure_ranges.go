package solve

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Ranges of figures. A limit rules a branch out where the range of its figure over the branch lies beyond it. The range
// lies between the light craft's value and the poor one's (the heavy craft with the most drag and power taken in flight,
// the least capacity and the least ratings), for most figures by themselves (see monotone), for the rest by what they
// follow from. Ranges hold what keeps the rules of every craft: of what breaks them nobody asks. What is a share off here
// leaves room over what 40 000 members of random branches show.

// monotone says how a figure goes over a branch: its best value is the light craft's, its worst the poor one's. Falls is
// of figures that are the lower the worse a craft is. OverMass is the elasticity by which a heavier craft may be better
// all the same (see bound), overOhm the same for a pack that sags more, slack and room what solvers are off, as a share and
// in the figure's SI unit.
type monotone struct {
	falls                    bool
	overMass, overOhm, slack float64
	room                     float64
}

// monotones are the figures that go one way from the light craft to the poor one.
func monotones(q figure.Quantity) (monotone, bool) {
	switch q {
	case figure.HoverSpeed, figure.HoverCurrent, figure.HoverThrottle:
		return monotone{slack: boundSlack}, true
	case figure.HoverPower: // a pack that sags more loses less in ESCs
		return monotone{overOhm: 0.12, slack: 0.01}, true
	case figure.MotorHeat: // the ripple's part is less towards full duty
		return monotone{overMass: 0.1, overOhm: 0.12, slack: 0.03}, true
	case figure.MeanCurrent: // what mass saves is in the two crafts
		return monotone{slack: 0.01}, true
	case figure.TurnThrottle:
		return monotone{overMass: turnThrottleOverMass, slack: boundSlack}, true
	case figure.Rise:
		return monotone{slack: 0.01}, true
	case figure.PullOut:
		return monotone{slack: pullOutSlack}, true
	case figure.FullThrottleThrust, figure.FullThrottleCurrent, figure.ElectricalSpeed, figure.TipMach,
		figure.ThrustToWeight, figure.ThrustStep:
		return monotone{falls: true, slack: boundSlack}, true
	case figure.TurnLoadFactor:
		return monotone{falls: true, overMass: 0.1, slack: 0.01}, true // short of level flight mass tilts less
	case figure.StyleTime, figure.HoverTime, figure.CruiseTime, figure.HardTime:
		return monotone{falls: true, overMass: timeOverMass, slack: 0.01}, true
	case figure.UsedCharge:
		return monotone{falls: true, overMass: timeOverMass, slack: 0.02}, true
	case figure.TopSpeed:
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.01}, true
	case figure.ForwardAcceleration:
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.01, room: 0.5}, true
	case figure.Range: // at a speed that is found by a parabola through sixths of the top speed
		return monotone{falls: true, overMass: topSpeedOverMass, slack: 0.06, room: 10}, true
	}
	return monotone{}, false
}

// followsFrom are the figures of the poor craft, beside its own, that the range of a figure follows from.
func followsFrom(q figure.Quantity) figure.Set {
	switch q {
	case figure.MotorTemperature, figure.PunchTemperature:
		return figure.SetOf(figure.StyleTime, figure.MotorTemperature, figure.PunchTemperature)
	case figure.EndThrustToWeight, figure.EndHoverThrottle:
		return figure.SetOf(figure.UsedCharge)
	case figure.BestRangeSpeed:
		return figure.SetOf(figure.TopSpeed)
	}
	return 0
}

// poorAsks are the figures of the poor craft that a style's own limits ask of it, given the light one's: a limit that
// that one keeps rules no branch out. With none given they are all that may be asked.
func poorAsks(style *objective.Style, light *physics.Performance) figure.Set {
	var asked figure.Set
	for _, limits := range [...][]objective.Limit{style.Limits, style.DuctedLimits} {
		for i := range limits {
			l := &limits[i]
			if ofParts(l.Quantity) || light != nil && l.Range.Holds(l.Quantity.FromSI(defined(light, l.Quantity))) {
				continue
			}
			m, ok := monotones(l.Quantity)
			if !ok || m.falls && !math.IsInf(l.Range.High, 1) || !m.falls && !math.IsInf(l.Range.Low, -1) {
				asked |= figure.SetOf(l.Quantity) | followsFrom(l.Quantity)
			}
		}
	}
	return asked
}

// outer is a range that holds a figure of every craft of the branch that keeps the rules of every craft, in SI units;
// infinite where nothing bounds it, and empty where no craft has the figure.
func (x *relaxation) outer(q figure.Quantity) span {
	switch _, why := x.light.Get(q); why {
	case physics.NoStyleSpeed:
		return noSpan()
	case physics.NotAsked: // not yet
		return span{math.Inf(-1), math.Inf(1)}
	}
	if m, ok := monotones(q); ok {
		return x.between(q, &m)
	}
	k, f := x.branch.packs, x.branch.bodies
	pack := &x.of.space.SI.Packs[k.first]
	cells, emptier := float64(pack.Cells), func() float64 { return x.chargeRatio(pack) }
	switch q {
	case figure.LoadedCell:
		a := x.outer(figure.FullThrottleCurrent)
		full := pack.Chemistry.CellV(1)
		return holding(full-k.internalOhm.high/cells*a.high, full-k.internalOhm.low/cells*a.low)
	case figure.PackCurrentUse:
		a := x.outer(figure.FullThrottleCurrent)
		return holding(a.low/k.safeA.high, a.high/k.safeA.low)
	case figure.ConnectorCurrentUse:
		if math.IsInf(f.peakA.low, 1) {
			return noSpan()
		}
		a := x.outer(figure.FullThrottleCurrent)
		return holding(a.low/f.peakA.high, a.high/f.peakA.low)
	case figure.BoardCurrentUse:
		a := x.motorA()
		return holding(a.low/f.burstA.high, a.high/f.burstA.low)
	case figure.MotorCurrentUse:
		a, most := x.motorA(), x.of.space.SI.Motors[x.branch.motor].MaxCurrentA
		return holding(a.low/most, a.high/most)
	case figure.ThrottleCap:
		return x.capRange(cells * pack.Chemistry.CellV(1))
	case figure.Response:
		// Damping is convex in speed, which goes with the root of mass: a part of it falls at most with the inverse of
		// speed, the other grows with speed, so that between two speeds whose ratio is r it is at least 2√r/(1 + r) of
		// what it is at the end with less.
		best, _ := x.best(q)
		root := math.Pow(x.mass, 0.25)
		slow := max(x.ofLight(q), x.ofPoor(q)) * (root + 1/root) / 2
		return holding(best, slow*(1+boundSlack))
	case figure.MotorTemperature, figure.PunchTemperature:
		return x.temperatures(q)
	case figure.EndThrustToWeight: // thrust goes at most with the square of voltage
		by := emptier()
		return holding(x.ofPoor(q)/by*(1-boundSlack), x.ofLight(q)*by*(1+boundSlack))
	case figure.EndHoverThrottle:
		by := emptier()
		return holding(x.ofLight(q)/by*(1-boundSlack), x.ofPoor(q)*by*(1+boundSlack))
	case figure.BestRangeSpeed:
		v := x.outer(figure.TopSpeed)
		return holding(max(v.low/economySteps, x.economical(q, false)), min(v.high*mostEconomical, x.economical(q, true)))
	case figure.BestEnduranceSpeed: // may be hover, where the first step takes more
		v := x.outer(figure.TopSpeed)
		return holding(0, min(v.high*mostEconomical, max(x.economical(q, true), v.high/economySteps*economyOff)))
	}
	return span{math.Inf(-1), math.Inf(1)}
}

// ofLight is a figure of the light craft in SI units, ofPoor of the poor one; NaN where it is not known.
func (x *relaxation) ofLight(q figure.Quantity) float64 { return defined(x.light, q) }

func (x *relaxation) ofPoor(q figure.Quantity) float64 {
	if x.poor == nil {
		return math.NaN()
	}
	return defined(x.poor, q)
}

func defined(p *physics.Performance, q figure.Quantity) float64 {
	if value, why := p.Get(q); why == physics.Defined {
		return value
	}
	return math.NaN()
}

// holding is a range between two numbers; NaN is unbounded.
func holding(low, high float64) span {
	s := span{math.Inf(-1), math.Inf(1)}
	if !math.IsNaN(low) {
		s.low = low
	}
	if !math.IsNaN(high) {
		s.high = high
	}
	return s
}

// between is the range of a figure that goes one way.
func (x *relaxation) between(q figure.Quantity, m *monotone) span {
	off := math.Pow(x.mass, m.overMass) * math.Pow(x.ohm, m.overOhm) * (1 + m.slack)
	var s span
	if m.falls {
		s = holding(x.ofPoor(q)/off-m.room, x.ofLight(q)*off+m.room)
	} else {
		s = holding(x.ofLight(q)/off-m.room, x.ofPoor(q)*off+m.room)
	}
	best, known := x.best(q)
	switch {
	case q == figure.FullThrottleCurrent: // it falls with resistance, but electronics add to it
		s.low, s.high = s.low-x.spareA, s.high+x.spareA
	case q == figure.TurnLoadFactor: // a heavier craft may hold a turn that the light one does not
		s.high = math.Inf(1)
		if known {
			s.high = best
		}
	case known && (!m.falls || q == figure.ThrustStep): // whose least is best
		s.low = max(s.low, best)
	case known:
		s.high = min(s.high, best)
	}
	return s
}

// motorA is the range of one motor's current at full throttle, static, where it grows with speed.
func (x *relaxation) motorA() span {
	b := x.branch
	pack := &x.of.space.SI.Packs[b.packs.first]
	openV, rotors := float64(pack.Cells)*pack.Chemistry.CellV(1), float64(b.bodies.rotors)
	return holding((x.ofPoor(figure.FullThrottleCurrent)-b.bodies.watts.high/openV)/rotors*(1-boundSlack),
		(x.ofLight(figure.FullThrottleCurrent)-b.bodies.watts.low/openV)/rotors*(1+boundSlack))
}

// capRange is the range of the throttle cap, where a full pack has openV. No craft turns its rotors faster at its cap than
// the light one, none slower than the poor one; the duty that a speed takes is least on the light craft's pack.
func (x *relaxation) capRange(openV float64) span {
	k, f := x.branch.packs, x.branch.bodies
	sag := func(p *physics.Performance, packOhm, leadOhm, plugOhm float64) float64 {
		return p.PeakPackA * (packOhm + leadOhm + plugOhm) / openV
	}
	most := sagDuty(sag(x.light, k.internalOhm.low, k.leadOhm.low, f.plugOhm.low), x.ohm)
	s := holding(0, min(x.ofLight(figure.ThrottleCap)*most*(1+boundSlack), 1))
	if x.poor != nil {
		least := sagDuty(sag(x.poor, k.internalOhm.high, k.leadOhm.high, f.plugOhm.high), 1/x.ohm)
		s.low = x.ofPoor(figure.ThrottleCap) * least * (1 - boundSlack)
	}
	return s
}

// sagDuty is the factor on the duty d of an operating point where what makes the pack sag is another by a ratio. With the
// share x of the open voltage E that is sag at first, the duty that a motor voltage V takes at a motor current I follows
// from d (E − R d I) = V:
//
//	d ∝ (1 − √(1 − r s))/r,  s = 4 x (1 − x)
//
// It is infinite where no duty does.
func sagDuty(share, ratio float64) float64 {
	share = min(share, 0.5)
	s := 4 * share * (1 - share)
	switch {
	case ratio*s >= 1:
		return math.Inf(1)
	case s < 1e-9:
		return 1
	}
	return (1 - math.Sqrt(1-ratio*s)) / (1 - math.Sqrt(1-s)) / ratio
}

// temperatures is the range of a temperature of the windings. Heat is the poor craft's at most, but that of punches the
// light craft's, whose limits are the widest; it rises the longer a flight lasts, at most in proportion to its time.
func (x *relaxation) temperatures(q figure.Quantity) span {
	airK := x.of.space.SI.Propellers[x.branch.prop].Map.Air.TemperatureK
	s := span{airK, math.Inf(1)}
	if x.poor == nil {
		return s
	}
	light, poor := x.ofLight(figure.MotorTemperature), x.ofPoor(figure.MotorTemperature)
	punchLight, punchPoor := x.ofLight(figure.PunchTemperature)-light, x.ofPoor(figure.PunchTemperature)-poor
	longer := max(1, x.ofLight(figure.StyleTime)/x.ofPoor(figure.StyleTime))
	harder := max(1, punchLight/punchPoor)
	if (x.light.Cap == physics.NoLimit) != (x.poor.Cap == physics.NoLimit) {
		harder = math.NaN() // one punches at the standard's full throttle, the other at its cap
	}
	const slack = 0.02
	low, high := (light-airK)/longer/harder*(1-slack), (poor-airK)*longer*harder*(1+slack)
	if q == figure.PunchTemperature {
		low, high = low+min(punchLight, punchPoor)*(1-slack), high+max(punchLight, punchPoor)*(1+slack)
	}
	got := holding(airK+low, airK+high)
	return span{max(s.low, got.low), got.high}
}

// chargeRatio is the square of the ratio of open-circuit voltages that flights end at: who draws less lands emptier. NaN
// if that is not known.
func (x *relaxation) chargeRatio(pack *physics.Pack) float64 {
	left := func(usedAs, capacityAs float64) float64 { return 1 - usedAs/(capacityAs*pack.CapacityFactor) }
	a := left(x.ofLight(figure.UsedCharge), x.branch.packs.capacityAs.high)
	b := left(x.ofPoor(figure.UsedCharge), x.branch.packs.capacityAs.low)
	if math.IsNaN(a + b) {
		return math.NaN()
	}
	ratio := pack.Chemistry.CellV(max(a, b)) / pack.Chemistry.CellV(min(a, b))
	return ratio * ratio
}

const (
	// economySteps is into how many steps the top speed is cut to find economical speeds, mostEconomical the share of it
	// that they reach.
	economySteps   = 6
	mostEconomical = 5.0 / economySteps
	// economyOff is by what factor an economical speed may be off by where the steps fall.
	economyOff = 1.75
)

// economical is the most or least that an economical speed may be: it goes with the root of mass and with its inverse for
// drag at most, but for where the steps fall.
func (x *relaxation) economical(q figure.Quantity, most bool) float64 {
	if most {
		return x.ofLight(q) * math.Sqrt(x.mass) * economyOff
	}
	d := &x.branch.bodies.dragM2
	return x.ofLight(q) / math.Sqrt(d.high/d.low) / economyOff
}

// ofParts reports whether a figure follows from parts alone (see partsBreak).
func ofParts(q figure.Quantity) bool {
	switch q {
	case figure.AllUpMass, figure.DiscLoading, figure.KineticEnergy, figure.PackSafeCurrent, figure.PackSagCurrent:
		return true
	}
	return false
}

// fromParts is the range of a figure that follows from parts alone, for masses from lowKg to highKg.
func (x *bounder) fromParts(q figure.Quantity, b *branch, lowKg, highKg float64) span {
	perKg := 1.0
	switch q {
	case figure.DiscLoading:
		perKg = physics.GravityMS2 / (float64(b.bodies.rotors) * x.space.SI.Propellers[b.prop].Map.AreaM2)
	case figure.KineticEnergy:
		v := x.space.Problem.Style.Flying.SpeedMS
		perKg = 0.5 * v * v
	case figure.PackSafeCurrent:
		return b.packs.safeA
	case figure.PackSagCurrent:
		weak, strong := x.space.SI.Packs[b.packs.first], x.space.SI.Packs[b.packs.first]
		weak.InternalOhm, strong.InternalOhm = b.packs.internalOhm.high, b.packs.internalOhm.low
		return span{weak.SagCurrentA(), strong.SagCurrentA()}
	}
	return span{lowKg * perKg, highKg * perKg}
}

// partsBreak reports whether every craft of a branch breaks a limit by its parts alone, of masses from lowKg to highKg.
func (x *bounder) partsBreak(b *branch, lowKg, highKg float64) bool {
	breaks := func(limits []objective.Limit) bool {
		for _, l := range limits {
			switch {
			case l.Range.Low > l.Range.High, // more than every style allows
				l.Quantity == figure.MotorCurrentUse && x.space.SI.Motors[b.motor].MaxCurrentA == 0:
				return true
			case ofParts(l.Quantity):
				r := x.fromParts(l.Quantity, b, lowKg, highKg)
				if apart(span{r.low * (1 - 1e-9), r.high * (1 + 1e-9)}, &l) {
					return true
				}
			}
		}
		return false
	}
	return (!b.bodies.open || breaks(x.limits[0])) && (!b.bodies.ducted || breaks(x.limits[1]))
}

// apart reports whether nothing in a range in SI units keeps a limit.
func apart(r span, l *objective.Limit) bool {
	return r.low > r.high || l.Quantity.FromSI(r.low) > l.Range.High || l.Quantity.FromSI(r.high) < l.Range.Low
}

// leastCellV is a voltage that no cell falls under in flight.
const leastCellV = 2.5

// spareA is at most what electronics of a branch draw beyond those that draw least.
func (x *bounder) spareA(b *branch) float64 {
	return (b.bodies.watts.high - b.bodies.watts.low) / (leastCellV * float64(x.space.SI.Packs[b.packs.first].Cells))
}
