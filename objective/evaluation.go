package objective

import (
	"cmp"
	"math"

	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Evaluation is what a style makes of a craft's performance.
type Evaluation struct {
	Axes  Axes
	Score float64 // 0 to 100, whether the craft is feasible or not; Judge leaves infeasible ones at 0
	First Rule    // the first rule that is broken; Kept if none is
	// Excess adds up how far each broken rule is broken; 0 for a feasible craft.
	Excess float64
}

// Feasible reports whether no rule is broken.
func (v *Evaluation) Feasible() bool { return v.First == Kept }

// Evaluate scores a craft and tries the rules. It allocates nothing.
func (s *Style) Evaluate(c *physics.Craft, p *physics.Performance) Evaluation {
	v := s.tryAll(c, p)
	s.rate(&v, p)
	return v
}

func (s *Style) rate(v *Evaluation, p *physics.Performance) {
	v.Axes = AxesOf(p)
	v.Score = s.Weights.Score(&v.Axes)
}

// tryAll tries the rules.
func (s *Style) tryAll(c *physics.Craft, p *physics.Performance) Evaluation {
	var v Evaluation
	for i := range s.trials() {
		if b := s.try(i, c, p); b.Rule != Kept {
			if v.First == Kept {
				v.First = b.Rule
			}
			v.Excess += b.Excess
		}
	}
	return v
}

// Questions are what a style looks at in a craft: for its rules, and for its score.
type Questions struct{ Rules, Score figure.Set }

// Both are what Style.Evaluate looks at.
func (q Questions) Both() figure.Set { return q.Rules | q.Score }

// Questions returns what Evaluate looks at.
func (s *Style) Questions() Questions {
	q := Questions{Rules: figure.SetOf(figure.StyleTime)}
	for i := range criteria {
		q.Score |= figure.SetOf(criteria[i].Quantity)
	}
	for _, l := range s.Effective(false) {
		q.Rules |= figure.SetOf(l.Quantity)
	}
	return q
}

// Judge evaluates a craft as a search does: one that breaks a rule is not scored, its axes and score stay 0, and what
// only they need is not worked out. It allocates nothing.
func (s *Style) Judge(c *physics.Craft, ask *Questions) Evaluation {
	e := c.Begin(&s.Flying)
	e.GoOn(ask.Rules)
	v := s.tryAll(c, e.Performance())
	if v.Feasible() {
		e.GoOn(ask.Score)
		s.rate(&v, e.Performance())
	}
	return v
}

// Violations lists every rule that a craft breaks, in their order.
func (s *Style) Violations(c *physics.Craft, p *physics.Performance) []Violation {
	var all []Violation
	for i := range s.trials() {
		if b := s.try(i, c, p); b.Rule != Kept {
			all = append(all, b)
		}
	}
	return all
}

// Compare orders two feasible evaluations, the better first: by score, then by the unweighted sum of
// the axes, then by dominance. It returns 0 for a tie, which part ids break.
func Compare(a, b *Evaluation) int {
	if c := cmp.Compare(b.Score, a.Score); c != 0 {
		return c
	}
	if c := cmp.Compare(b.Axes.Sum(), a.Axes.Sum()); c != 0 {
		return c
	}
	switch {
	case a.Axes.Dominates(&b.Axes):
		return -1
	case b.Axes.Dominates(&a.Axes):
		return 1
	}
	return 0
}

// Score is the weighted geometric mean of the axes, 0⁰ being 1.
func (w *Weights) Score(x *Axes) float64 {
	var sum float64
	for a, weight := range w {
		switch {
		case weight == 0:
		case x[a] <= 0:
			return 0
		default:
			sum += weight * math.Log(x[a]/100)
		}
	}
	return 100 * math.Exp(sum)
}

// undefinedExcess stands for how far off a craft is whose figure cannot be computed.
const undefinedExcess = 2.0

const commonTrials = 10

// trials is the number of things to try; try takes one and returns what is broken, a zero Violation
// if it is kept. They come in the order of the rules.
func (s *Style) trials() int { return commonTrials + len(s.Limits) }

func (s *Style) try(i int, c *physics.Craft, p *physics.Performance) Violation {
	switch i {
	case 0:
		return s.thrust(p, true)
	case 1:
		return mean(BoardMeanKey, p.SteadyMotorA, c.Board.ContinuousA)
	case 2:
		return mean(MotorMeanKey, p.SteadyMotorA, c.Motor.MeanLimitA())
	case 3:
		return mean(ConnectorMeanKey, p.SteadyPackA, c.Connector.ContinuousA)
	case 4:
		return s.bears(ElectricalRule, p, figure.ElectricalSpeed)
	case 5:
		return within(HoverRule, p, figure.HoverThrottle, Range{math.Inf(-1), highestHoverPct})
	case 6:
		return s.thrust(p, false)
	case 7:
		return aloft(p)
	case 8:
		return s.bears(HeatRule, p, figure.MotorTemperature)
	case 9:
		return s.bears(HeatRule, p, figure.PunchTemperature)
	}
	l := &s.Limits[i-commonTrials]
	if _, borne := everyStyle(l.Quantity); borne || l.Quantity == figure.ThrustToWeight {
		return Violation{} // tried already
	}
	return within(StyleLimits, p, l.Quantity, s.RangeFor(l, c.Ducted))
}

// thrust tries the style's limit on thrust-to-weight. Too little of it at the cap is the fault of the currents
// where full throttle would give enough, else that of motors and props.
func (s *Style) thrust(p *physics.Performance, byCurrents bool) Violation {
	r, rule := s.thrustRange(), Thrust
	massKg, _ := p.Get(figure.AllUpMass)
	fullN, _ := p.Get(figure.FullThrottleThrust)
	capDuty, _ := p.Get(figure.ThrottleCap)
	if at, _ := p.Get(figure.ThrustToWeight); at < r.Low && fullN >= r.Low*massKg*physics.GravityMS2 {
		rule = Currents
	}
	if byCurrents != (rule == Currents) {
		return Violation{}
	}
	b := within(rule, p, figure.ThrustToWeight, r)
	if b.Rule == Currents {
		b.Cap, b.CapPct = p.Cap, figure.ThrottleCap.FromSI(capDuty)
	}
	return b
}

// aloft tries whether the style can be flown at all: no segment takes more than the throttle cap, and a full pack
// is not down to its landing voltage at once. A segment that full throttle would hold is the fault of the currents.
func aloft(p *physics.Performance) Violation {
	capPct, _ := p.Figure(figure.ThrottleCap)
	if need := 100 * p.HardestDuty; need > capPct {
		b := Violation{Rule: Thrust, Key: SegmentThrottleKey, Unit: "%", Value: need, Bound: capPct,
			Excess: excess(need, capPct)}
		if need <= 100 {
			b.Rule, b.Cap, b.CapPct = Currents, p.Cap, capPct
		}
		return b
	}
	f := figure.Of(figure.StyleTime)
	if timeS, why := p.Get(figure.StyleTime); why == physics.Defined && timeS <= 0 {
		return Violation{Rule: Currents, Key: f.Key, Unit: f.Unit, Bound: f.FromSI(shortestS), Excess: undefinedExcess}
	}
	return Violation{}
}

// RangeFor is the range that a limit of the style sets a craft with or without ducts.
func (s *Style) RangeFor(l *Limit, ducted bool) Range {
	if ducted {
		for i := range s.DuctedLimits {
			if s.DuctedLimits[i].Quantity == l.Quantity {
				return s.DuctedLimits[i].Range
			}
		}
	}
	return l.Range
}

// thrustRange is the style's limit on thrust-to-weight, or the one that every craft must keep.
func (s *Style) thrustRange() Range {
	for i := range s.Limits {
		if s.Limits[i].Quantity == figure.ThrustToWeight {
			r := s.Limits[i].Range
			return Range{math.Max(r.Low, lowestThrustRatio), r.High}
		}
	}
	return Range{lowestThrustRatio, math.Inf(1)}
}

// borne are the figures of heat and electrical speed that every craft must keep under a bound, in SI units, unless its
// style sets another.
var borne = [...]struct {
	quantity figure.Quantity
	highest  float64
}{
	{figure.ElectricalSpeed, physics.RefusedElectricalRadS},
	{figure.MotorTemperature, physics.RefusedWindingK},
	{figure.PunchTemperature, physics.RefusedPunchK},
}

// everyStyle returns the range that a figure of heat or electrical speed must keep in every style; the bool reports
// whether it is one.
func everyStyle(q figure.Quantity) (Range, bool) {
	for _, b := range borne {
		if b.quantity == q {
			return Range{math.Inf(-1), math.Round(q.FromSI(b.highest))}, true
		}
	}
	return Range{}, false
}

// bearable is the style's own range of a figure of heat or electrical speed, or else that of every style.
func (s *Style) bearable(q figure.Quantity) Range {
	r, _ := everyStyle(q)
	for i := range s.Limits {
		if s.Limits[i].Quantity != q {
			continue
		}
		own := s.Limits[i].Range
		if math.IsInf(own.High, 1) {
			own.High = r.High // a least value says nothing of the most
		}
		return own
	}
	return r
}

// bears tries a figure of heat or electrical speed. One that is undefined for want of flight is left to the rules of
// flight.
func (s *Style) bears(rule Rule, p *physics.Performance, q figure.Quantity) Violation {
	if _, why := p.Get(q); why != physics.Defined && why != physics.WindingsBurn {
		return Violation{}
	}
	return within(rule, p, q, s.bearable(q))
}

// within tries a range on a figure. An undefined figure cannot be shown to keep it and breaks it.
func within(rule Rule, p *physics.Performance, q figure.Quantity, r Range) Violation {
	value, why := p.Figure(q)
	if why == physics.Defined && r.Holds(value) {
		return Violation{}
	}
	f := figure.Of(q)
	if why != physics.Defined {
		return Violation{Rule: rule, Key: f.Key, Unit: f.Unit, Bound: r.Bound(math.Inf(-1)), Excess: undefinedExcess,
			Why: why}
	}
	bound := r.Bound(value)
	return Violation{Rule: rule, Key: f.Key, Unit: f.Unit, Value: value, Bound: bound, Excess: excess(value, bound)}
}

// mean tries the mean current in flight against a continuous rating; 0 is unknown.
func mean(key string, currentA, ratingA float64) Violation {
	if !(ratingA > 0) || currentA <= ratingA {
		return Violation{}
	}
	use := currentA / ratingA
	return Violation{Rule: Currents, Key: key, Unit: "%", Value: 100 * use, Bound: 100,
		Excess: excess(use, 1)}
}

// excess is the distance as a share of the bound; over 1 it grows more slowly, and stays under undefinedExcess.
func excess(value, bound float64) float64 {
	share := math.Abs(value-bound) / math.Max(math.Abs(bound), 1e-3)
	if share > 1 {
		return undefinedExcess - 1/share
	}
	return share
}

// Effective lists the ranges of figures that a feasible craft, with or without ducts, must keep: those that every craft
// must, and the style's.
func (s *Style) Effective(ducted bool) []Limit {
	open := math.Inf(1)
	limits := []Limit{
		{figure.ThrustToWeight, s.thrustRange()},
		{figure.HoverThrottle, Range{-open, highestHoverPct}},
	}
	for _, b := range borne {
		limits = append(limits, Limit{b.quantity, s.bearable(b.quantity)})
	}
	for i := range s.Limits {
		l := &s.Limits[i]
		if _, borne := everyStyle(l.Quantity); !borne && l.Quantity != figure.ThrustToWeight {
			limits = append(limits, Limit{l.Quantity, s.RangeFor(l, ducted)})
		}
	}
	return limits
}
