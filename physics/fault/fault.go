// Package fault is the error of physics: a code with values for what no blade, craft, air or way of flying can be.
// What a pilot reads for it is made of them elsewhere.
package fault

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Values are what a fault speaks of, by name, in the units of its sentence.
type Values map[string]any

// Fault is one thing that cannot be.
type Fault struct {
	Code   string
	Values Values
}

// New returns a fault with its values.
func New(code string, values Values) *Fault { return &Fault{code, values} }

// Error is the code with its values, for logs and tests.
func (f *Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Code)
	for _, name := range slices.Sorted(maps.Keys(f.Values)) {
		fmt.Fprintf(&b, " %s=%v", name, f.Values[name])
	}
	return b.String()
}

// In lists the faults in an error and what it wraps or joins, in order.
func In(err error) []*Fault {
	switch x := err.(type) {
	case nil:
		return nil
	case *Fault:
		return []*Fault{x}
	case interface{ Unwrap() []error }:
		var list []*Fault
		for _, one := range x.Unwrap() {
			list = append(list, In(one)...)
		}
		return list
	case interface{ Unwrap() error }:
		return In(x.Unwrap())
	}
	return nil
}

// Digits rounds a value to a number of significant digits.
func Digits(x float64, digits int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	scale := math.Pow10(digits - 1 - int(math.Floor(math.Log10(math.Abs(x)))))
	return math.Round(x*scale) / scale
}
