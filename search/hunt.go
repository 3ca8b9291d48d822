package search

import (
	"context"
	"math"

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
	improved int // generation in which best or champion last changed
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
	}
	if h.progress != nil {
		h.progress(int64(len(h.known)), h.budget)
	}
}

// standing sums up the best so far; it changes when something better is found.
func (h *hunt) standing() [1 + objective.AxisCount]float64 {
	var sum [1 + objective.AxisCount]float64
	for i := range h.best.list {
		sum[0] += h.best.list[i].verdict.Score
	}
	for a := range h.champion {
		sum[1+a] = h.champion[a].verdict.Axes[a]
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
