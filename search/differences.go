package search

import (
	"context"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// Difference is how much more of a figure one result has than another, in SI, over common draws.
type Difference struct {
	Quantity figure.Quantity
	Value    Value
	// Real says that the interval of the difference leaves out zero.
	Real bool
	// Causes are what makes it, the strongest first.
	Causes []Component
}

// Differences holds a result against another: for each figure that both have, how much more the
// second has, on common draws, so that what both share cancels out. Figures that are equal in
// every draw are left out.
func Differences(ctx context.Context, style *objective.Style, first, second *Result, o Options) []Difference {
	d := newDraws(o.Draws, o.Seed)
	results := [2]*Result{first, second}
	var deviations [2][]uncertain.Deviation
	var drawn [2][]physics.Performance
	for i, r := range results {
		deviations[i] = d.deviations(&r.Combination, &r.Craft.Uncertainty)
		drawn[i] = make([]physics.Performance, len(deviations[i]))
	}
	n := len(drawn[0])
	parallel(ctx, o.Workers, 2*n, 8, func(i int) {
		side, s := i/n, i%n
		craft := results[side].Craft.Deviate(&deviations[side][s])
		drawn[side][s] = craft.Evaluate(&style.Flying)
	})
	if ctx.Err() != nil {
		return nil
	}
	components := Components(style, &first.Craft, &second.Craft)
	var list []Difference
	for q := range figure.Count {
		v := deltaOf(q, first, second, drawn[0], drawn[1])
		if v.Why != physics.Defined || v.Value == 0 && v.Low == 0 && v.High == 0 {
			continue
		}
		list = append(list, Difference{q, v, v.Low > 0 || v.High < 0, components[q]})
	}
	return list
}
