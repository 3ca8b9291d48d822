package search

import (
	"cmp"
	"context"
	"math"
	"slices"

	"partsaloft/objective"
)

// hunt is the memory of a genetic search: every candidate evaluated so far, with what is best and
// the front. A candidate is evaluated once.
type hunt struct {
	tally
	space    *Space
	orders   *orders
	ctx      context.Context
	workers  int
	budget   int64
	known    map[candidate]objective.Verdict
	kinds    map[int]scored // best of each size of prop, feasible or not
	improved int            // generation in which anything of this last changed
	progress func(done, total int64)
}

// look evaluates candidates that are not known yet, in parallel, as far as the budget goes.
func (h *hunt) look(list []candidate) {
	var fresh []candidate
	queued := make(map[candidate]bool, len(list))
	for _, c := range list {
		if _, ok := h.known[c]; !ok && !queued[c] && int64(len(h.known)+len(fresh)) < h.budget {
			queued[c] = true
			fresh = append(fresh, c)
		}
	}
	found := make([]scored, len(fresh))
	n := parallel(h.ctx, h.workers, len(fresh), 8, func(i int) { found[i] = h.space.evaluate(fresh[i]) })
	for i := range found[:n] {
		h.known[found[i].candidate] = found[i].verdict
		h.note(&found[i])
		kind := h.kind(found[i].candidate)
		if old, ok := h.kinds[kind]; !ok || fitness(&found[i].verdict) < fitness(&old.verdict) {
			h.kinds[kind] = found[i]
		}
	}
	if h.progress != nil {
		h.progress(int64(len(h.known)), h.budget)
	}
}

// kind is the size of a candidate's props in half inches: crafts of one size compete by parts,
// crafts of different sizes by what they are.
func (h *hunt) kind(c candidate) int {
	return int(math.Round(2 * h.space.props[c.prop].DiameterIn))
}

// kindsBest lists the best of each kind, the best first.
func (h *hunt) kindsBest() []scored {
	list := make([]scored, 0, len(h.kinds))
	for _, s := range h.kinds {
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b scored) int { return byFitness(&a, &b) })
	return list
}

func byFitness(a, b *scored) int {
	return cmp.Or(cmp.Compare(fitness(&a.verdict), fitness(&b.verdict)), a.candidate.compare(b.candidate))
}

// standing sums up the best so far; it changes when something better is found.
func (h *hunt) standing() float64 {
	var sum float64
	for i := range h.best.list {
		sum += h.best.list[i].verdict.Score
	}
	for a := range h.champion {
		sum += h.champion[a].verdict.Axes[a]
	}
	for _, s := range h.kindsBest() {
		sum -= fitness(&s.verdict)
	}
	return sum
}

func (h *hunt) spent() bool { return int64(len(h.known)) >= h.budget || h.ctx.Err() != nil }

// fitness is what the genetic algorithm minimises: 100 minus the score of a feasible candidate;
// over 100, graded by how far rules are broken, for one that is not.
func fitness(v *objective.Verdict) float64 {
	if v.Feasible() {
		return 100 - v.Score
	}
	return 100 + 10*math.Min(v.Excess, 100) + (100-v.Score)/100
}
