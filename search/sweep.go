package search

import (
	"github.com/MaxHalford/eaopt"
)

// sweepSize is how many candidates a generation spends on sweeping one gene.
const sweepSize = 48

// sweep is the local part of the search: of the best candidates, and of the best on each axis,
// it takes one whose neighbours along some gene are unknown and proposes the nearest of them.
func (m *niched) sweep(pop *eaopt.Population) []candidate {
	h := m.hunt
	var from []candidate
	for i := range h.best.list {
		from = append(from, h.best.list[i].candidate)
		if i == 3 {
			break
		}
	}
	turn := int(pop.Generations)
	if n := len(h.champion); n > 0 && turn%3 == 0 {
		if c := &h.champion[turn/3%n]; c.verdict.Axes[turn/3%n] > 0 {
			from = append([]candidate{c.candidate}, from...)
		}
	}
	if len(from) == 0 && len(h.nearest) > 0 {
		from = append(from, h.nearest[0].candidate)
	}
	for _, c := range from {
		for g := range genes {
			if list := m.neighbours(c, (g+gene(turn))%genes); len(list) > 0 {
				return list
			}
		}
	}
	return nil
}

// neighbours lists up to sweepSize unknown candidates that differ from c in one gene, and in what
// that gene's part makes necessary, the nearest first.
func (m *niched) neighbours(c candidate, g gene) []candidate {
	h := m.hunt
	o := h.orders
	order, rank, at := o.motors, o.rank.motors, &c.motor
	switch g {
	case propGene:
		order, rank, at = o.props, o.rank.props, &c.prop
	case packGene:
		order, rank, at = o.packs, o.rank.packs, &c.pack
	case bodyGene:
		order, rank, at = o.bodies, o.rank.bodies, &c.body
	}
	from := rank[*at]
	var list []candidate
	queued := map[candidate]bool{}
	try := func(i int) {
		if i < 0 || i >= len(order) || len(list) >= sweepSize {
			return
		}
		*at = int32(order[i])
		if fixed, ok := h.space.repair(o, c, g); ok && !queued[fixed] {
			if _, old := h.known[fixed]; !old {
				queued[fixed] = true
				list = append(list, fixed)
			}
		}
	}
	for d := 1; d < len(order) && len(list) < sweepSize; d++ {
		try(from - d)
		try(from + d)
	}
	return list
}
