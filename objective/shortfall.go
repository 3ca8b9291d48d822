package objective

import "partsaloft/physics"

// AxisShortfall is what one axis costs a score.
type AxisShortfall struct {
	Axis   Axis
	Value  float64 // 0 to 100
	Weight float64 // its share of all weights
	// Points are how many the score would gain were this axis at 100.
	Points   float64
	Criteria []CriterionShortfall
}

// CriterionShortfall is what one criterion costs the score.
type CriterionShortfall struct {
	Criterion    Criterion
	Value        float64 // in the figure's unit; 0 if undefined
	Undefined    physics.Reason
	Desirability float64 // 0 to 1
	// Points are how many the score would gain were this desirability 1.
	Points float64
}

// Shortfalls says axis by axis what holds the score of a performance down. Points do not add up to what is missing to
// 100, for the axes multiply: each is what that axis or criterion alone would give back.
func (s *Style) Shortfalls(p *physics.Performance) [AxisCount]AxisShortfall {
	d := Desirabilities(p)
	axes := AxesFrom(&d)
	score := s.Weights.Score(&axes)
	var list [AxisCount]AxisShortfall
	for a := range list {
		best := axes
		best[a] = 100
		list[a] = AxisShortfall{Axis: Axis(a), Value: axes[a], Weight: s.Weights[a], Points: s.Weights.Score(&best) - score}
	}
	for i := range criteria {
		f := &criteria[i]
		better := d
		better[i] = 1
		with := AxesFrom(&better)
		value, why := p.Figure(f.Quantity)
		of := &list[f.Axis]
		of.Criteria = append(of.Criteria, CriterionShortfall{*f, value, why, d[i], s.Weights.Score(&with) - score})
	}
	return list
}
