package solve

import (
	"slices"

	"github.com/MaxHalford/eaopt"

	"partsaloft/search/space"
)

// sweepSize is how many candidates a generation spends on sweeping one gene.
const sweepSize = 12

// swap is a gene of a candidate whose part is swapped for others.
type swap struct {
	of   space.Candidate
	gene gene
}

// sweep is the local part of the search: it takes the first of the best candidates whose neighbours along some gene
// are not all known, and proposes the nearest of them. The best of all goes first, then the best of each kind,
// and those on each axis, to which every fourth turn belongs.
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
	next := [...][]space.Candidate{kinds[:1], kinds, champions}
	if turn%4 == 3 {
		next[1], next[2] = champions, kinds
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
	from, places := h.orders.span(w.of, w.gene)
	var list []space.Candidate
	try := func(i int) {
		if i < 0 || i >= places || len(list) >= sweepSize {
			return
		}
		if fixed, ok := h.orders.repair(h.orders.with(w.of, w.gene, i), w.gene); ok && !slices.Contains(list, fixed) {
			if _, old := h.Known[fixed]; !old {
				list = append(list, fixed)
			}
		}
	}
	// What is nearer than where an earlier sweep ended is known, or is nothing.
	d := max(h.swept[w], 1)
	for ; d < places && len(list) < sweepSize; d++ {
		h.swept[w] = d
		try(from - d)
		try(from + d)
	}
	if len(list) == 0 {
		h.swept[w] = places
	}
	return list
}
