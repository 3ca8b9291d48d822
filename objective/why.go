package objective

import "partsaloft/physics"

// AxisShare is what one axis does to a score.
type AxisShare struct {
	Axis   Axis
	Value  float64 // 0 to 100
	Weight float64 // its share of all weights
	// Cost is how many points the score would gain were this axis at 100.
	Cost    float64
	Figures []FigureShare
}

// FigureShare is what one figure does to its axis and to the score.
type FigureShare struct {
	Feed         Feed
	Value        float64 // in the figure's unit; 0 if undefined
	Undefined    physics.Reason
	Desirability float64 // 0 to 1
	// Cost is how many points the score would gain were this figure's desirability 1.
	Cost float64
}

// Why takes the score of a performance apart, axis by axis. Costs do not add up to what is missing
// to 100, for the axes multiply: each is what that axis or figure alone would give back.
func (s *Style) Why(p *physics.Performance) [AxisCount]AxisShare {
	d := Desirabilities(p)
	axes := AxesFrom(&d)
	score := s.Weights.Score(&axes)
	var shares [AxisCount]AxisShare
	for a := range shares {
		best := axes
		best[a] = 100
		shares[a] = AxisShare{Axis: Axis(a), Value: axes[a], Weight: s.Weights[a], Cost: s.Weights.Score(&best) - score}
	}
	for i := range feeds {
		f := &feeds[i]
		better := d
		better[i] = 1
		with := AxesFrom(&better)
		value, why := p.Figure(f.Quantity)
		share := &shares[f.Axis]
		share.Figures = append(share.Figures, FigureShare{*f, value, why, d[i], s.Weights.Score(&with) - score})
	}
	return shares
}
