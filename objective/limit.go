package objective

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"partsaloft/physics/figure"
)

// Range is what a figure may be, ends included; an open end is infinite.
type Range struct{ Low, High float64 }

// ParseRange reads ..250, 3.. or 2..4.
func ParseRange(text string) (Range, error) {
	low, high, ok := strings.Cut(strings.TrimSpace(text), "..")
	if !ok {
		return Range{}, fmt.Errorf("%q is no range: write ..250 (at most), 3.. (at least) or 2..4 (between)", text)
	}
	r := Range{math.Inf(-1), math.Inf(1)}
	if err := end(low, &r.Low); err != nil {
		return Range{}, fmt.Errorf("range %q: %w", text, err)
	}
	if err := end(high, &r.High); err != nil {
		return Range{}, fmt.Errorf("range %q: %w", text, err)
	}
	if math.IsInf(r.Low, 0) && math.IsInf(r.High, 0) {
		return Range{}, fmt.Errorf("range %q has no number: write ..250, 3.. or 2..4", text)
	}
	if r.Low > r.High {
		return Range{}, fmt.Errorf("range %q: the lower end %g lies over the upper end %g; swap them", text, r.Low, r.High)
	}
	return r, nil
}

func end(text string, into *float64) error {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(text, "xXpP_") {
		return fmt.Errorf("%q is no number; write it plainly, such as 250 or 3.5", text)
	}
	*into = x
	return nil
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

// ParseLimit reads all_up_g=..250.
func ParseLimit(text string) (Limit, error) {
	key, value, ok := strings.Cut(text, "=")
	key = strings.TrimSpace(key)
	if !ok {
		return Limit{}, fmt.Errorf("%q is no limit: write FIGURE=RANGE, such as all_up_g=..250", text)
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

// unknownFigure names the nearest figure.
func unknownFigure(key string) error {
	best, least := figure.Quantity(0).Key(), len(key)+1
	for q := range figure.Count {
		if d := editDistance(key, q.Key()); d < least {
			best, least = q.Key(), d
		}
	}
	return fmt.Errorf("%q is no figure; the nearest is %s", key, best)
}

// editDistance is the number of letters to add, drop or change between a and b (Levenshtein).
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := diagonal
			if a[i-1] != b[j-1] {
				change++
			}
			diagonal = row[j]
			row[j] = min(change, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
