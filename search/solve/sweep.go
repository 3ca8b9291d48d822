package solve

import (
	"partsaloft/search/space"

	"github.com/MaxHalford/eaopt"
)

// sweepSize is how many candidates a generation spends on sweeping one gene.
const sweepSize = 48

// sweep is the local part of the search: it takes one of the best candidates, in turn the best of
// all, of a size of prop or on an axis, whose neighbours along some gene are not all known, and
// proposes the nearest of them.
func (m *niched) sweep(pop *eaopt.Population) []space.Candidate {
	h := m.archive
	turn := int(pop.Generations)
	var from []space.Candidate
	top := h.Best.List[:min(len(h.Best.List), 4)]
	kinds := h.kindsBest()
	switch turn % 4 {
	case 1:
		from = append(from, kinds[turn/4%len(kinds)].Candidate)
	case 3:
		if c := &h.Champions[turn/4%len(h.Champions)]; c.Evaluation.Score > 0 {
			from = append(from, c.Candidate)
		}
	}
	for i := range top {
		from = append(from, top[i].Candidate)
	}
	for i := range kinds {
		from = append(from, kinds[(turn+i)%len(kinds)].Candidate)
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
func (m *niched) neighbours(c space.Candidate, g gene) []space.Candidate {
	h := m.archive
	o := h.orders
	order, rank, at := o.motors, o.rank.motors, &c.Motor
	switch g {
	case propGene:
		order, rank, at = o.props, o.rank.props, &c.Prop
	case packGene:
		order, rank, at = o.packs, o.rank.packs, &c.Pack
	case bodyGene:
		order, rank, at = o.bodies, o.rank.bodies, &c.Body
	}
	from := rank[*at]
	var list []space.Candidate
	queued := map[space.Candidate]bool{}
	try := func(i int) {
		if i < 0 || i >= len(order) || len(list) >= sweepSize {
			return
		}
		*at = int32(order[i])
		if fixed, ok := o.repair(c, g); ok && !queued[fixed] {
			if _, old := h.Known[fixed]; !old {
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
