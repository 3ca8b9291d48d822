package solve

// course estimates what share of a proof's evaluations and bounds is done. What remains follows from the open nodes: a
// node that is taken from the queue costs so much and puts others back, on average over the phase so far.
type course struct {
	popped, pushed float64 // nodes, in the phase under way
	before         float64 // evaluations and bounds before it
	told           float64 // the share told last: it never falls
}

const (
	courseParts = 10_000
	// What a node costs and puts back, and what share of roots is open, as of priorNodes of each before more is known
	// (about what drawers of a billion combinations show).
	priorNodes = 1000.0
	priorCost  = 2.0
	priorBack  = 0.45
	priorOpen  = 0.2
	mostBack   = 0.95
	// mostTail is what the axes and the front are reckoned to take at most, over the evaluations for the list (nine
	// drawers of ten thousand to a million builds: 0.5 to 3.4, the middle 1.5).
	mostTail = 1.5
)

// begin begins a phase.
func (c *course) begin(p *Proof) { c.popped, c.pushed, c.before = 0, 0, float64(p.evaluations()) }

// tell tells the share done.
func (c *course) tell(p *Proof) {
	spent := float64(p.evaluations())
	c.say(p, spent/(spent+c.rest(p)))
}

// end tells that all is done.
func (c *course) end(p *Proof) { c.say(p, 1) }

func (c *course) say(p *Proof, share float64) {
	c.told = max(c.told, share)
	if p.options.Progress != nil {
		p.options.Progress(int64(c.told*courseParts), courseParts)
	}
}

// rest is about how many evaluations and bounds are left.
func (c *course) rest(p *Proof) float64 {
	under := c.restOfPhase(p)
	switch spent := float64(p.evaluations()); {
	case p.lean:
		return under
	case p.Whole:
		return min(under, max(float64(p.last)-spent, 0)) + float64(p.later)
	default:
		list := spent + under
		return under + min(max(frontEvaluations, list/10)+max(frontEvaluations, list*2/3), mostTail*list)
	}
}

// restOfPhase is about how many evaluations and bounds are left of the phase under way, first of which is the list.
func (c *course) restOfPhase(p *Proof) float64 {
	spent, open := float64(p.evaluations()), float64(p.queue.Len())
	laid := float64(p.laid)
	rootsLeft := float64(p.roots.count) - laid
	if p.lean && p.laid > 0 {
		return rootsLeft * spent / laid
	}
	nodes := priorNodes + c.popped
	cost, back := priorCost, priorBack
	if rootsLeft == 0 {
		cost = (priorNodes*priorCost + spent - c.before) / nodes
		back = min((priorNodes*priorBack+c.pushed)/nodes, mostBack)
	}
	open += rootsLeft * (priorNodes*priorOpen + open) / (priorNodes + laid)
	return rootsLeft + open*cost/(1-back)
}
