package solve

import "partsaloft/search/progress"

// course estimates what share of a proof's evaluations and bounds is done. What remains follows from the open nodes: a
// node that is taken from the queue costs so much and puts others back, as the latest of the phase did.
type course struct {
	popped, pushed float64 // nodes, in the phase under way, those long ago at less
	cost           float64 // evaluations and bounds that they took
	before         float64 // evaluations and bounds when told last
	fade           float64 // evaluations and bounds from which on what came before counts half
	warm           float64 // evaluations of the search before the proof
	part           *progress.Part
}

const (
	// priorProof is about what a proof takes of which nothing is known yet.
	priorProof = 50_000.0
	// What a node costs and puts back, as of priorNodes of them, and what share of priorRoots is open, before more is known
	// (about what drawers of a billion combinations show).
	priorNodes = 100.0
	priorCost  = 2.0
	priorBack  = 0.45
	priorOpen  = 0.2
	priorRoots = 1000.0
	mostBack   = 0.95
	// fading is by how much the evaluations and bounds grow before what was met counts half.
	fading = 1.15
	// frontShare is what list, axes and front take together of the combinations that fit, where the front is not cut short
	// (drawers of 27 thousand that fit, lists of 10 and 200, three styles: 0.72 to 0.83).
	frontShare = 0.77
)

// begin begins a phase.
func (c *course) begin(p *Proof) {
	c.popped, c.pushed, c.cost, c.before = 0, 0, 0, float64(p.evaluations())
	c.fade = fading * c.before
}

// tell tells what is done and what is left.
func (c *course) tell(p *Proof) {
	spent := float64(p.evaluations())
	c.cost, c.before = c.cost+spent-c.before, spent
	rest := c.rest(p)
	if spent > c.fade {
		c.popped, c.pushed, c.cost, c.fade = c.popped/2, c.pushed/2, c.cost/2, fading*spent
	}
	if most := float64(p.options.MaxProof); most > 0 && !p.Whole {
		rest = min(rest, max(most-spent, 0))
	}
	work := float64(p.Evaluated) + progress.Bound*float64(p.bounded)
	c.part.At(work-c.warm, rest*work/spent)
}

// end tells that all is done.
func (c *course) end() { c.part.End() }

// rest is about how many evaluations and bounds are left.
func (c *course) rest(p *Proof) float64 {
	under := c.restOfPhase(p)
	switch spent := float64(p.evaluations()); {
	case p.lean:
		return under
	case p.Whole:
		return min(under, max(float64(p.last)-spent, 0)) + min(float64(p.later), p.tail(spent+under))
	default:
		return under + p.tail(spent+under)
	}
}

// tail is about how many evaluations and bounds the axes and the front still take where so many were taken before.
func (p *Proof) tail(spent float64) float64 {
	return min(max(frontEvaluations, spent), max(frontShare*float64(p.space.Fitted)-spent, 0))
}

// restOfPhase is about how many evaluations and bounds are left of the phase under way, first of which is the list.
func (c *course) restOfPhase(p *Proof) float64 {
	spent, open := float64(p.evaluations()), float64(p.queue.Len())
	laid := float64(p.laid)
	rootsLeft := float64(p.roots.count) - laid
	if p.lean && p.laid > 0 {
		return rootsLeft * (spent - c.warm) / laid
	}
	nodes := priorNodes + c.popped
	cost, back := priorCost, priorBack
	if rootsLeft == 0 {
		cost = (priorNodes*priorCost + c.cost) / nodes
		back = min((priorNodes*priorBack+c.pushed)/nodes, mostBack)
	}
	open += rootsLeft * (priorRoots*priorOpen + open) / (priorRoots + laid)
	return rootsLeft + open*cost/(1-back)
}
