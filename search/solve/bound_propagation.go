package solve

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// Bound propagation. Two figures go with one number of a branch in a known way, all else being equal, so that what
// bounds a node bounds its halves more tightly before anything is worked out for them:
//
//   - flying time goes with capacity;
//   - the lift of the hardest turn is the same for all masses, so that its load factor goes with the inverse of mass
//     while it is 1 or more.
//
// For a member c of a half, take the craft c' that differs from it in the one number alone and has the whole node's
// best: it lies in the node's ranges, so that the node's bound holds for it, and c is worse by the ratio of the two.

// inheritSlack is the logarithm of what solvers may be off between two crafts that differ in one number.
const inheritSlack = 0.004

// inherit lowers what is known of a half of a node.
func (f *rootNodes) inherit(whole, half *node) {
	w, h := f.branch(whole), f.branch(half)
	t := &f.space.SI
	rotorKg := float64(w.bodies.rotors) * (t.Motors[w.motor].MassKg + t.Propellers[w.prop].MassKg)
	massKg := func(b *branch) float64 { return rotorKg + b.packs.massKg.low + b.bodies.massKg.low }
	half.lower(figure.StyleTime, math.Log(w.packs.capacityAs.high/h.packs.capacityAs.high), 0)
	half.lower(figure.TurnLoadFactor, math.Log(massKg(&h)/massKg(&w)), 1)
	half.rescore(100, &f.space.Problem.Style.Weights)
}

// lower takes a figure of which more is better to be worse by a logarithm, though no worse than a floor in its SI unit.
func (n *node) lower(q figure.Quantity, by, floorSI float64) {
	by -= inheritSlack
	if by <= 0 {
		return
	}
	for i := range n.desirable {
		c := objective.CriterionOf(i)
		if c.Quantity != q || !c.Scale.Log || c.Scale.Exponent != 0 || n.desirable[i] == math.MaxUint16 {
			continue
		}
		// Desirability is a straight line over the logarithm, between its ends.
		d := float64(n.desirable[i])*desirableStep - by/math.Log(c.Scale.Best/c.Scale.Worst)
		d = max(d, c.Desirability(floorSI*(1+boundSlack)))
		n.desirable[i] = min(n.desirable[i], uint16(math.Ceil(d/desirableStep+quantaUp)))
	}
}
