package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// Shown is a figure of a result in the pilot's unit, with its 80 % interval.
type Shown struct {
	figure.Figure
	Value, Low, High float64
	Basis            string
	Why              physics.Reason
}

// ShownOf is a figure of a result.
func ShownOf(r *predict.Result, q figure.Quantity) Shown { return ShownAs(r.Figures[q], figure.Of(q)) }

// ShownAs is a value in the unit of a figure.
func ShownAs(v predict.Value, f figure.Figure) Shown {
	return Shown{f, f.FromSI(v.Value), f.FromSI(v.Low), f.FromSI(v.High), v.Basis.String(), v.Why}
}

// Leading is the figure that leads an axis.
func Leading(r *predict.Result, a objective.Axis) Shown {
	return ShownOf(r, objective.LeadingFigure(a).Quantity)
}

// Defined reports whether the figure has a value.
func (f *Shown) Defined() bool { return f.Why == physics.Defined }

// Number is the value with the digits that its interval supports, without its unit. A throttle cap comes
// in whole per cent, rounded down: what is set in software must not be over it.
func (f *Shown) Number() string {
	if !f.Defined() {
		return "–"
	}
	if f.Quantity == figure.ThrottleCap {
		return strconv.Itoa(int(math.Floor(f.Value)))
	}
	return Number(f.Value, f.Low, f.High)
}

// String is the number with its unit.
func (f *Shown) String() string {
	if !f.Defined() {
		return "undefined"
	}
	return WithUnit(f.Number(), f.Unit)
}

// Span is the interval without its unit.
func (f *Shown) Span() string {
	switch {
	case !f.Defined():
		return "–"
	case f.Quantity == figure.ThrottleCap && f.High > f.Low:
		return fmt.Sprintf("%.0f to %.0f", math.Floor(f.Low), math.Floor(f.High))
	}
	return Interval(f.Value, f.Low, f.High)
}

// Against sets the figures that make an axis differ side by side: the leading one, or, where that
// one points the other way, the one that moved most.
func Against(a, b *predict.Result, axis objective.Axis) string {
	f, g := Leading(a, axis), Leading(b, axis)
	if q, ok := telling(a, b, axis); ok {
		f, g = ShownOf(a, q), ShownOf(b, q)
	}
	return fmt.Sprintf("%s %s vs %s", FigureName(f.Key), PairNumber(&f, &g), g.PairString(&f))
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

// PairNumber is f with digits enough to tell it from g.
func PairNumber(f, g *Shown) string {
	if !f.Defined() {
		return "none"
	}
	return Fixed(f.Value, pairDecimals(f, g))
}

// PairString is f, with its unit, with digits enough to tell it from g.
func (f *Shown) PairString(g *Shown) string {
	if !f.Defined() {
		return "none"
	}
	return WithUnit(PairNumber(f, g), f.Unit)
}

func pairDecimals(f, g *Shown) int {
	if !f.Defined() || !g.Defined() {
		return max(Decimals(f.Value, f.Low, f.High), 0)
	}
	d := max(Decimals(f.Value, f.Low, f.High), Decimals(g.Value, g.Low, g.High))
	for d < 3 && f.Value != g.Value && Fixed(f.Value, d) == Fixed(g.Value, d) {
		d++
	}
	return d
}

// DeltasText lists what another combination gains and costs on each axis: the axes that are asked
// for, then gains, then costs.
func DeltasText(from, to *predict.Result, asked []objective.Axis) string {
	var first, gains, costs []string
	for axis := range objective.AxisCount {
		delta := to.Evaluation.Axes[axis] - from.Evaluation.Axes[axis]
		text := fmt.Sprintf("%s %s (%s)", SignedFixed(delta, 0), axis, Against(to, from, axis))
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
