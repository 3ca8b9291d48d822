package predict

import (
	"math"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// Spread sets intervals and bases without draws: each of the independent normal numbers behind the
// uncertain inputs is moved by itself to its 10 % and 90 % points, and what it moves a figure
// upwards or downwards is added up in squares, each way by itself. For figures that follow the
// inputs in a straight line this is what draws give; a test holds the two together. It costs an
// eighth of the draws.
func (r *Result) Spread(style *objective.Style) {
	var up, down [figure.Count]float64
	var share [uncertain.InputCount][figure.Count]float64
	u := &r.Craft.Uncertainty
	for i := range share {
		if u.LnSD[i] == 0 {
			continue
		}
		var normal [uncertain.InputCount]float64
		for _, side := range [...]float64{uncertain.HalfWidth(), -uncertain.HalfWidth()} {
			normal[i] = side
			deviation := u.Deviation(&normal)
			craft := r.Craft.Deviate(&deviation)
			p := craft.Evaluate(&style.Flying)
			for q := range up {
				x, ok := drawn(&p, figure.Quantity(q))
				if !ok {
					continue
				}
				by := x - r.Figures[q].Value
				share[i][q] += by * by
				if by > 0 {
					up[q] += by * by
				} else {
					down[q] += by * by
				}
			}
		}
	}
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
