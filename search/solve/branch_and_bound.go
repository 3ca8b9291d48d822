package solve

import (
	"container/heap"
	"context"
	"math"

	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

const (
	// nodeBatch is how many nodes are worked on before their results are taken in.
	nodeBatch = 512
	// leafSize is the number of candidates up to which a node is evaluated rather than bounded.
	leafSize = 2
	// warmEvals is the budget of the genetic search that sets the first incumbents of a large drawer, leastWarmEvals of a
	// small one, between which it is a warmPart of the candidates that fit.
	warmEvals      = 4000
	leastWarmEvals = 250
	warmPart       = 1.0 / 256
	// frontEvaluations is how many evaluations and bounds the best on each axis may take at least once the list is
	// proven, and then the front; a tenth of those of the list if that is more, and as many as the list took.
	frontEvaluations = 40_000
	// leanRoots is the number of roots from which on a proof is lean.
	leanRoots = 1_000_000
)

// Proof is a branch and bound search under way. Between them, what is known, what is skipped and
// the open nodes hold every candidate that fits.
type Proof struct {
	*Incumbents
	space   *space.Space
	bounder *bounder
	roots   *rootNodes
	options *Options
	known   map[space.Candidate]bool // noted by the warm start
	Picks   *diversePicks            // of a search for a spread list; else nil
	goal    goal                     // of the phase under way
	queue   nodeHeap                 // open nodes that matter to it
	aside   []node                   // open nodes that do not
	bounded int64                    // bounds worked out
	last    int64                    // look after which the phase stops; 0 for none
	later   int64                    // looks that phases after it may take
	lean    bool                     // what does not matter to the list is forgotten, roots are worked on in turn
	laid    int                      // roots that were looked at
	course  course
	effort  effort
	Whole   bool // the list is proven …
	Led     bool // … so is the best on each axis …
	Fronted bool // … and so is the front
	// FrontGap is by how many points on every axis at most a build that was not looked at lies beyond all of the front
	// (additive epsilon-dominance); 100 says nothing.
	FrontGap float64
}

// BranchAndBound is branch and bound over the root nodes: it finds the best candidates and shows that nothing better
// is left out: nodes are taken best bound first, and what cannot reach the last incumbent is set aside. Then it looks
// for the best on each axis and the front as far as a share of the work goes. Where the work is bounded, a drawer too large
// to be laid out is left alone.
func BranchAndBound(ctx context.Context, s *space.Space, o *Options) (*Proof, error) {
	p, err := newProof(ctx, s, o, warmBudget(s))
	if err != nil {
		return nil, err
	}
	if p.roots != nil {
		p.prove(ctx)
	}
	return p, nil
}

// warmBudget is the budget of the genetic search that comes first.
func warmBudget(s *space.Space) int64 {
	return min(max(int64(warmPart*float64(s.Fitted)), leastWarmEvals), warmEvals)
}

// newProof is a proof that has not begun, but for a genetic search of a number of evaluations.
func newProof(ctx context.Context, s *space.Space, o *Options, evals int64) (*Proof, error) {
	p := &Proof{space: s, bounder: newBounder(s), options: o, known: map[space.Candidate]bool{}, FrontGap: 100}
	var err error
	p.roots, err = layRootNodes(s)
	if o.MaxProof > 0 && (err != nil || o.Spread && p.roots.count > leanRoots) {
		none := NewIncumbents(s, o)
		p.roots, p.Incumbents = nil, &none
		return p, nil
	}
	if err != nil {
		return nil, err
	}
	if err := p.warm(ctx, evals); err != nil {
		return nil, err
	}
	p.goal = listGoal{p}
	if o.Spread {
		p.Picks = &diversePicks{n: o.Top, roots: p.roots, pool: p.Groups.Sorted()}
		p.goal = p.Picks
	}
	p.lean = p.roots.count > leanRoots && !o.Spread
	return p, nil
}

// prove proves the list, and then what it can of the rest.
func (p *Proof) prove(ctx context.Context) {
	if !p.start(ctx) || !p.run(ctx) || p.queue.Len() > 0 {
		return
	}
	p.Whole = true
	if !p.lean {
		p.goOn(ctx)
	}
	p.course.end()
}

// seeksFront reports whether bounds are worked out for the front too: once a list is proven, and before that for one by
// score, whose bounds tell of both.
func (p *Proof) seeksFront() bool { return p.Whole || !p.lean && p.Picks == nil }

// goOn looks for the best on each axis and for the front once the list is proven.
func (p *Proof) goOn(ctx context.Context) {
	list := p.evaluations()
	p.Led = true
	p.last, p.later = list+max(frontEvaluations, list/10), max(frontEvaluations, list)
	for a := range objective.AxisCount {
		p.pursue(axisGoal{p, a})
		if !p.run(ctx) {
			p.Led = false
			return
		}
		p.Led = p.Led && p.queue.Len() == 0
	}
	p.closeFront(ctx, max(frontEvaluations, list))
}

// closeFront closes the gap to the front as far as a number of evaluations and bounds goes, and half as many again where
// the gap that is aimed at is still open.
func (p *Proof) closeFront(ctx context.Context, looks int64) {
	end := p.evaluations() + looks
	for _, gap := range [...]float64{frontGapAim, 0} {
		p.last, p.later = end, 0
		if gap > 0 {
			p.last, p.later = end+looks/2, looks/2
		}
		p.pursue(frontGoal{p, gap})
		if !p.run(ctx) || p.queue.Len() > 0 {
			break
		}
	}
	p.FrontGap = p.frontGap()
	p.Fronted = p.FrontGap == 0
}

// frontGapAim is the gap in points that is small enough for a choice between builds.
const frontGapAim = 1

// frontGap is the least whole number of points within which the front covers every open node.
func (p *Proof) frontGap() float64 {
	most := 0.0
	look := func(n *node) {
		if b := n.bound(); !p.Front.coversBound(&b, most) {
			most = p.Front.gapOfBound(&b)
		}
	}
	for i := range p.queue.nodes {
		look(&p.queue.nodes[i].node)
	}
	for i := range p.aside {
		look(&p.aside[i])
	}
	return most
}

// warm runs a short genetic search, so that the incumbents are good from the start.
func (p *Proof) warm(ctx context.Context, evals int64) error {
	o := *p.options
	o.MaxEvals = evals
	warm := progress.Of(ctx).Plan(progress.Searching, float64(evals))
	p.course.part = progress.Of(ctx).Plan(progress.Searching, priorProof)
	defer warm.End()
	h, err := Genetic(warm.In(ctx), p.space, &o)
	if err != nil {
		return err
	}
	p.Incumbents, p.course.warm = &h.Incumbents, float64(h.Evaluated)
	for c := range h.Known {
		p.known[c] = true
	}
	return nil
}

// start bounds the roots, lot by lot. A lean proof works on what is open of each lot at once. There, and under limits, a
// sample goes first, so that it is known what the whole will take, and whether limits rule branches out, before most roots
// are bounded.
func (p *Proof) start(ctx context.Context) bool {
	const largest, sampled, leanSampled = 1 << 14, 1 << 8, 1 << 10
	f, lot, step := p.roots, largest, 1
	switch {
	case p.lean:
		step = f.count / leanSampled
	case p.bounder.poor != 0:
		step = f.count / sampled
	}
	if step > 1 {
		lot = (f.count + step - 1) / step
	}
	if !p.lean {
		p.aside = make([]node, 0, f.count)
	}
	for p.laid < f.count {
		nodes := make([]node, min(lot, f.count-p.laid))
		for i := range nodes {
			nodes[i] = openNode(int32(sampledFirst(p.laid+i, f.count, step)))
		}
		lot = largest
		done := p.take(ctx, nodes)
		if done {
			p.laid += len(nodes)
			if p.lean {
				done = p.run(ctx) && p.queue.Len() == 0
			}
		}
		if !done {
			return false
		}
		if p.laid == f.count {
			p.course.begin(p)
		}
		p.course.tell(p)
	}
	return true
}

// pursue turns to another goal: the open nodes that matter to it are queued.
func (p *Proof) pursue(g goal) {
	p.goal = g
	waiting, aside := p.queue.nodes, p.aside
	p.queue.nodes, p.aside = nil, aside[:0] // in place: no more are put back than were taken
	for _, n := range aside {
		p.put(n)
	}
	for _, n := range waiting {
		p.put(n.node)
	}
	p.course.begin(p)
}

// put queues an open node, or sets it aside; the bool reports which.
func (p *Proof) put(n node) bool {
	b := n.bound()
	if !p.goal.matters(&n, &b) {
		p.setAside(n)
		return false
	}
	p.course.pushed++
	heap.Push(&p.queue, queued{n, float32(p.goal.priority(&b))})
	return true
}

// setAside keeps an open node that does not matter to the goal for the next.
func (p *Proof) setAside(n node) {
	if !p.lean {
		p.aside = append(p.aside, n)
	}
}

// run works on the queue until nothing in it matters any more. It returns false if the context
// ended first.
func (p *Proof) run(ctx context.Context) bool {
	for {
		if p.Picks != nil {
			p.Picks.pick(&p.queue)
		}
		if p.queue.Len() == 0 || p.last > 0 && p.evaluations() > p.last || p.overBudget() {
			return true
		}
		if !p.advance(ctx) {
			return false
		}
		p.course.tell(p)
	}
}

// overBudget reports whether the list is to be given up for what it would take.
func (p *Proof) overBudget() bool {
	trial := budgetTrial
	if p.lean {
		trial = budgetLeanTrial
	}
	return !p.Whole && budget(p.options.MaxProof).exceeded(float64(p.evaluations()), p.course.restOfPhase(p), trial)
}

// boundCost is about how many evaluations a bound takes: for the list alone it mostly ends early, for the front it looks
// at further crafts (14 to 18 µs against 8 to 9), and limits may ask for the poor one.
func (p *Proof) boundCost() float64 {
	cost := 1.0
	if p.seeksFront() {
		cost = 1.7
	}
	if p.bounder.poor != 0 {
		cost++
	}
	return cost
}

// take bounds nodes, where that pays, and queues them or sets them aside; what is infeasible is dropped.
func (p *Proof) take(ctx context.Context, nodes []node) bool {
	bounds := make([]bound, len(nodes))
	p.effort.weigh(p.boundCost())
	n := parallel.For(ctx, p.options.Workers, len(nodes), 16, func(i int) {
		bounds[i] = nodes[i].bound()
		if !p.goal.matters(&nodes[i], &bounds[i]) {
			return // by what was known of the node above it
		}
		if _, looks := p.roots.size(&nodes[i]); nodes[i].partly || p.effort.boundFirst(looks, i) {
			b := p.roots.branch(&nodes[i])
			known := bounds[i]
			bounds[i] = p.bounder.bound(&b, &known, func(b *bound) bool { return p.goal.tellsMore(&nodes[i], b) })
			bounds[i].worked = true
			if p.seeksFront() {
				bounds[i].within = uint8(p.Front.gapOfBound(&bounds[i]))
			}
		}
	})
	if n < len(nodes) {
		return false
	}
	for i := range nodes {
		_, looks := p.roots.size(&nodes[i])
		if !bounds[i].worked {
			p.put(nodes[i])
			continue
		}
		p.bounded++
		if bounds[i].none {
			p.effort.note(looks, false)
			continue
		}
		nodes[i].tighten(&bounds[i], &p.space.Problem.Style.Weights)
		nodes[i].partly = bounds[i].partly
		if bounds[i].partly { // it does not matter, though it might by what a node's rounding up makes of that
			p.setAside(nodes[i])
			p.effort.note(looks, false)
			continue
		}
		p.effort.note(looks, p.put(nodes[i]))
	}
	return true
}

// advance works on the nodes that go first: small ones are evaluated, others halved.
func (p *Proof) advance(ctx context.Context) bool {
	type look struct {
		candidate space.Candidate
		of        int64 // candidates that it stands for
		node      int   // in taken
	}
	var taken, halves []node
	var fresh []look
	p.effort.weigh(p.boundCost())
	for len(taken)+len(fresh) < nodeBatch && p.queue.Len() > 0 {
		n := heap.Pop(&p.queue).(queued).node
		p.course.popped++
		if b := n.bound(); !p.goal.matters(&n, &b) {
			p.setAside(n)
			continue
		}
		taken = append(taken, n)
		if n.partly {
			halves = append(halves, n)
			continue
		}
		if _, looks := p.roots.size(&n); p.effort.halve(looks) {
			two := p.roots.split(&n)
			halves = append(halves, two[:]...)
			continue
		}
		p.roots.each(&n, func(c space.Candidate, of int64) {
			if of > 1 || !p.known[c] {
				fresh = append(fresh, look{c, of, len(taken) - 1})
			}
		})
	}
	found := make([]space.Scored, len(fresh))
	done := parallel.For(ctx, p.options.Workers, len(fresh), 16,
		func(i int) { found[i] = p.space.Evaluate(fresh[i].candidate) })
	if done < len(fresh) || !p.take(ctx, halves) {
		p.aside = append(p.aside, taken...) // open as before
		return false
	}
	for i := range found {
		p.noteTwins(&taken[fresh[i].node], &found[i], fresh[i].of)
	}
	return true
}

// noteTwins notes an evaluation for all the candidates that it stands for, counted as one look.
func (p *Proof) noteTwins(n *node, s *space.Scored, of int64) {
	note := func(s *space.Scored) {
		p.note(s)
		if p.Picks != nil && s.Evaluation.Feasible() {
			heap.Push(&p.Picks.pool, *s)
		}
	}
	if of == 1 {
		note(s)
		return
	}
	before := p.Evaluated
	p.roots.twins(n, s.Candidate, func(c space.Candidate) {
		if !p.known[c] {
			note(&space.Scored{Candidate: c, Evaluation: s.Evaluation})
		}
	})
	p.Evaluated = before + 1
}

func (p *Proof) evaluations() int64 { return p.bounded + p.Evaluated }

// Begun reports whether the drawer is not too large to be laid out.
func (p *Proof) Begun() bool { return p.roots != nil }

// Looks are the evaluations and bounds that the proof took.
func (p *Proof) Looks() int64 { return p.evaluations() }

// Gap is by how much the best left open might beat the best found; 0 if the list is proven.
func (p *Proof) Gap() float64 {
	if p.Whole {
		return 0
	}
	if p.roots == nil || p.laid < p.roots.count { // what was not looked at may hold anything
		return 100 - p.BestScore()
	}
	var most float64
	for i := range p.queue.nodes {
		most = math.Max(most, float64(p.queue.nodes[i].score))
	}
	for i := range p.aside {
		most = math.Max(most, float64(p.aside[i].score))
	}
	return math.Max(most-p.BestScore(), 0)
}
