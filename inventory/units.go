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
		n.Fault("lengths.empty", nil)
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
					n.Fault("lengths.sides", strict.Values{"got": strict.Raw(n.Raw()), "a": strict.Number(a), "b": strict.Number(b)})
					return 0, false
				}
				return a, n.InBounds(a)
			}
		}
	}
	if n.IsScalar() {
		if m := either.FindStringSubmatch(strings.TrimSpace(n.Raw())); m != nil {
			n.Fault("lengths.either", strict.Values{"got": strict.Raw(n.Raw()), "a": m[1], "b": m[2]})
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

// Written is one number, or a list of them.
func (l *Lengths) Written() string {
	words := make([]string, len(*l))
	for i, x := range *l {
		words[i] = number(x)
	}
	if len(words) == 1 {
		return words[0]
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// CellRange is a range of cells in series, both ends allowed; written [2, 4], or 4S for up to four.
type CellRange struct {
	Min, Max int
	UpTo     bool // written as 4S: the least is not known, and 1 stands for it
}

var (
	cellText = regexp.MustCompile(`^ *(\d{1,2}) *[sS]? *(?:(?:-|–|\.\.|to|/) *(\d{1,2}) *[sS]?)? *$`)
	upToText = regexp.MustCompile(`^([1-9]|1[0-4]) ?[sS]$`)
)

// ReadNode reads [2, 4] and 4S.
func (c *CellRange) ReadNode(n strict.Node) {
	if n.IsScalar() && upToText.MatchString(n.Raw()) {
		*c, _ = CellsNamed(n.Raw())
		return
	}
	if n.IsScalar() {
		p := strict.Problem{Way: "cells.such"}
		if m := cellText.FindStringSubmatch(n.Raw()); m != nil {
			if n := mustParse(m[1]); m[2] == "" && (n < 1 || n > 14) {
				p = strict.Problem{Way: "cells.such"}
			} else if m[2] == "" {
				p = strict.Problem{Way: "cells.only", Values: strict.Values{"cells": m[1]}}
			} else {
				p = strict.Problem{Way: "write.it", Write: "[" + m[1] + ", " + m[2] + "]"}
			}
		}
		p.Code = "cells.brackets"
		n.Add(p.With("got", strict.Raw(n.Raw())))
		return
	}
	items, ok := n.Items()
	if !ok {
		return
	}
	if len(items) != 2 {
		p := cellsHelp(items)
		if p.Code = "cells.two"; len(items) == 1 {
			p.Code = "cells.two_not_one"
		}
		n.Add(p.With("got", strict.Number(len(items))))
		return
	}
	low, okLow := items[0].Limits(1, 14, "cells").Int()
	high, okHigh := items[1].Limits(1, 14, "cells").Int()
	if !okLow || !okHigh {
		return
	}
	if low > high {
		n.Fault("cells.order", strict.Values{"low": strict.Number(low), "high": strict.Number(high)})
		return
	}
	*c = CellRange{Min: low, Max: high}
}

// cellsHelp is the way out for a list that is no pair: 2, 3, 4 or 2-4 in brackets, or one number.
func cellsHelp(items []strict.Node) strict.Problem {
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
		return strict.Problem{Way: "cells.only", Values: strict.Values{"cells": strict.Number(each[0])}}
	case len(each) > 1:
		return strict.Problem{Way: "cells.write", Values: strict.Values{"least": strict.Number(each[0]),
			"most": strict.Number(each[len(each)-1])}}
	}
	return strict.Problem{Way: "cells.such"}
}

// Written is the range in brackets, or 4S for up to four.
func (c *CellRange) Written() string {
	if c.UpTo {
		return fmt.Sprintf("%dS", c.Max)
	}
	return fmt.Sprintf("[%d, %d]", c.Min, c.Max)
}

// CellsNamed reads a range of cells from a text such as 2-4S, or 4S for up to four; false if it is none.
func CellsNamed(text string) (CellRange, bool) {
	m := cellText.FindStringSubmatch(text)
	if m == nil {
		return CellRange{}, false
	}
	if m[2] == "" {
		return CellRange{Min: 1, Max: int(mustParse(m[1])), UpTo: true}, true
	}
	return CellRange{Min: int(mustParse(m[1])), Max: int(mustParse(m[2]))}, true
}

// IsSquare reports whether a text is a hole pattern written as its two sides, such as 16x16 M3.
func IsSquare(text string) bool { return square.MatchString(text) }

// Holds reports whether a number of cells is inside the range.
func (c CellRange) Holds(cells int) bool { return cells >= c.Min && cells <= c.Max }

// String is the range in words: 2 to 4 cells.
func (c CellRange) String() string {
	switch {
	case c.UpTo && c.Max > 1:
		return fmt.Sprintf("up to %d cells", c.Max)
	case c.Min == c.Max && c.Min == 1:
		return "1 cell"
	case c.Min == c.Max:
		return fmt.Sprintf("%d cells", c.Min)
	}
	return fmt.Sprintf("%d to %d cells", c.Min, c.Max)
}

// number prints a pilot's number without trailing zeros.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
