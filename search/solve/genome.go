package solve

import (
	"math"
	"math/rand"
	"partsaloft/search/space"

	"github.com/MaxHalford/eaopt"
)

// genome is a candidate as eaopt breeds it. Its genes lie in the orders of physics, so that a
// small step goes to a similar part; what a step or a crossover breaks is repaired.
type genome struct {
	archive *Archive
	at      space.Candidate
}

// random draws a candidate: parts that go into some, repaired.
func (o *orders) random(rng *rand.Rand) (space.Candidate, bool) {
	var part [genes]int
	for g, usable := range o.fits.usable {
		part[g] = usable[rng.Intn(len(usable))]
	}
	want := space.NewCandidate(part[motorGene], part[propGene], part[packGene], part[bodyGene])
	return o.repair(want, gene(rng.Intn(int(genes))))
}

// Evaluate returns the fitness; the candidate is known already, for the model looks at all it
// breeds at once.
func (g *genome) Evaluate() (float64, error) {
	v, ok := g.archive.Known[g.at]
	if !ok {
		return math.MaxFloat32, nil // bred after the budget was spent
	}
	return fitness(&v), nil
}

// Mutate moves one or two genes: mostly a few places along their order, now and then anywhere.
func (g *genome) Mutate(rng *rand.Rand) {
	for range 1 + rng.Intn(2) {
		g.step(gene(rng.Intn(int(genes))), rng)
	}
}

func (g *genome) step(which gene, rng *rand.Rand) {
	o := g.archive.orders
	want := g.at
	switch which {
	case motorGene:
		want.Motor = moved(o.motors, o.rank.motors, want.Motor, rng)
	case propGene:
		want.Prop = moved(o.props, o.rank.props, want.Prop, rng)
	case packGene:
		want.Pack = moved(o.packs, o.rank.packs, want.Pack, rng)
	case bodyGene:
		want.Body = moved(o.bodies, o.rank.bodies, want.Body, rng)
	}
	if c, ok := o.repair(want, which); ok {
		g.at = c
	}
}

// moved steps along an order: the length of the step halves in likelihood every two places, and
// one step in eight goes anywhere.
func moved(order, rank []int, from int32, rng *rand.Rand) int32 {
	if len(order) == 1 {
		return from
	}
	if rng.Intn(8) == 0 {
		return int32(order[rng.Intn(len(order))])
	}
	length := 1 + int(2*rng.ExpFloat64())
	if rng.Intn(2) == 0 {
		length = -length
	}
	at := rank[from] + length
	return int32(order[min(max(at, 0), len(order)-1)])
}

// Crossover takes each gene from the receiver or the mate, then repairs, holding one gene. Only
// the receiver changes.
func (g *genome) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	other := mate.(*genome).at
	want := g.at
	mask := 1 + rng.Intn(1<<genes-2) // neither none nor all
	if mask&1 != 0 {
		want.Motor = other.Motor
	}
	if mask&2 != 0 {
		want.Prop = other.Prop
	}
	if mask&4 != 0 {
		want.Pack = other.Pack
	}
	if mask&8 != 0 {
		want.Body = other.Body
	}
	if c, ok := g.archive.orders.repair(want, gene(rng.Intn(int(genes)))); ok {
		g.at = c
	}
}

// Clone copies the genome.
func (g *genome) Clone() eaopt.Genome {
	c := *g
	return &c
}
