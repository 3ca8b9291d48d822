package solve

import (
	"context"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"

	"partsaloft/search/space"
)

const (
	// firstLooks is how many random candidates a search begins with.
	firstLooks = 32
	// settling is how many evaluations without a better list a search goes on for at least; it goes on for as many
	// again as it took to come to the list. Chosen on generated drawers of seeds 20 to 41.
	settling = 400
	// barren is how many generations without a new candidate end a search.
	barren = 40
	// sweepsLeft is about how many evaluations sweeps take yet while any is left.
	sweepsLeft = 1000
)

// Genetic is a genetic algorithm with niches: it searches until it has converged or the budget is
// spent. It is the same for the same seed on any number of workers.
func Genetic(ctx context.Context, s *space.Space, o *Options) (*Archive, error) {
	h := newArchive(ctx, s, o)
	return h, h.breed(o.Seed)
}

// breed runs the genetic algorithm.
func (h *Archive) breed(from uint64) error {
	s := h.space
	if s.Fitted == 0 {
		return nil
	}
	seed := int64(from & math.MaxInt64)
	start := h.initialPopulation(rand.New(rand.NewSource(seed)))
	if len(start) == 0 {
		return nil // interrupted
	}
	config := eaopt.GAConfig{
		NPops: 1, PopSize: population, HofSize: 1, NGenerations: math.MaxUint32, Model: &niched{h},
		RNG: rand.New(rand.NewSource(seed + 1)),
		EarlyStop: func(*eaopt.GA) bool {
			return h.spent() || int64(len(h.Known)) >= s.Fitted || h.converged()
		},
	}
	ga, err := config.NewGA()
	if err != nil {
		return err
	}
	next := 0
	return ga.Minimize(func(*rand.Rand) eaopt.Genome {
		g := &genome{h, start[next%len(start)]}
		next++
		return g
	})
}

// converged reports whether no swap of one part makes any of the list, of the best on each axis or of the best of each
// kind better, and the list has stood for as long as it took to find it. Or nothing new is bred.
func (h *Archive) converged() bool {
	evals := len(h.Known)
	return h.idle >= barren || h.closed && evals >= 2*h.improved+settling
}

// ahead is about how many evaluations are left.
func (h *Archive) ahead() float64 {
	evals := int64(len(h.Known))
	left := int64(2*h.improved+settling) - evals
	if !h.closed {
		left = max(left, sweepsLeft)
	}
	return float64(max(min(left, h.budget-evals, h.space.Fitted-evals), 0))
}

// initialPopulation evaluates random candidates and returns where to start: the best by score and on each
// axis, then others as they came.
func (h *Archive) initialPopulation(rng *rand.Rand) []space.Candidate {
	var list []space.Candidate
	for range firstLooks {
		if c, ok := h.orders.random(rng); ok {
			list = append(list, c)
		}
	}
	h.evaluate(list)
	var start []space.Candidate
	queued := map[space.Candidate]bool{}
	put := func(c space.Candidate) {
		if _, ok := h.Known[c]; ok && !queued[c] {
			queued[c] = true
			start = append(start, c)
		}
	}
	for i := range h.Best.List {
		put(h.Best.List[i].Candidate)
	}
	for i := range h.Champions {
		put(h.Champions[i].Candidate)
	}
	for _, s := range h.kindsBest() {
		put(s.at)
	}
	for _, c := range list {
		put(c)
	}
	return start
}
