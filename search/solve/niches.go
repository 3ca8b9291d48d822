package solve

import (
	"cmp"
	"math"
	"slices"

	"github.com/MaxHalford/eaopt"

	"partsaloft/objective"
	"partsaloft/search/space"
)

// niched is the evolution model with niches: parents and children compete, none twice, the best first; each kind
// keeps its best, of one motor with one prop only a few survive, and a part of the places goes to the front, far apart
// from each other, so that the population holds different kinds of combination. The best is never lost.
type niched struct{ archive *Archive }

const (
	population  = 40
	frontPlaces = 16 // of the population
	nichePlaces = 3  // survivors of one motor and prop
	tournament  = 3
	brood       = 4 // children bred a generation
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
	for range brood {
		for range 6 {
			child := *pick()
			if rng.Intn(10) < 7 {
				child.Crossover(pick(), rng)
			}
			if rng.Intn(10) < 7 {
				child.Mutate(rng)
			}
			if _, old := m.archive.Known[child.at]; !old && !slices.Contains(children, child.at) {
				children = append(children, child.at)
				break
			}
		}
	}
	return children
}

// ranked is a candidate by its fitness.
type ranked struct {
	fitness float64
	at      space.Candidate
	in      bool // survives
}

func rank(s *space.Scored) ranked { return ranked{fitness: fitness(&s.Evaluation), at: s.Candidate} }

func (a ranked) order(b ranked) int {
	return cmp.Or(cmp.Compare(a.fitness, b.fitness), a.at.Compare(b.at))
}

// survive fills the population from parents and children.
func (m *niched) survive(pop *eaopt.Population, children []space.Candidate) {
	h := m.archive
	pool := m.compete(pop, children)
	places := len(pop.Individuals)
	for _, s := range pool {
		if s.in {
			places--
		}
	}
	keep := func(s *ranked) bool {
		if s.in || places == 0 {
			return false
		}
		s.in = true
		places--
		return true
	}
	kinds := map[kind]bool{}
	for i := range pool {
		if key := h.kindOf(pool[i].at); !kinds[key] && keep(&pool[i]) {
			kinds[key] = true
		}
	}
	niche := map[[2]int32]int{}
	for _, allowed := range [...]int{nichePlaces, len(pool)} {
		for i := 0; i < len(pool) && places > 0; i++ {
			key := [2]int32{pool[i].at.Motor, pool[i].at.Prop}
			if niche[key] < allowed && keep(&pool[i]) {
				niche[key]++
			}
		}
	}
	chosen := slices.DeleteFunc(pool, func(s ranked) bool { return !s.in })
	for i := range pop.Individuals {
		s, to := chosen[i%len(chosen)], &pop.Individuals[i]
		to.Genome.(*genome).at = s.at
		to.Fitness, to.Evaluated = s.fitness, true
	}
}

// compete lists parents, children and the front's members that have places, which are in, none twice, the best first.
func (m *niched) compete(pop *eaopt.Population, children []space.Candidate) []ranked {
	h := m.archive
	pool := slices.Clone(h.spreadFront())
	for i := range pop.Individuals {
		pool = append(pool, ranked{fitness: pop.Individuals[i].Fitness, at: pop.Individuals[i].Genome.(*genome).at})
	}
	for _, c := range children {
		if v, ok := h.Known[c]; ok {
			pool = append(pool, ranked{fitness: fitness(&v), at: c})
		}
	}
	// Of the same candidate the member of the front stays first.
	slices.SortStableFunc(pool, ranked.order)
	return slices.CompactFunc(pool, func(a, b ranked) bool { return a.at == b.at })
}

// spreadFront are the members of the front that have places in the population, chosen anew when one in so many of the
// front has changed as have places.
func (h *Archive) spreadFront() []ranked {
	if h.spread == nil || h.Front.changes-h.spreadAt > h.Front.len()/frontPlaces {
		h.spread, h.spreadAt = h.spread[:0], h.Front.changes
		for _, s := range farthest(h.Front.held(), frontPlaces) {
			member := rank(s)
			member.in = true
			h.spread = append(h.spread, member)
		}
	}
	return h.spread
}

// farthest picks up to n members of a front, each as far as can be from those picked before, in
// steps of the axes; the best score first, and of equals the first in order.
func farthest(points []*space.Scored, n int) []*space.Scored {
	if len(points) == 0 {
		return nil
	}
	next := slices.MinFunc(points, (*space.Scored).Order)
	gap := make([]float64, len(points))
	for i := range gap {
		gap[i] = math.Inf(1)
	}
	var picked []*space.Scored
	for len(picked) < n {
		picked = append(picked, next)
		axes, far := next.Evaluation.Axes, 0.0
		for i, p := range points {
			g := min(gap[i], distance(&p.Evaluation.Axes, &axes))
			gap[i] = g
			if g > far || g == far && g > 0 && p.Order(next) < 0 {
				far, next = g, p
			}
		}
		if far == 0 {
			break
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
