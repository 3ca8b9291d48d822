package inventory

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

// Lengths are the sizes that a part can take, in mm: written as one number, a list of numbers, or
// a text such as 16x16. Sorted, without repetition.
type Lengths []float64

// square is a pattern written as its two sides, screws left out.
var square = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?(?:mm)? ?[x×*] ?(\d+(?:\.\d+)?)(?: ?mm)?(?: ?[Mm]\d(?:\.\d)?)?$`)

// ReadNode reads the written forms.
func (l *Lengths) ReadNode(n strict.Node) {
	if !n.IsList() {
		if x, ok := oneLength(n); ok {
			*l = Lengths{x}
		}
		return
	}
	items, ok := n.Items()
	if !ok {
		return
	}
	if len(items) == 0 {
		n.Fault("is an empty list; write a number such as 16, or leave the key out")
		return
	}
	for _, item := range items {
		if x, ok := oneLength(item.Like(n)); ok {
			*l = append(*l, x)
		}
	}
	slices.Sort(*l)
	*l = slices.Compact(*l)
}

func oneLength(n strict.Node) (float64, bool) {
	if n.IsScalar() {
		if m := square.FindStringSubmatch(strings.TrimSpace(n.Raw())); m != nil {
			a, errA := strconv.ParseFloat(m[1], 64)
			b, errB := strconv.ParseFloat(m[2], 64)
			if errA == nil && errB == nil {
				if a != b {
					n.Fault("must have equal sides, got %s; write [%g, %g] if it takes either", strict.Show(n.Raw()), a, b)
					return 0, false
				}
				return a, n.InBounds(a)
			}
		}
	}
	if n.IsScalar() {
		if m := either.FindStringSubmatch(strings.TrimSpace(n.Raw())); m != nil {
			n.Fault("must be a plain number, got %s; write [%s, %s] if it takes either", strict.Show(n.Raw()), m[1], m[2])
			return 0, false
		}
	}
	return n.Number()
}

// either is two sizes that a part takes.
var either = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?(?:mm)? ?(?:or|and|oder|&|\+|/|;) ?(\d+(?:\.\d+)?)(?: ?mm)?$`)

// String lists the lengths: "9 or 12 mm".
func (l Lengths) String() string {
	words := make([]string, len(l))
	for i, x := range l {
		words[i] = number(x)
	}
	return strings.Join(words, " or ") + " mm"
}

// Common is a length in both, false if there is none.
func (l Lengths) Common(m Lengths) (float64, bool) {
	for _, a := range l {
		for _, b := range m {
			if a == b {
				return a, true
			}
		}
	}
	return 0, false
}

// CellRange is a range of cells in series, both ends allowed; written [2, 4].
type CellRange struct{ Min, Max int }

var cellText = regexp.MustCompile(`^ *(\d{1,2}) *[sS]? *(?:(?:-|–|\.\.|to|/) *(\d{1,2}) *[sS]?)? *$`)

// ReadNode reads [2, 4].
func (c *CellRange) ReadNode(n strict.Node) {
	if n.IsScalar() {
		way := "write [2, 4] for two to four cells"
		if m := cellText.FindStringSubmatch(n.Raw()); m != nil {
			low, high := m[1], m[2]
			way = fmt.Sprintf("write [%s, %s]", low, high)
			if high == "" {
				way = fmt.Sprintf("write [%s, %s] for %s only, or the whole range such as [2, 4]", low, low, low)
			}
		}
		n.Fault("must be the least and the most cells in brackets, got %s; %s", strict.Show(n.Raw()), way)
		return
	}
	items, ok := n.Items()
	if !ok {
		return
	}
	if len(items) != 2 {
		count := fmt.Sprintf("%d numbers", len(items))
		if len(items) == 1 {
			count = "one value"
		}
		n.Fault("must be the least and the most cells, got %s; %s", count, cellsHelp(items))
		return
	}
	low, okLow := items[0].Limits(1, 14, "cells").Int()
	high, okHigh := items[1].Limits(1, 14, "cells").Int()
	if !okLow || !okHigh {
		return
	}
	if low > high {
		n.Fault("must begin with the least, got [%d, %d]; write [%d, %d]", low, high, high, low)
		return
	}
	*c = CellRange{low, high}
}

// cellsHelp is the way out for a list that is no pair: 2, 3, 4 or 2-4 in brackets, or one number.
func cellsHelp(items []strict.Node) string {
	var each []int
	for i, item := range items {
		m := cellText.FindStringSubmatch(item.Raw())
		if !item.IsScalar() || m == nil || len(items) > 1 && m[2] != "" {
			each = nil
			break
		}
		cells := int(mustParse(m[1]))
		if i > 0 && cells != each[i-1]+1 {
			each = nil
			break
		}
		each = append(each, cells)
		if m[2] != "" {
			each = append(each, int(mustParse(m[2])))
		}
	}
	switch {
	case len(each) == 1:
		return fmt.Sprintf("write [%d, %d] for %d only, or the whole range such as [2, 4]", each[0], each[0], each[0])
	case len(each) > 1:
		return fmt.Sprintf("write [%d, %d]", each[0], each[len(each)-1])
	}
	return "write [2, 4] for two to four cells"
}

// Holds says whether a number of cells is inside the range.
func (c CellRange) Holds(cells int) bool { return cells >= c.Min && cells <= c.Max }

// String is the range in words: 2 to 4 cells.
func (c CellRange) String() string {
	switch {
	case c.Min == c.Max && c.Min == 1:
		return "1 cell"
	case c.Min == c.Max:
		return fmt.Sprintf("%d cells", c.Min)
	}
	return fmt.Sprintf("%d to %d cells", c.Min, c.Max)
}

// number prints a pilot's number without trailing zeros.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
