package predict

import (
	"context"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Difference is how much more of a figure one result has than another, in SI, over common draws.
type Difference struct {
	Quantity figure.Quantity
	Value    Value
	// Real says that the interval of the difference leaves out zero.
	Real bool
	// Causes are what makes it, the strongest first.
	Causes []Contribution
}

// Differences holds a result against another: for each figure that both have, how much more the
// second has, on common draws, so that what both share cancels out. Figures that are equal in
// every draw are left out.
func Differences(ctx context.Context, style *objective.Style, first, second *Result, o Sampling) []Difference {
	d := NewDraws(o)
	before, after := first.Propagate(ctx, style, d, o.Workers), second.Propagate(ctx, style, d, o.Workers)
	if ctx.Err() != nil {
		return nil
	}
	contributions := Contributions(style, &first.Craft, &second.Craft)
	var list []Difference
	for q := range figure.Count {
		v := Delta(q, first, second, before, after)
		if v.Why != physics.Defined || v.Value == 0 && v.Low == 0 && v.High == 0 {
			continue
		}
		list = append(list, Difference{q, v, v.Low > 0 || v.High < 0, contributions[q]})
	}
	return list
}
