package solve

import (
	"slices"

	"github.com/MaxHalford/eaopt"

	"partsaloft/search/space"
)

const (
	// sweepSize is how many candidates a generation spends on sweeping one gene.
	sweepSize = 24
	// sweepTop is how many of the list are swept before anything else.
	sweepTop = 4
)

// swap is a gene of a candidate whose part is swapped for others.
type swap struct {
	of   space.Candidate
	gene gene
}

// sweep is the local part of the search: it takes the first of the best candidates whose neighbours along some gene
// are not all known, and proposes the nearest of them. The top of the list goes first, then the best of each size of
// prop, and those on each axis, to which every fourth turn belongs once the list is swept.
func (m *niched) sweep(pop *eaopt.Population) []space.Candidate {
	h := m.archive
	turn := int(pop.Generations)
	h.closed = false
	for i := range h.Best.List[:min(len(h.Best.List), sweepTop)] {
		if list := m.around(h.Best.List[i].Candidate, turn); len(list) > 0 {
			return list
		}
	}
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
	next := [...][]space.Candidate{kinds, champions}
	if turn%4 == 3 {
		next[0], next[1] = champions, kinds
	}
	for _, from := range next {
		for _, c := range from {
			if list := m.around(c, turn); len(list) > 0 {
				return list
			}
		}
	}
	h.closed = true
	return nil
}

// around lists unknown neighbours of c along the first gene that has any, in turn.
func (m *niched) around(c space.Candidate, turn int) []space.Candidate {
	for g := range genes {
		if list := m.neighbours(swap{c, (g + gene(turn)) % genes}); len(list) > 0 {
			return list
		}
	}
	return nil
}

// neighbours lists up to sweepSize unknown candidates that differ from another in one gene, and in what
// that gene's part makes necessary, the nearest first.
func (m *niched) neighbours(w swap) []space.Candidate {
	h := m.archive
	o, c := h.orders, w.of
	order, rank, at := o.motors, o.rank.motors, &c.Motor
	switch w.gene {
	case propGene:
		order, rank, at = o.props, o.rank.props, &c.Prop
	case packGene:
		order, rank, at = o.packs, o.rank.packs, &c.Pack
	case bodyGene:
		order, rank, at = o.bodies, o.rank.bodies, &c.Body
	}
	from := rank[*at]
	var list []space.Candidate
	try := func(i int) {
		if i < 0 || i >= len(order) || len(list) >= sweepSize {
			return
		}
		*at = int32(order[i])
		if fixed, ok := o.repair(c, w.gene); ok && !slices.Contains(list, fixed) {
			if _, old := h.Known[fixed]; !old {
				list = append(list, fixed)
			}
		}
	}
	// What is nearer than where an earlier sweep ended is known, or is nothing.
	d := max(h.swept[w], 1)
	for ; d < len(order) && len(list) < sweepSize; d++ {
		h.swept[w] = d
		try(from - d)
		try(from + d)
	}
	if len(list) == 0 {
		h.swept[w] = len(order)
	}
	return list
}
