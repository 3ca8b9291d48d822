package predict

import (
	"context"
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
)

// The places of the throttle in hover that a display shows, of the score, and of whether it cannot hover, 1 or 0, among
// the figures of a propagation, behind the quantities.
const (
	shownFigure    = int(figure.Count)
	scoreFigure    = shownFigure + 1
	groundedFigure = scoreFigure + 1
	figuresDrawn   = groundedFigure + 1
)

// grounded are the figures that are 0 where a craft does not fly: it does not take off, or the style takes more than
// it has.
const grounded figure.Set = 1<<figure.StyleTime | 1<<figure.HoverTime | 1<<figure.CruiseTime | 1<<figure.HardTime |
	1<<figure.UsedCharge | 1<<figure.Range | 1<<figure.TopSpeed

// drawn is a quantity of a performance as a draw counts it; false if it is undefined.
func drawn(p *physics.Performance, q figure.Quantity) (float64, bool) {
	x, why := p.Get(q)
	switch {
	case why == physics.Defined:
		return x, true
	case grounded.Has(figure.SetOf(q)):
		return 0, why == physics.CannotHover || why == physics.NotEnoughThrust
	}
	return 0, false
}

// Judge fills in intervals, bases and shares of results on common draws and returns the scores of the draws, result by
// result, whether feasible or not. Results that do not fit are left as they are.
func Judge(ctx context.Context, results []Result, style *objective.Style, d *Draws, workers int) [][]float64 {
	scores := doubt(ctx, results, style, d, workers, true)
	if ctx.Err() == nil {
		shares(results, scores)
	}
	return scores
}

// Doubt is Judge without shares.
func Doubt(ctx context.Context, results []Result, style *objective.Style, d *Draws, workers int) {
	doubt(ctx, results, style, d, workers, false)
}

func doubt(ctx context.Context, results []Result, style *objective.Style, d *Draws, workers int,
	scored bool) [][]float64 {
	deviations := make([][]uncertain.Deviation, len(results))
	for i := range results {
		if results[i].Misfits == nil {
			deviations[i] = d.deviations(&results[i].Combination, &results[i].Craft.Uncertainty)
		}
	}
	scores := make([][]float64, len(results))
	parallel.For(ctx, workers, len(results), 1, func(i int) {
		r := &results[i]
		r.nominal()
		if deviations[i] == nil {
			return
		}
		scores[i] = r.doubt(deviations[i], style, scored)
		progress.Of(ctx).Add(d.Work(1))
	})
	return scores
}

// Propagate carries the uncertainty of a result's inputs to its figures and its score, on common draws.
func (r *Result) Propagate(ctx context.Context, style *objective.Style, d *Draws, workers int) *uncertain.Propagation {
	defer func() { progress.Of(ctx).Add(d.Work(1)) }()
	return r.propagate(d.deviations(&r.Combination, &r.Craft.Uncertainty), style, each(ctx, workers))
}

func (r *Result) propagate(draws []uncertain.Deviation, style *objective.Style,
	each uncertain.Each) *uncertain.Propagation {
	return uncertain.Propagate(func(at *uncertain.Deviation, values []float64) {
		craft := r.Craft.Deviate(at)
		p := craft.Evaluate(&style.Flying)
		for q := range figure.Count {
			if x, ok := drawn(&p, q); ok {
				values[q] = x
			}
		}
		values[shownFigure] = r.shown(&p, at[uncertain.ThrottleScale])
		values[groundedFigure] = 1
		if p.Hovers() {
			values[groundedFigure] = 0
			v := style.Evaluate(&craft, &p)
			values[scoreFigure] = r.preferred(v.Score)
		} else {
			values[scoreFigure] = 0
		}
	}, figuresDrawn, &r.Craft.Uncertainty, draws, each)
}

// each hands the runs of a propagation out to workers, as long as the context lasts.
func each(ctx context.Context, workers int) uncertain.Each {
	return func(n int, do func(int)) { parallel.For(ctx, workers, n, 8, do) }
}

// Take sets figures, intervals and bases from a propagation and returns the scores of its draws.
func (r *Result) Take(p *uncertain.Propagation, style *objective.Style) []float64 {
	r.nominal()
	for q := range r.Figures {
		if v := &r.Figures[q]; v.Why == physics.Defined {
			v.Low, v.High = p.Interval(q)
			v.Basis = p.Basis(q)
		}
	}
	if !math.IsNaN(p.Nominal(shownFigure)) {
		r.Shown = valueOf(p, shownFigure)
	}
	r.limitsAtRisk(style)
	r.GroundedShare = mean(p.Drawn(groundedFigure))
	return p.Drawn(scoreFigure)
}

// mean is the mean of the values that are numbers, 0 without any.
func mean(values []float64) float64 {
	sum, n := 0.0, 0
	for _, x := range values {
		if !math.IsNaN(x) {
			sum, n = sum+x, n+1
		}
	}
	return sum / math.Max(float64(n), 1)
}

// shown is the throttle in hover that a display shows of a performance, its scale off by a logarithm; NaN if it cannot
// hover.
func (r *Result) shown(p *physics.Performance, lnScale float64) float64 {
	duty, ok := drawn(p, figure.HoverThrottle)
	if !ok {
		return math.NaN()
	}
	return math.Min(r.Combination.Board.Throttle.SI().Shown(duty)*math.Exp(r.throttleScale()+lnScale), 1)
}

// value is a figure by its place, behind the quantities what a display shows.
func (r *Result) value(place int) *Value {
	if place == shownFigure {
		return &r.Shown
	}
	return &r.Figures[place]
}

// nominal sets every figure to its nominal value alone.
func (r *Result) nominal() {
	for q := range r.Figures {
		v := &r.Figures[q]
		v.Value, v.Why = r.Performance.Get(figure.Quantity(q))
		v.Low, v.High, v.Basis = v.Value, v.Value, uncertain.Estimated
	}
	r.Shown = r.Figures[figure.HoverThrottle]
	if r.Shown.Why == physics.Defined {
		x := r.shown(&r.Performance, 0)
		r.Shown.Value, r.Shown.Low, r.Shown.High = x, x, x
	}
}

// valueOf is a figure of a propagation with its interval and basis; the figure must be defined.
func valueOf(p *uncertain.Propagation, k int) Value {
	v := Value{Value: p.Nominal(k), Basis: p.Basis(k)}
	v.Low, v.High = p.Interval(k)
	return v
}

// Delta is how much more of a quantity a second result has than a first over common draws; undefined
// if either is.
func Delta(q figure.Quantity, first, second *Result, before, after *uncertain.Propagation) Value {
	a, b := &first.Figures[q], &second.Figures[q]
	if why := max(a.Why, b.Why); why != physics.Defined {
		return Value{Why: why, Basis: uncertain.Estimated}
	}
	v := Value{Value: b.Value - a.Value, Basis: max(a.Basis, b.Basis)}
	v.Low, v.High = v.Value, v.Value
	was, is := before.Drawn(int(q)), after.Drawn(int(q))
	var more []float64
	for s := range was {
		if x := is[s] - was[s]; !math.IsNaN(x) {
			more = append(more, x)
		}
	}
	if len(more) > 0 {
		v.Low = math.Min(v.Value, uncertain.Quantile(more, uncertain.LowShare))
		v.High = math.Max(v.Value, uncertain.Quantile(more, uncertain.HighShare))
	}
	return v
}
