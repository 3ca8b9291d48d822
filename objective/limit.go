package objective

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
	"partsaloft/physics/figure"
)

// Range is what a figure may be, ends included; an open end is infinite.
type Range struct{ Low, High float64 }

// ParseRange reads ..250, 3.. or 2..4. The error is a *strict.Problem.
func ParseRange(text string) (Range, error) {
	low, high, ok := strings.Cut(strings.TrimSpace(text), "..")
	if !ok {
		return Range{}, problem("range.form", strict.Values{"got": strict.Quoted(text)})
	}
	r := Range{math.Inf(-1), math.Inf(1)}
	for _, end := range [...]struct {
		text string
		into *float64
	}{{strings.TrimSpace(low), &r.Low}, {strings.TrimSpace(high), &r.High}} {
		if end.text == "" {
			continue
		}
		x, err := strconv.ParseFloat(end.text, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(end.text, "xXpP_") {
			return Range{}, problem("range.end", strict.Values{"range": strict.Quoted(text), "got": strict.Quoted(end.text)})
		}
		*end.into = x
	}
	if math.IsInf(r.Low, 0) && math.IsInf(r.High, 0) {
		return Range{}, problem("range.empty", strict.Values{"got": strict.Quoted(text)})
	}
	if r.Low > r.High {
		return Range{}, problem("range.swapped", strict.Values{"range": strict.Quoted(text), "low": r.Low, "high": r.High})
	}
	return r, nil
}

// String writes the range as ParseRange reads it.
func (r Range) String() string {
	var low, high string
	if !math.IsInf(r.Low, 0) {
		low = strconv.FormatFloat(r.Low, 'g', -1, 64)
	}
	if !math.IsInf(r.High, 0) {
		high = strconv.FormatFloat(r.High, 'g', -1, 64)
	}
	return low + ".." + high
}

// Holds reports whether x lies inside.
func (r Range) Holds(x float64) bool { return x >= r.Low && x <= r.High }

// Bound is the end that x breaks, or the nearer one if x lies inside.
func (r Range) Bound(x float64) float64 {
	if x < r.Low || math.IsInf(r.High, 0) {
		return r.Low
	}
	return r.High
}

// Limit is a range that a figure must keep, in the figure's unit.
type Limit struct {
	Quantity figure.Quantity
	Range    Range
}

// Key is the figure's key.
func (l Limit) Key() string { return l.Quantity.Key() }

// ParseLimit reads all_up_g=..250. The error is or wraps a *strict.Problem.
func ParseLimit(text string) (Limit, error) {
	key, value, ok := strings.Cut(text, "=")
	key = strings.TrimSpace(key)
	if !ok {
		return Limit{}, problem("limit.form", strict.Values{"got": strict.Quoted(text)})
	}
	f, known := figure.ByKey(key)
	if !known {
		return Limit{}, unknownFigure(key)
	}
	r, err := ParseRange(value)
	if err != nil {
		return Limit{}, fmt.Errorf("limit %s: %w", key, err)
	}
	return Limit{f.Quantity, r}, nil
}

// String writes the limit as ParseLimit reads it.
func (l Limit) String() string { return l.Key() + "=" + l.Range.String() }

// unknownFigure is the problem of a key that is no figure's, with the figure that was most likely meant.
func unknownFigure(key string) *strict.Problem {
	p := strict.Problem{Code: "limit.figure", Way: "figure.such", Values: strict.Values{"got": strict.Quoted(key)}}
	if near := strict.Nearest(key, figure.Keys()); near != "" {
		p.Way, p.Values["near"] = "id.near", near
	}
	return &p
}

func problem(code strict.Code, values strict.Values) *strict.Problem {
	return &strict.Problem{Code: code, Values: values}
}
