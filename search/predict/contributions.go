package predict

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Side is a side of a craft that a pilot can tell apart.
type Side uint8

// The sides of a craft.
const (
	BladesSide Side = iota
	PropInertiaSide
	MotorSide
	BellInertiaSide
	WeightSide
	CellsSide
	CapacitySide
	CurrentLimitsSide
	DragSide
	ElectronicsSide
	SideCount
)

var sideNames = [SideCount]string{
	"blades", "prop inertia", "motor", "bell inertia", "weight", "cells and sag", "capacity", "current limits", "drag",
	"electronics",
}

// String returns the side in words.
func (s Side) String() string { return sideNames[s] }

// Contribution is a side of a craft that makes a difference between two, and how much of it, in SI.
type Contribution struct {
	Side Side
	By   float64
}

// carry takes a side of a craft over to another.
var carry = [SideCount]func(to, from *physics.Craft){
	BladesSide: func(to, from *physics.Craft) {
		mass, inertia := to.Propeller.MassKg, to.Propeller.InertiaKgM2
		to.Propeller = from.Propeller
		to.Propeller.MassKg, to.Propeller.InertiaKgM2 = mass, inertia
	},
	PropInertiaSide: func(to, from *physics.Craft) { to.Propeller.InertiaKgM2 = from.Propeller.InertiaKgM2 },
	MotorSide: func(to, from *physics.Craft) {
		was := to.Motor
		to.Motor = from.Motor
		to.Motor.MassKg, to.Motor.BellInertiaKgM2 = was.MassKg, was.BellInertiaKgM2
		to.Motor.MaxCurrentA, to.Motor.LimitEstimated = was.MaxCurrentA, was.LimitEstimated
	},
	BellInertiaSide: func(to, from *physics.Craft) { to.Motor.BellInertiaKgM2 = from.Motor.BellInertiaKgM2 },
	WeightSide: func(to, from *physics.Craft) {
		to.Propeller.MassKg, to.Motor.MassKg, to.Pack.MassKg = from.Propeller.MassKg, from.Motor.MassKg, from.Pack.MassKg
		to.Board.MassKg, to.FrameKg, to.ExtrasKg = from.Board.MassKg, from.FrameKg, from.ExtrasKg
	},
	CellsSide: func(to, from *physics.Craft) {
		mass, capacity, factor, safe := to.Pack.MassKg, to.Pack.CapacityAs, to.Pack.CapacityFactor, to.Pack.SafeCurrentA
		to.Pack = from.Pack
		to.Pack.MassKg, to.Pack.CapacityAs, to.Pack.CapacityFactor, to.Pack.SafeCurrentA = mass, capacity, factor, safe
	},
	CapacitySide: func(to, from *physics.Craft) {
		to.Pack.CapacityAs, to.Pack.CapacityFactor = from.Pack.CapacityAs, from.Pack.CapacityFactor
	},
	CurrentLimitsSide: func(to, from *physics.Craft) {
		to.Pack.SafeCurrentA, to.Connector = from.Pack.SafeCurrentA, from.Connector
		to.Motor.MaxCurrentA, to.Motor.LimitEstimated = from.Motor.MaxCurrentA, from.Motor.LimitEstimated
		to.Board.ContinuousA, to.Board.BurstA = from.Board.ContinuousA, from.Board.BurstA
	},
	DragSide: func(to, from *physics.Craft) { to.DragAreaM2 = from.DragAreaM2 },
	ElectronicsSide: func(to, from *physics.Craft) {
		to.ElectronicsW, to.Board.ESC = from.ElectronicsW, from.Board.ESC
	},
}

// leastContribution is the share of a difference from which on a component is named.
const leastContribution = 0.15

// Contributions says for each figure which sides of two crafts make the difference: each side alone is
// carried from the second to the first and from the first to the second, and the mean of the two
// effects is taken. Sides act on each other, so that the parts need not add up to the whole. Crafts
// with different numbers of rotors have none.
func Contributions(style *objective.Style, first, second *physics.Craft) [figure.Count][]Contribution {
	var list [figure.Count][]Contribution
	if first.Rotors != second.Rotors {
		return list
	}
	a, b := first.Evaluate(&style.Flying), second.Evaluate(&style.Flying)
	for side, carry := range carry {
		x, y := *first, *second
		carry(&x, second)
		carry(&y, first)
		there, back := x.Evaluate(&style.Flying), y.Evaluate(&style.Flying)
		for q := range list {
			from, ok1 := defined(&a, q)
			to, ok2 := defined(&b, q)
			with, ok3 := defined(&there, q)
			without, ok4 := defined(&back, q)
			if !(ok1 && ok2 && ok3 && ok4) {
				continue
			}
			by := ((with - from) + (to - without)) / 2
			if math.Abs(by) >= leastContribution*math.Abs(to-from) && by != 0 {
				list[q] = append(list[q], Contribution{Side(side), by})
			}
		}
	}
	for q := range list {
		slices.SortStableFunc(list[q], func(x, y Contribution) int { return cmp.Compare(math.Abs(y.By), math.Abs(x.By)) })
	}
	return list
}

func defined(p *physics.Performance, q int) (float64, bool) {
	x, why := p.Get(figure.Quantity(q))
	return x, why == physics.Defined
}
