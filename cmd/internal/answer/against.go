package answer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// against sets the figures that make an axis differ side by side: the leading one, or, where that
// one points the other way, the one that moved most.
func against(a, b *predict.Result, axis objective.Axis) string {
	f, g := Leading(a, axis), Leading(b, axis)
	if q, ok := telling(a, b, axis); ok {
		f, g = ShownOf(a, q), ShownOf(b, q)
	}
	return fmt.Sprintf("%s %s against %s", catalogue.FigureName(f.Key), pairNumber(&f, &g), g.pairString(&f))
}

// telling is the figure of an axis whose desirability moved most in the axis's own direction.
func telling(a, b *predict.Result, axis objective.Axis) (figure.Quantity, bool) {
	sign := a.Evaluation.Axes[axis] - b.Evaluation.Axes[axis]
	most, found := 0.0, false
	var which figure.Quantity
	for _, feed := range objective.Criteria() {
		if feed.Axis != axis {
			continue
		}
		move := desirability(a, &feed) - desirability(b, &feed)
		if move*sign > 0 && math.Abs(move) > most {
			most, which, found = math.Abs(move), feed.Quantity, true
		}
	}
	return which, found
}

func desirability(r *predict.Result, feed *objective.Criterion) float64 {
	f := ShownOf(r, feed.Quantity)
	if !f.Defined() {
		return 0
	}
	return feed.Scale.Desirability(f.Value)
}

// pairNumber is f with digits enough to tell it from g.
func pairNumber(f, g *Shown) string {
	if !f.Defined() {
		return "none"
	}
	return catalogue.Fixed(f.Value, pairDecimals(f, g))
}

// pairString is f, with its unit, with digits enough to tell it from g.
func (f *Shown) pairString(g *Shown) string {
	if !f.Defined() {
		return "none"
	}
	return catalogue.WithUnit(pairNumber(f, g), f.Unit)
}

func pairDecimals(f, g *Shown) int {
	if !f.Defined() || !g.Defined() {
		return max(catalogue.Decimals(f.Value, f.Low, f.High), 0)
	}
	d := max(catalogue.Decimals(f.Value, f.Low, f.High), catalogue.Decimals(g.Value, g.Low, g.High))
	for d < 3 && f.Value != g.Value && catalogue.Fixed(f.Value, d) == catalogue.Fixed(g.Value, d) {
		d++
	}
	return d
}

// deltasText lists what another combination gains and costs on each axis: the axes that are asked
// for, then gains, then costs.
func deltasText(from, to *predict.Result, asked []objective.Axis) string {
	var first, gains, costs []string
	for axis := range objective.AxisCount {
		delta := to.Evaluation.Axes[axis] - from.Evaluation.Axes[axis]
		text := fmt.Sprintf("%s %s (%s)", catalogue.SignedFixed(delta, 0), axis, against(to, from, axis))
		switch {
		case math.Abs(delta) < 0.5:
		case slices.Contains(asked, axis):
			first = append(first, text)
		case delta > 0:
			gains = append(gains, text)
		default:
			costs = append(costs, text)
		}
	}
	return strings.Join(slices.Concat(first, gains, costs), ", ")
}
