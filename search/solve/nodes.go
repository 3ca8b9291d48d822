package solve

import (
	"cmp"
	"math"

	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// goal says which nodes matter to a phase and which go first.
type goal interface {
	matters(n *node, b *bound) bool
	// tellsMore reports whether working a bound out further may be of use.
	tellsMore(n *node, b *bound) bool
	priority(b *bound) float64
}

// listGoal is after the best groups by score, or the best candidates.
type listGoal struct{ p *Proof }

func (g listGoal) matters(n *node, b *bound) bool {
	best := &g.p.Best
	if b.score < best.incumbent() {
		return false
	}
	// What is a variant of a group that is held matters if it can be the better one.
	group, one := g.p.roots.group(n)
	return !one || b.score >= best.incumbentOf(group)
}

// tellsMore holds for the front as well, where it comes later: a node is bounded once for both.
func (g listGoal) tellsMore(n *node, b *bound) bool {
	return g.matters(n, b) || g.p.seeksFront() && frontGoal{g.p, frontGapAim}.matters(n, b)
}

func (g listGoal) priority(b *bound) float64 { return b.score }

// axisGoal is after the best candidate on one axis.
type axisGoal struct {
	p    *Proof
	axis objective.Axis
}

func (g axisGoal) matters(_ *node, b *bound) bool {
	return b.axes[g.axis] > g.p.Champions[g.axis].Evaluation.Axes[g.axis]
}

// tellsMore holds for the front as well, which comes next.
func (g axisGoal) tellsMore(n *node, b *bound) bool {
	return g.matters(n, b) || frontGoal{g.p, frontGapAim}.matters(n, b)
}

func (g axisGoal) priority(b *bound) float64 { return b.axes[g.axis] }

// frontGoal is after every candidate that nobody beats on every axis, or comes near to.
type frontGoal struct {
	p   *Proof
	gap float64 // points by which nobody needs to be beaten
}

func (g frontGoal) matters(_ *node, b *bound) bool { return !g.p.Front.coversBound(b, g.gap) }

// tellsMore holds down to the gap aimed at, so that a node is bounded once for all the gaps that are closed in turn.
func (g frontGoal) tellsMore(_ *node, b *bound) bool {
	return !g.p.Front.coversBound(b, min(g.gap, frontGapAim))
}

// priority goes to what lay furthest beyond the front when it was bounded, and of that to what has most in all.
func (g frontGoal) priority(b *bound) float64 { return float64(b.within) + b.axes.Sum()/1000 }

// node is a place in the search: a branch of a root's packs with a branch of its bodies, and the best that it can hold,
// rounded up. There may be millions: it is kept small.
type node struct {
	root, packs, bodies int32
	desirable           [objective.CriterionCount]uint16 // in parts of desirableStep
	partly              bool                             // bounded as far as mattered then
	// within is the number of points within which the front was known to cover all of it, 100 if that is not known.
	// It stays true: what takes a member's place covers what that one did.
	within uint8
	score  float32
}

const (
	desirableStep = 1.0 / math.MaxUint16
	// quantaUp is what a desirability may be off in quanta by rounding alone.
	quantaUp = 1e-6
)

// openNode is the node of a root of which nothing is known.
func openNode(root int32) node {
	n := node{root: root, score: 100, within: levels - 1}
	for i := range n.desirable {
		n.desirable[i] = math.MaxUint16
	}
	return n
}

// tighten takes over a bound where it is lower than what was known.
func (n *node) tighten(b *bound, weights *objective.Weights) {
	for i := range n.desirable {
		if up := math.Ceil(b.desirable[i]/desirableStep + quantaUp); up < float64(n.desirable[i]) {
			n.desirable[i] = uint16(up)
		}
	}
	n.within = min(n.within, b.within)
	n.rescore(min(b.score, 100), weights)
}

// rescore brings the score down to what the criteria and a known bound allow.
func (n *node) rescore(atMost float64, weights *objective.Weights) {
	together := n.bound()
	least := min(atMost, weights.Score(&together.axes)*(1+rounding))
	n.score = min(n.score, math.Nextafter32(float32(least), math.MaxFloat32))
}

func (n *node) bound() bound {
	b := bound{score: float64(n.score), within: n.within}
	for i := range b.desirable {
		b.desirable[i] = min(float64(n.desirable[i])*desirableStep, 1)
	}
	b.axes = objective.AxesFrom(&b.desirable)
	return b
}

// queued is a node that waits, with what it comes first by.
type queued struct {
	node
	priority float32
}

// nodeHeap gives the highest priority first, ties in the order of roots and branches.
type nodeHeap struct{ nodes []queued }

func (h *nodeHeap) Len() int { return len(h.nodes) }

func (h *nodeHeap) Less(i, j int) bool {
	a, b := &h.nodes[i], &h.nodes[j]
	if a.priority != b.priority {
		return a.priority > b.priority
	}
	return cmp.Or(cmp.Compare(a.root, b.root), cmp.Compare(a.packs, b.packs), cmp.Compare(a.bodies, b.bodies)) < 0
}

func (h *nodeHeap) Swap(i, j int) { h.nodes[i], h.nodes[j] = h.nodes[j], h.nodes[i] }

// Push implements heap.Interface.
func (h *nodeHeap) Push(x any) { h.nodes = append(h.nodes, x.(queued)) }

// Pop implements heap.Interface.
func (h *nodeHeap) Pop() any {
	n := h.nodes[len(h.nodes)-1]
	h.nodes = h.nodes[:len(h.nodes)-1]
	return n
}

// Bound propagation. Two figures go with one number of a branch in a known way, all else being equal, so that what
// bounds a node bounds its halves more tightly before anything is worked out for them:
//
//   - flying time goes with capacity;
//   - the lift of the hardest turn is the same for all masses, so that its load factor goes with the inverse of mass
//     while it is 1 or more;
//   - the pull-out grows and the thrust step falls with mass, at least so much (see bound).
//
// For a member c of a half, take the craft c' that differs from it in the one number alone and has the whole node's
// best: it lies in the node's ranges, so that the node's bound holds for it, and c is worse by the ratio of the two.

// inheritSlack is the logarithm of what solvers may be off between two crafts that differ in one number.
const inheritSlack = 0.004

// inherit lowers what is known of a half of a node.
func (f *rootNodes) inherit(whole, half *node) {
	w, h := f.branch(whole), f.branch(half)
	t := &f.space.SI
	rotorKg := float64(w.bodies.rotors) * (t.Motors[w.motor].MassKg + t.Propellers[w.prop].MassKg)
	leastKg := func(b *branch) float64 { return rotorKg + b.packs.massKg.low + b.bodies.massKg.low }
	mostKg := func(b *branch) float64 { return rotorKg + b.packs.massKg.high + b.bodies.massKg.high }
	heavier := math.Log(leastKg(&h) / leastKg(&w))
	half.lower(figure.StyleTime, math.Log(w.packs.capacityAs.high/h.packs.capacityAs.high), 0)
	half.lower(figure.TurnLoadFactor, heavier, 1)
	half.lower(figure.PullOut, pullOutOverMass*heavier, math.Inf(1))
	half.lower(figure.ThrustStep, leastStepOverMass*math.Log(mostKg(&w)/mostKg(&h)), math.Inf(1))
	half.rescore(100, &f.space.Problem.Style.Weights)
}

// lower takes a figure to be worse by a logarithm, though no worse than a floor in its SI unit.
func (n *node) lower(q figure.Quantity, by, floorSI float64) {
	by -= inheritSlack
	if by <= 0 {
		return
	}
	for i := range n.desirable {
		c := objective.CriterionOf(i)
		if c.Quantity != q || !c.Scale.Log || c.Scale.Exponent != 0 || n.desirable[i] == math.MaxUint16 {
			continue
		}
		// Desirability is a straight line over the logarithm, between its ends.
		d := float64(n.desirable[i])*desirableStep - by/math.Abs(math.Log(c.Scale.Best/c.Scale.Worst))
		d = max(d, c.Desirability(floorSI*(1+boundSlack)))
		n.desirable[i] = min(n.desirable[i], uint16(math.Ceil(d/desirableStep+quantaUp)))
	}
}
