package explore

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
)

// limitable are the figures that a reader limits, with the heads of their columns and the word for more or less of them. Adding one makes more
// combinations matter, and the document larger.
var limitable = [...]struct {
	search.Bound
	Head string
	Word string
}{
	{search.Bound{Quantity: figure.AllUpMass, AtMost: true, PerUnit: 10}, "all-up g", "weight"},
	{search.Bound{Quantity: figure.StyleTime, PerUnit: 10}, "flight min", "minutes"},
	{search.Bound{Quantity: figure.HoverThrottle, AtMost: true, PerUnit: 10}, "hover %", "hover throttle"},
	{search.Bound{Quantity: figure.ThrustToWeight, PerUnit: 20}, "thrust/ weight", "thrust-to-weight"},
	{search.Bound{Quantity: figure.TopSpeed, PerUnit: 2}, "top m/s", "speed"},
}

// Bounds are the figures that a reader of the document limits, in the order of Heads.
func Bounds() []search.Bound {
	var list []search.Bound
	for i := range limitable {
		list = append(list, limitable[i].Bound)
	}
	return list
}

// Split parts a style's limits into those that the reader moves, in steps by bound, and those that it
// keeps throughout. A limit that is no whole number of steps stays, and so does the other side of one
// that the reader moves.
func Split(limits []objective.Limit) (opening []*int32, kept []objective.Limit) {
	opening = make([]*int32, len(limitable))
	for _, l := range limits {
		rest := l.Range
		for i := range limitable {
			b := &limitable[i]
			if b.Quantity != l.Quantity {
				continue
			}
			end, open := &rest.Low, math.Inf(-1)
			if b.AtMost {
				end, open = &rest.High, math.Inf(1)
			}
			steps := math.Round(*end * float64(b.PerUnit))
			if math.Abs(steps) < 1<<30 && steps/float64(b.PerUnit) == *end {
				k := int32(steps)
				opening[i] = &k
				*end = open
			}
		}
		if !math.IsInf(rest.Low, 0) || !math.IsInf(rest.High, 0) {
			kept = append(kept, objective.Limit{Quantity: l.Quantity, Range: rest})
		}
	}
	return opening, kept
}

// Heads are the heads of the columns of Bounds.
func Heads() []string {
	var list []string
	for i := range limitable {
		list = append(list, limitable[i].Head)
	}
	return list
}
