package page

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
)

// limitable are the figures that the page limits, with the heads of their columns. Adding one makes more
// combinations matter, and the page larger.
var limitable = [...]struct {
	search.Bound
	head string
}{
	{search.Bound{Quantity: figure.AllUpMass, AtMost: true, PerUnit: 10}, "all-up g"},
	{search.Bound{Quantity: figure.StyleTime, PerUnit: 10}, "flight min"},
	{search.Bound{Quantity: figure.HoverThrottle, AtMost: true, PerUnit: 10}, "hover %"},
	{search.Bound{Quantity: figure.ThrustToWeight, PerUnit: 20}, "thrust/ weight"},
	{search.Bound{Quantity: figure.TopSpeed, PerUnit: 2}, "top m/s"},
}

// Bounds are the figures that the page limits.
func Bounds() []search.Bound {
	var list []search.Bound
	for i := range limitable {
		list = append(list, limitable[i].Bound)
	}
	return list
}

// Split parts a style's limits into those that the page moves, in steps by bound, and those that it
// keeps throughout. A limit that is no whole number of steps stays, and so does the other side of one
// that the page moves.
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
