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
	draw := func(g gene) int { return o.fits.usable[g][rng.Intn(len(o.fits.usable[g]))] }
	want := space.NewCandidate(draw(motorGene), draw(propGene), draw(packGene), draw(boardGene))
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
	at, places := o.span(g.at, which)
	if c, ok := o.repair(o.with(g.at, which, moved(at, places, rng)), which); ok {
		g.at = c
	}
}

// moved steps along an order from a place: the length of the step halves in likelihood every two places, and
// one step in eight goes anywhere.
func moved(at, places int, rng *rand.Rand) int {
	if places == 1 {
		return at
	}
	if rng.Intn(8) == 0 {
		return rng.Intn(places)
	}
	length := 1 + int(2*rng.ExpFloat64())
	if rng.Intn(2) == 0 {
		length = -length
	}
	return min(max(at+length, 0), places-1)
}

// Crossover takes each gene from the receiver or the mate, then repairs, holding one gene. Only
// the receiver changes.
func (g *genome) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	o, other := g.archive.orders, mate.(*genome).at
	want := g.at
	mask := 1 + rng.Intn(1<<genes-2) // neither none nor all
	takes := func(g gene) bool { return mask&(1<<g) != 0 }
	if takes(motorGene) {
		want.Motor = other.Motor
	}
	if takes(propGene) {
		want.Prop = other.Prop
	}
	if takes(packGene) {
		want.Pack = other.Pack
	}
	frame, carries := g.at.Body, g.at.Body
	if takes(frameGene) {
		frame = other.Body
	}
	if takes(boardGene) {
		carries = other.Body
	}
	want.Body = int32(o.bodies[o.bodyIn(o.space.Bodies[frame].Frame, carries)])
	if c, ok := o.repair(want, gene(rng.Intn(int(genes)))); ok {
		g.at = c
	}
}

// Clone copies the genome.
func (g *genome) Clone() eaopt.Genome {
	c := *g
	return &c
}
