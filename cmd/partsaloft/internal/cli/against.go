package cli

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
	f, g := leading(a, axis), leading(b, axis)
	if q, ok := telling(a, b, axis); ok {
		f, g = shownOf(a, q), shownOf(b, q)
	}
	return fmt.Sprintf("%s %s against %s", nameOf(f.Key), pairNumber(&f, &g), g.pairString(&f))
}

// telling is the figure of an axis whose desirability moved most in the axis's own direction.
func telling(a, b *predict.Result, axis objective.Axis) (figure.Quantity, bool) {
	sign := a.Evaluation.Axes[axis] - b.Evaluation.Axes[axis]
	most, found := 0.0, false
	var which figure.Quantity
	for _, criterion := range objective.Criteria() {
		if criterion.Axis != axis {
			continue
		}
		move := desirability(a, &criterion) - desirability(b, &criterion)
		if move*sign > 0 && math.Abs(move) > most {
			most, which, found = math.Abs(move), criterion.Quantity, true
		}
	}
	return which, found
}

func desirability(r *predict.Result, criterion *objective.Criterion) float64 {
	f := shownOf(r, criterion.Quantity)
	if !f.defined() {
		return 0
	}
	return criterion.Scale.Desirability(f.value)
}

// pairNumber is f with digits enough to tell it from g.
func pairNumber(f, g *shown) string {
	if !f.defined() {
		return "none"
	}
	return catalogue.Fixed(f.value, pairDecimals(f, g))
}

// pairString is f, with its unit, with digits enough to tell it from g.
func (f *shown) pairString(g *shown) string {
	if !f.defined() {
		return "none"
	}
	return withUnit(pairNumber(f, g), f.Unit)
}

func pairDecimals(f, g *shown) int {
	if !f.defined() || !g.defined() {
		return max(catalogue.Decimals(f.value, f.low, f.high), 0)
	}
	d := max(catalogue.Decimals(f.value, f.low, f.high), catalogue.Decimals(g.value, g.low, g.high))
	for d < 3 && f.value != g.value && catalogue.Fixed(f.value, d) == catalogue.Fixed(g.value, d) {
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
