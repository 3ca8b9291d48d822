package solve

import (
	"slices"

	"github.com/MaxHalford/eaopt"

	"partsaloft/objective"
	"partsaloft/search/space"
)

// niched is the evolution model with niches: parents and children compete, none twice, the best first; each
// size of prop has a few places of its own, of one motor with one prop only a few survive, and a
// part of the places goes to the front, far apart from each other, so that the population holds
// different kinds of combination. The best is never lost.
type niched struct{ archive *Archive }

const (
	population  = 64
	frontPlaces = 16 // of the population
	kindPlaces  = 3  // survivors of one size of prop at least
	nichePlaces = 3  // survivors of one motor and prop
	tournament  = 3
	brood       = 8 // children bred a generation
)

// Validate has nothing to check.
func (m *niched) Validate() error { return nil }

// Apply breeds one generation.
func (m *niched) Apply(pop *eaopt.Population) error {
	h := m.archive
	before, known := h.standing(), len(h.Known)
	children := m.breed(pop)
	children = append(children, m.sweep(pop)...)
	h.evaluate(children)
	m.survive(pop, children)
	if h.standing() != before {
		h.improved = len(h.Known)
	}
	if h.idle++; len(h.Known) > known {
		h.idle = 0
	}
	return nil
}

// breed makes a brood of new candidates: crossed and mutated until they are unknown, as far as a few attempts go.
func (m *niched) breed(pop *eaopt.Population) []space.Candidate {
	rng := pop.RNG
	pick := func() *genome {
		// The front's places are at the end.
		if rng.Intn(4) == 0 {
			return pop.Individuals[rng.Intn(len(pop.Individuals))].Genome.(*genome)
		}
		least := len(pop.Individuals)
		for range tournament {
			least = min(least, rng.Intn(len(pop.Individuals)))
		}
		return pop.Individuals[least].Genome.(*genome)
	}
	var children []space.Candidate
	bred := map[space.Candidate]bool{}
	for range brood {
		for range 6 {
			child := pick().Clone().(*genome)
			if rng.Intn(10) < 7 {
				child.Crossover(pick(), rng)
			}
			if rng.Intn(10) < 7 {
				child.Mutate(rng)
			}
			if _, old := m.archive.Known[child.at]; !old && !bred[child.at] {
				bred[child.at] = true
				children = append(children, child.at)
				break
			}
		}
	}
	return children
}

// survive fills the population from parents and children.
func (m *niched) survive(pop *eaopt.Population, children []space.Candidate) {
	h := m.archive
	var pool []space.Scored
	seen := map[space.Candidate]bool{}
	take := func(c space.Candidate) {
		if v, ok := h.Known[c]; ok && !seen[c] {
			seen[c] = true
			pool = append(pool, space.Scored{Candidate: c, Evaluation: v})
		}
	}
	for i := range pop.Individuals {
		take(pop.Individuals[i].Genome.(*genome).at)
	}
	for _, c := range children {
		take(c)
	}
	slices.SortFunc(pool, func(a, b space.Scored) int { return byFitness(&a, &b) })
	chosen := slices.Clone(h.spreadFront())
	in := map[space.Candidate]bool{}
	for _, s := range chosen {
		in[s.Candidate] = true
	}
	kinds := map[int]int{}
	for _, s := range pool {
		kind := h.kind(s.Candidate)
		if kinds[kind] < kindPlaces && len(chosen) < len(pop.Individuals) && !in[s.Candidate] {
			kinds[kind]++
			in[s.Candidate] = true
			chosen = append(chosen, s)
		}
	}
	niche := map[[2]int32]int{}
	for _, allowed := range [...]int{nichePlaces, len(pool)} {
		for _, s := range pool {
			key := [2]int32{s.Candidate.Motor, s.Candidate.Prop}
			if len(chosen) < len(pop.Individuals) && !in[s.Candidate] && niche[key] < allowed {
				niche[key]++
				in[s.Candidate] = true
				chosen = append(chosen, s)
			}
		}
	}
	slices.SortFunc(chosen, func(a, b space.Scored) int { return byFitness(&a, &b) })
	for i := range pop.Individuals {
		s := chosen[i%len(chosen)]
		pop.Individuals[i].Genome = &genome{h, s.Candidate}
		pop.Individuals[i].Fitness, pop.Individuals[i].Evaluated = fitness(&s.Evaluation), true
	}
}

// spreadFront are the members of the front that have places in the population.
func (h *Archive) spreadFront() []space.Scored {
	if h.spread == nil || h.spreadAt != h.Front.changes {
		h.spread, h.spreadAt = farthest(h.Front.Sorted(), frontPlaces), h.Front.changes
	}
	return h.spread
}

// farthest picks up to n members of a front, each as far as can be from those picked before, in
// steps of the axes; the best score first.
func farthest(points []space.Scored, n int) []space.Scored {
	if len(points) == 0 {
		return nil
	}
	picked := []space.Scored{points[0]}
	gap := make([]float64, len(points))
	for i := range points {
		gap[i] = distance(&points[i].Evaluation.Axes, &points[0].Evaluation.Axes)
	}
	for len(picked) < n {
		far := 0
		for i := range points {
			if gap[i] > gap[far] {
				far = i
			}
		}
		if gap[far] == 0 {
			break
		}
		picked = append(picked, points[far])
		for i := range points {
			gap[i] = min(gap[i], distance(&points[i].Evaluation.Axes, &points[far].Evaluation.Axes))
		}
	}
	return picked
}

func distance(x, y *objective.Axes) float64 {
	var sum float64
	for a := range x {
		sum += (x[a] - y[a]) * (x[a] - y[a])
	}
	return sum
}
