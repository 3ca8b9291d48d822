package predict

import (
	"context"
	"math"
	"slices"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/parallel"
)

// The ends of an interval, and the share of a figure's variance from which on an input's basis
// counts.
const (
	lowPoint, highPoint = 0.10, 0.90
	basisShare          = 0.10
)

// judgeDraws fills in intervals, bases and shares of results on common draws. Results that do not
// fit are left as they are. Scores are those of the draws, whether feasible or not.
func Judge(ctx context.Context, results []Result, style *objective.Style, d *Draws, workers int) {
	scores := make([][]float64, len(results))
	deviations := make([][]uncertain.Deviation, len(results))
	for i := range results {
		if results[i].Misfits == nil {
			deviations[i] = d.deviations(&results[i].Combination, &results[i].Craft.Uncertainty)
		}
	}
	parallel.For(ctx, workers, len(results), 1, func(i int) {
		r := &results[i]
		r.nominal()
		if deviations[i] == nil {
			return
		}
		scores[i] = r.draw(deviations[i], style)
		r.Straddles(style)
		r.bases(style)
	})
	if ctx.Err() == nil {
		shares(results, scores)
	}
}

// nominal sets every figure to its nominal value alone.
func (r *Result) nominal() {
	for q := range r.Figures {
		v := &r.Figures[q]
		v.Value, v.Why = r.Performance.Get(figure.Quantity(q))
		v.Low, v.High, v.Basis = v.Value, v.Value, uncertain.Estimated
	}
}

// draw evaluates the draws, sets the intervals and returns the scores.
func (r *Result) draw(deviations []uncertain.Deviation, style *objective.Style) []float64 {
	scores := make([]float64, len(deviations))
	values := make([][]float64, figure.Count)
	for i := range deviations {
		craft := r.Craft.Deviate(&deviations[i])
		p := craft.Evaluate(&style.Flying)
		v := style.Evaluate(&craft, &p)
		scores[i] = Preferred(v.Score, r.novelty, r.Unlike)
		for q := range values {
			if x, why := p.Get(figure.Quantity(q)); why == physics.Defined {
				values[q] = append(values[q], x)
			}
		}
	}
	for q := range r.Figures {
		v := &r.Figures[q]
		if v.Why != physics.Defined || len(values[q]) == 0 {
			continue
		}
		slices.Sort(values[q])
		// The nominal value is part of the interval even where the draws lie to one side, as with
		// a cap of 100 %.
		v.Low = math.Min(v.Value, point(values[q], lowPoint))
		v.High = math.Max(v.Value, point(values[q], highPoint))
	}
	return scores
}

// point is the value at a share of sorted values, between neighbours by proportion.
func point(sorted []float64, share float64) float64 {
	x := share * float64(len(sorted)-1)
	i := min(int(x), len(sorted)-2)
	if i < 0 {
		return sorted[0]
	}
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}

// bases sets each figure's basis: the weakest among the inputs that carry a tenth of its variance
// when each is moved by one standard deviation up and down, the others held. A figure that hangs
// on no uncertain input follows from labels.
func (r *Result) bases(style *objective.Style) {
	var part [uncertain.InputCount][figure.Count]float64
	var sum [figure.Count]float64
	u := &r.Craft.Uncertainty
	for i := range part {
		if u.LnSD[i] == 0 {
			continue
		}
		var d uncertain.Deviation
		d[i] = u.LnSD[i]
		above := r.Craft.Deviate(&d)
		up := above.Evaluate(&style.Flying)
		d[i] = -d[i]
		below := r.Craft.Deviate(&d)
		down := below.Evaluate(&style.Flying)
		for q := range sum {
			a, whyA := up.Get(figure.Quantity(q))
			b, whyB := down.Get(figure.Quantity(q))
			if whyA == physics.Defined && whyB == physics.Defined {
				part[i][q] = (a - b) * (a - b) / 4
				sum[q] += part[i][q]
			}
		}
	}
	for q := range sum {
		if r.Figures[q].Why != physics.Defined {
			continue
		}
		basis := uncertain.Measured
		if sum[q] <= 0 {
			basis = uncertain.Label
		}
		for i := range part {
			if part[i][q] > 0 && part[i][q] >= basisShare*sum[q] {
				basis = max(basis, u.Basis[i])
			}
		}
		r.Figures[q].Basis = basis
	}
}
