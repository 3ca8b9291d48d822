package predict

import (
	"context"
	"math"
	"slices"

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
func Differences(ctx context.Context, style *objective.Style, first, second *Result, o Sampling) []Difference {
	d := NewDraws(o)
	before := d.Performances(ctx, first, &style.Flying, o.Workers)
	after := d.Performances(ctx, second, &style.Flying, o.Workers)
	if ctx.Err() != nil {
		return nil
	}
	components := Components(style, &first.Craft, &second.Craft)
	var list []Difference
	for q := range figure.Count {
		v := Delta(q, first, second, before, after)
		if v.Why != physics.Defined || v.Value == 0 && v.Low == 0 && v.High == 0 {
			continue
		}
		list = append(list, Difference{q, v, v.Low > 0 || v.High < 0, components[q]})
	}
	return list
}

// Delta is how much more of a quantity the second has than the first over common draws;
// undefined if either is.
func Delta(q figure.Quantity, first, second *Result, before, after []physics.Performance) Value {
	a, whyA := first.Performance.Get(q)
	b, whyB := second.Performance.Get(q)
	if why := max(whyA, whyB); why != physics.Defined {
		return Value{Why: why, Basis: uncertain.Estimated}
	}
	v := Value{Value: b - a, Low: b - a, High: b - a, Basis: max(first.Figures[q].Basis, second.Figures[q].Basis)}
	var values []float64
	for s := range before {
		x, whyX := before[s].Get(q)
		y, whyY := after[s].Get(q)
		if whyX == physics.Defined && whyY == physics.Defined {
			values = append(values, y-x)
		}
	}
	if len(values) > 0 {
		slices.Sort(values)
		v.Low, v.High = math.Min(v.Value, point(values, lowPoint)), math.Max(v.Value, point(values, highPoint))
	}
	return v
}
