package calibration

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// Shares of a group's usual full thrust at which power is compared.
const (
	quarter = 0.25
	most    = 0.60
)

// Stands are the cases of every quantity, group by group: a group is one stand on one supply, and what is compared in
// it was read under like conditions.
type Stands struct {
	Groups [quantities][][]Case
	Tried  []Tried
}

// Tried is a curve with what its readings bring.
type Tried struct {
	Class  string
	Values [targets]Case
	Has    [targets]bool
}

// TryStands predicts every curve under laws that have not seen its stand.
func TryStands(curves []Curve, left func(stand string) (*Laws, error), air rotor.Air, draws int) (*Stands, error) {
	d := NewDraws(draws)
	var out Stands
	for _, group := range supplies(curves) {
		usual := usualFull(group)
		var cases [quantities][]Case
		for _, c := range group {
			laws, err := left(c.Stand)
			if err != nil {
				return nil, err
			}
			s, err := c.Predict(laws, air, d)
			if err != nil {
				return nil, err
			}
			for q := range CT {
				if one, ok := s.quantity(q, usual); ok {
					cases[q] = append(cases[q], one)
				}
			}
			if !c.ThrustScaled {
				out.Tried = append(out.Tried, s.try(usual))
			}
		}
		for q := range CT {
			out.Groups[q] = append(out.Groups[q], cases[q])
		}
	}
	return &out, nil
}

// supplies sorts curves into groups of one stand whose supply is the same to 8 %.
func supplies(curves []Curve) [][]*Curve {
	list := make([]*Curve, len(curves))
	for i := range curves {
		list[i] = &curves[i]
	}
	slices.SortStableFunc(list, func(a, b *Curve) int {
		return cmp.Or(cmp.Compare(a.Stand, b.Stand), cmp.Compare(a.SupplyV, b.SupplyV))
	})
	var out [][]*Curve
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].Stand == list[i].Stand && list[j].SupplyV < 1.08*list[i].SupplyV {
			j++
		}
		out = append(out, list[i:j])
		i = j
	}
	return out
}

// usualFull is the median of the largest thrusts of a group.
func usualFull(group []*Curve) float64 {
	var x []float64
	for _, c := range group {
		x = append(x, c.MostN())
	}
	return residual.Median(x)
}

// quantity is one quantity of a curve as it was read and as it is predicted, where it was read.
func (s *Standing) quantity(q Quantity, usualN float64) (Case, bool) {
	var at Reading
	ok := false
	switch q {
	case PowerQuarter:
		at, ok = s.AtThrust(quarter * usualN)
	case PowerMost:
		at, ok = s.AtThrust(most * usualN)
	case ThrustHalf, CurrentHalf:
		if s.WholeThrottle { // some testers' full duty lies at 60 or 84 % of what they call throttle
			at, ok = s.AtThrottle(0.5)
		}
	case ThrustFull, CurrentFull:
		at, ok = s.Full()
	}
	if !ok {
		return Case{}, false
	}
	var read, predicted float64
	var drawn []float64
	switch q {
	case PowerQuarter, PowerMost:
		read = at.PowerW
		predicted, drawn = s.each(powerAt(at.VoltageV, at.ThrustN))
	case ThrustHalf:
		read = at.ThrustN
		predicted, drawn = s.each(pointAt(at.VoltageV, 0.5, thrustOf))
	case CurrentHalf:
		read = at.CurrentA
		predicted, drawn = s.each(pointAt(at.VoltageV, 0.5, currentOf))
	case ThrustFull:
		read = at.ThrustN
		predicted, drawn = s.each(pointAt(at.VoltageV*at.Duty, 1, thrustOf))
	case CurrentFull:
		// What the ESC draws from the supply is the share of the period that the motor's is switched on.
		read = at.CurrentA / at.Duty
		predicted, drawn = s.each(pointAt(at.VoltageV*at.Duty, 1, currentOf))
	}
	return caseOf(s, math.Log(read), predicted, drawn), !math.IsNaN(predicted) && read > 0
}
