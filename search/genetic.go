package search

import (
	"context"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"

	"partsaloft/objective"
)

const (
	defaultMaxEvals = 20_000
	// firstLook is how many random candidates the search starts from.
	firstLook = 4 * population
	// patience is how many generations may pass without anything better before the search stops.
	patience = 40
)

// genetic searches by a genetic algorithm until the budget is spent or nothing has become better
// for a while. It is the same for the same seed on any number of workers.
func (s *Space) genetic(ctx context.Context, o *Options) (*hunt, error) {
	h := &hunt{
		space: s, orders: s.layOrders(), ctx: ctx, workers: o.Workers, budget: o.MaxEvals,
		known: map[candidate]objective.Verdict{}, kinds: map[int]scored{}, progress: o.Progress,
	}
	h.best.n = o.Top
	if o.Spread {
		h.triples = triples{}
	}
	if h.budget <= 0 {
		h.budget = defaultMaxEvals
	}
	if s.fitted == 0 {
		return h, nil
	}
	seed := int64(o.Seed & math.MaxInt64)
	start := h.firstLook(rand.New(rand.NewSource(seed)))
	if len(start) == 0 {
		return h, nil // interrupted
	}
	config := eaopt.GAConfig{
		NPops: 1, PopSize: population, HofSize: 1, NGenerations: math.MaxUint32, Model: &niched{h},
		RNG: rand.New(rand.NewSource(seed + 1)),
		EarlyStop: func(ga *eaopt.GA) bool {
			return h.spent() || int64(len(h.known)) >= s.fitted || int(ga.Generations)-h.improved > patience
		},
	}
	ga, err := config.NewGA()
	if err != nil {
		return nil, err
	}
	next := 0
	err = ga.Minimize(func(*rand.Rand) eaopt.Genome {
		g := &genome{h, start[next%len(start)]}
		next++
		return g
	})
	return h, err
}

// firstLook evaluates random candidates and returns where to start: the best by score and on each
// axis, then others as they came.
func (h *hunt) firstLook(rng *rand.Rand) []candidate {
	s := h.space
	var list []candidate
	for range firstLook {
		want := candidate{
			int32(rng.Intn(len(s.motors))), int32(rng.Intn(len(s.props))), int32(rng.Intn(len(s.packs))), int32(rng.Intn(len(s.bodies))),
		}
		if c, ok := s.repair(h.orders, want, gene(rng.Intn(int(genes)))); ok {
			list = append(list, c)
		}
	}
	h.look(list)
	var start []candidate
	queued := map[candidate]bool{}
	put := func(c candidate) {
		if _, ok := h.known[c]; ok && !queued[c] {
			queued[c] = true
			start = append(start, c)
		}
	}
	for i := range h.best.list {
		put(h.best.list[i].candidate)
	}
	for i := range h.champion {
		put(h.champion[i].candidate)
	}
	for _, s := range h.kindsBest() {
		put(s.candidate)
	}
	for _, c := range list {
		put(c)
	}
	return start
}
