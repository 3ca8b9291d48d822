package solve

import (
	"math"
	"slices"

	"github.com/MaxHalford/eaopt"

	"partsaloft/search/space"
)

const (
	// sweepSize is how many candidates a generation spends on sweeping one gene.
	sweepSize = 12
	// nearReach is how many steps of a gene's order count as near: where a drawer holds hundreds of parts, the near
	// neighbours of each kind's best cost less than all of one's. Chosen on generated drawers, like firstLooks.
	nearReach = 24
)

// swept is how far the neighbours of a candidate are known along each gene, in steps of its order.
type swept struct {
	steps [genes]int32
	whole bool // along all of them
}

// sweep is the local part of the search: it takes the first of the best candidates whose neighbours along some gene
// are not all known, and proposes the nearest of them. What is near the best of each kind goes first, then all around
// the best, those of each kind and those on each axis, to which every fourth turn belongs then, at last the rest of the
// list.
func (m *niched) sweep(pop *eaopt.Population) []space.Candidate {
	h := m.archive
	turn := int(pop.Generations)
	h.closed = false
	var champions []space.Candidate
	for a := range h.Champions {
		if c := &h.Champions[(turn+a)%len(h.Champions)]; c.Evaluation.Score > 0 {
			champions = append(champions, c.Candidate)
		}
	}
	var kinds []space.Candidate
	for _, s := range h.kindsBest() {
		kinds = append(kinds, s.at)
	}
	var listed []space.Candidate
	for i := range h.Best.List {
		listed = append(listed, h.Best.List[i].Candidate)
	}
	next := [...][]space.Candidate{kinds[:1], kinds, champions, listed}
	if turn%4 == 3 {
		next[1], next[2] = champions, kinds
	}
	for _, c := range kinds {
		if list := h.around(c, turn, nearReach); len(list) > 0 {
			return list
		}
	}
	for _, from := range next {
		for _, c := range from {
			if list := h.around(c, turn, math.MaxInt32); len(list) > 0 {
				return list
			}
		}
	}
	h.closed = true
	return nil
}

// around lists unknown neighbours of c, up to so many steps away, along the first gene that has any, in turn.
func (h *Archive) around(c space.Candidate, turn int, reach int32) []space.Candidate {
	far := h.swept[c]
	if far.whole {
		return nil
	}
	var list []space.Candidate
	for g := gene(0); g < genes && len(list) == 0; g++ {
		along := (g + gene(turn)) % genes
		list, far.steps[along] = h.neighbours(c, along, far.steps[along], reach)
	}
	far.whole = len(list) == 0 && reach == math.MaxInt32
	h.swept[c] = far
	return list
}

// neighbours lists up to sweepSize unknown candidates that differ from another in one gene, and in what
// that gene's part makes necessary, the nearest first, and how far they reach. What is nearer than where an earlier
// sweep ended is known, or is nothing.
func (h *Archive) neighbours(of space.Candidate, g gene, steps, reach int32) ([]space.Candidate, int32) {
	from, places := h.orders.span(of, g)
	var list []space.Candidate
	try := func(i int) {
		if i < 0 || i >= places || len(list) >= sweepSize {
			return
		}
		if fixed, ok := h.orders.repair(h.orders.with(of, g, i), g); ok && !slices.Contains(list, fixed) {
			if _, old := h.Known[fixed]; !old {
				list = append(list, fixed)
			}
		}
	}
	d := max(steps, 1)
	for ; int(d) < places && d <= reach && len(list) < sweepSize; d++ {
		steps = d
		try(from - int(d))
		try(from + int(d))
	}
	if len(list) == 0 && int(d) >= places {
		steps = int32(places)
	}
	return list, steps
}
