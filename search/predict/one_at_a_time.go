package predict

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// shifts are what figures are moved by, NaN where they are undefined then.
type shifts [figure.Count]float64

// Spread sets intervals and bases without draws: each of the independent normal numbers behind the
// uncertain inputs is moved by itself to its 10 % and 90 % points, and what it moves a figure
// upwards or downwards is added up in squares, each way by itself. For figures that follow the
// inputs in a straight line this is what draws give; a test holds the two together. Inputs that act on
// a craft as one do, such as the masses of its parts, are worked out once, for the one that moves most.
func (r *Result) Spread(style *objective.Style) {
	var up, down shifts
	var share [uncertain.InputCount]shifts
	s := spreading{result: r, flying: &style.Flying, craft: r.Craft}
	known := s.craft.Standard()
	s.craft.Known = &known
	for _, moved := range s.bothSides() {
		for i := range moved {
			for q, by := range moved[i] {
				switch {
				case by > 0:
					up[q] += by * by
				case by < 0:
					down[q] += by * by
				default:
					continue
				}
				share[i][q] += by * by
			}
		}
	}
	u := &r.Craft.Uncertainty
	for q := range r.Figures {
		v := &r.Figures[q]
		if v.Why != physics.Defined {
			continue
		}
		v.High, v.Low = v.Value+math.Sqrt(up[q]), v.Value-math.Sqrt(down[q])
		if q == int(figure.ThrottleCap) {
			v.High = math.Min(v.High, 1) // there is no more than full throttle
		}
		v.Basis = uncertain.Label
		sum := up[q] + down[q]
		if sum > 0 {
			v.Basis = uncertain.Measured
		}
		for i := range share {
			if share[i][q] > 0 && share[i][q] >= uncertain.CauseShare*sum {
				v.Basis = max(v.Basis, u.Basis[i])
			}
		}
	}
	r.limitsAtRisk(style)
}

// spreading moves the inputs of a result.
type spreading struct {
	result *Result
	flying *physics.Flying
	craft  physics.Craft // with its Standard known
}

// alike are inputs that act on a craft as one: their effects are told apart by size alone.
var alike = [...][]uncertain.Input{
	{uncertain.PropPower, uncertain.RotorModel},
	{uncertain.MotorLoss, uncertain.MotorsLoss},
	{uncertain.PackMass, uncertain.FrameMass, uncertain.BoardMass, uncertain.ExtrasMass, uncertain.MotorMass,
		uncertain.PropMass},
}

// size is how much a deviation of an input changes what those alike change: the mass, or the logarithm of the power or
// the loss.
func (s *spreading) size(i uncertain.Input, d *uncertain.Deviation) float64 {
	switch i {
	case uncertain.PropPower, uncertain.RotorModel, uncertain.MotorLoss, uncertain.MotorsLoss:
		return d[i]
	}
	craft := s.craft.Deviate(d)
	return craft.MassKg() - s.craft.MassKg()
}

// moved is what a deviation moves the quantities asked for.
func (s *spreading) moved(d *uncertain.Deviation, asked figure.Set) shifts {
	var out shifts
	craft := s.craft.Deviate(d)
	p := craft.EvaluateOnly(s.flying, asked)
	for q := range out {
		if !asked.Has(1 << q) {
			continue
		}
		if x, ok := drawn(&p, figure.Quantity(q)); ok {
			out[q] = x - s.result.Figures[q].Value
		} else {
			out[q] = math.NaN()
		}
	}
	return out
}

// mirrored is the share of a figure's variance, of either direction's, up to which an input is moved upwards alone, and
// taken to move the figure as much downwards: what its two sides differ by is lost beside the rest.
const mirrored = 0.02

// bothSides moves each input by itself upwards and downwards.
func (s *spreading) bothSides() [2][uncertain.InputCount]shifts {
	var sides [2][uncertain.InputCount]shifts
	var asked [uncertain.InputCount]figure.Set
	for i := range asked {
		asked[i] = physics.Moves(uncertain.Input(i))
	}
	s.side(&sides[0], uncertain.HalfWidth(), &asked)
	var raised, lowered shifts
	for i := range sides[0] {
		for q, by := range sides[0][i] {
			if by > 0 {
				raised[q] += by * by
			} else if by < 0 {
				lowered[q] += by * by
			}
		}
	}
	for i := range sides[0] {
		for q, by := range sides[0][i] {
			if by*by <= mirrored*math.Min(raised[q], lowered[q]) {
				asked[i] &^= 1 << q
			}
		}
	}
	s.side(&sides[1], -uncertain.HalfWidth(), &asked)
	for i := range sides[0] {
		for q, by := range sides[0][i] {
			if !asked[i].Has(1 << q) {
				sides[1][i][q] = -by
			}
		}
	}
	return sides
}

// side moves what is asked for by each input to one side, in standard deviations.
func (s *spreading) side(out *[uncertain.InputCount]shifts, by float64, asked *[uncertain.InputCount]figure.Set) {
	var done [uncertain.InputCount]bool
	u := &s.craft.Uncertainty
	deviation := func(i uncertain.Input) uncertain.Deviation {
		var normal [uncertain.InputCount]float64
		normal[i] = by
		return u.Deviation(&normal)
	}
	for _, group := range alike {
		var sizes [uncertain.InputCount]float64
		most := group[0]
		var all figure.Set
		for _, i := range group {
			done[i] = true
			all |= asked[i]
			d := deviation(i)
			sizes[i] = s.size(i, &d)
			if math.Abs(sizes[i]) > math.Abs(sizes[most]) {
				most = i
			}
		}
		if sizes[most] == 0 || all == 0 {
			continue
		}
		d := deviation(most)
		out[most] = s.moved(&d, all)
		for _, i := range group {
			if i == most || sizes[i] == 0 {
				continue
			}
			for q, x := range out[most] {
				out[i][q] = x * sizes[i] / sizes[most]
			}
			if i == uncertain.PropMass || i == uncertain.MotorMass || most == uncertain.PropMass || most == uncertain.MotorMass {
				d, turning := deviation(i), physics.Moves(uncertain.PropInertia)
				for q, x := range s.moved(&d, turning) {
					if turning.Has(1 << q) {
						out[i][q] = x
					}
				}
			}
		}
	}
	for i := range uncertain.InputCount {
		if u.LnSD[i] > 0 && !done[i] && asked[i] != 0 {
			d := deviation(i)
			out[i] = s.moved(&d, asked[i])
		}
	}
}
