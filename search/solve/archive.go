package solve

import (
	"context"
	"maps"
	"math"
	"slices"

	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Archive is the archive of a genetic search: every candidate evaluated so far, with what is best and
// the front. A candidate is evaluated once.
type Archive struct {
	Incumbents
	space    *space.Space
	orders   *orders
	ctx      context.Context
	workers  int
	budget   int64
	Known    map[space.Candidate]objective.Evaluation
	kinds    map[kind]ranked           // best of each kind, feasible or not
	kindsIn  []ranked                  // they in order, nil until asked for
	improved int                       // evaluations when the list last changed
	idle     int                       // generations in a row without a new candidate
	closed   bool                      // no swap of one part is left to try on the best
	swept    map[space.Candidate]swept // of those that have been swept
	spread   []ranked                  // members of the front with places in the population …
	spreadAt int                       // … after so many changes of the front
}

// defaultMaxEvals is the budget of a search that is given none.
const defaultMaxEvals = 20_000

func newArchive(ctx context.Context, s *space.Space, o *Options) *Archive {
	h := &Archive{
		Incumbents: NewIncumbents(s, o),
		space:      s, orders: layOrders(s), ctx: ctx, workers: o.Workers, budget: o.MaxEvals,
		Known: map[space.Candidate]objective.Evaluation{}, swept: map[space.Candidate]swept{}, kinds: map[kind]ranked{},
	}
	if h.budget <= 0 {
		h.budget = defaultMaxEvals
	}
	return h
}

// evaluate evaluates candidates that are not known yet, in parallel, as far as the budget goes.
func (h *Archive) evaluate(list []space.Candidate) {
	var fresh []space.Candidate
	queued := make(map[space.Candidate]bool, len(list))
	for _, c := range list {
		if _, ok := h.Known[c]; !ok && !queued[c] && int64(len(h.Known)+len(fresh)) < h.budget {
			queued[c] = true
			fresh = append(fresh, c)
		}
	}
	found := make([]space.Scored, len(fresh))
	n := parallel.For(h.ctx, h.workers, len(fresh), 8, func(i int) { found[i] = h.space.Evaluate(fresh[i]) })
	for i := range found[:n] {
		h.Known[found[i].Candidate] = found[i].Evaluation
		h.note(&found[i])
		key, one := h.kindOf(found[i].Candidate), rank(&found[i])
		if best, ok := h.kinds[key]; !ok || one.fitness < best.fitness {
			h.kinds[key], h.kindsIn = one, nil
		}
	}
	progress.Of(h.ctx).At(float64(len(h.Known)), h.ahead())
}

// kind is the size of a candidate's prop, in half inches, and the cells of its pack: crafts of one kind compete by
// parts, crafts of different kinds by what they are, for from one to another motor and body change as well.
type kind struct{ halfInches, cells int }

func (h *Archive) kindOf(c space.Candidate) kind {
	return kind{int(math.Round(2 * h.space.Props[c.Prop].DiameterIn)), h.space.Packs[c.Pack].Cells}
}

// kindsBest lists the best of each kind that has been met, the best first.
func (h *Archive) kindsBest() []ranked {
	if h.kindsIn == nil {
		h.kindsIn = slices.SortedFunc(maps.Values(h.kinds), ranked.order)
	}
	return h.kindsIn
}

// standing sums up the best so far; it changes when something better is found.
func (h *Archive) standing() float64 {
	var sum float64
	for i := range h.Best.List {
		sum += h.Best.List[i].Evaluation.Score
	}
	if len(h.Best.List) == 0 {
		if kinds := h.kindsBest(); len(kinds) > 0 {
			return -kinds[0].fitness
		}
	}
	return sum
}

func (h *Archive) spent() bool { return int64(len(h.Known)) >= h.budget || h.ctx.Err() != nil }

// fitness is what the genetic algorithm minimises: 100 minus the score of a feasible candidate;
// over 100, graded by how far rules are broken, for one that is not.
func fitness(v *objective.Evaluation) float64 {
	if v.Feasible() {
		return 100 - v.Score
	}
	return 100 + 10*math.Min(v.Excess, 100) + (100-v.Score)/100
}
