package search

import (
	"cmp"
	"container/heap"
	"context"
	"math"

	"partsaloft/objective"
)

const (
	// proveBatch is how many nodes are worked on before their results are taken in.
	proveBatch = 512
	// wholeNode is the number of candidates up to which a node is evaluated rather than bounded.
	wholeNode = 2
	// warmEvals is the budget of the genetic search that sets the bar first.
	warmEvals = 4000
	// frontLooks is how many evaluations and bounds the best on each axis and the front may take at
	// least once the list is proven; a tenth of those of the list if that is more.
	frontLooks = 40_000
)

// proof is a branch and bound search under way. Between them, what is known, what is skipped and
// the open nodes hold every candidate that fits.
type proof struct {
	*tally
	space   *Space
	forest  *forest
	options *Options
	known   map[candidate]bool // noted by the warm start
	picks   *picks             // of a search for a spread list; else nil
	goal    goal               // of the phase under way
	queue   nodeHeap           // open nodes that matter to it
	aside   []node             // open nodes that do not
	bounded int64              // bounds worked out
	last    int64              // look after which the search stops; 0 for none
	settled int64              // candidates evaluated, or left out for good
	whole   bool               // the list is proven …
	fronted bool               // … and so is the front
}

// goal says which nodes matter to a phase and which go first.
type goal interface {
	matters(n *node, b *bound) bool
	priority(b *bound) float64
}

// listGoal is after the best candidates by score.
type listGoal struct{ p *proof }

func (g listGoal) matters(_ *node, b *bound) bool { return b.score >= g.p.best.bar() }
func (g listGoal) priority(b *bound) float64      { return b.score }

// axisGoal is after the best candidate on one axis.
type axisGoal struct {
	p    *proof
	axis objective.Axis
}

func (g axisGoal) matters(_ *node, b *bound) bool {
	return b.axes[g.axis] > g.p.champion[g.axis].verdict.Axes[g.axis]
}
func (g axisGoal) priority(b *bound) float64 { return b.axes[g.axis] }

// frontGoal is after every candidate that nobody beats on every axis.
type frontGoal struct{ p *proof }

func (g frontGoal) matters(_ *node, b *bound) bool { return !g.p.front.covers(&b.axes) }
func (g frontGoal) priority(b *bound) float64 {
	var sum float64
	for _, x := range b.axes {
		sum += x
	}
	return sum
}

// prove finds the best candidates and shows that nothing better is left out: nodes are taken best
// bound first, and what cannot reach the bar is set aside. Then it looks for the best on each axis
// and the front as far as a share of the work goes.
func (s *Space) prove(ctx context.Context, o *Options) (*proof, error) {
	return s.proveFrom(ctx, o, warmEvals)
}

// proveFrom is prove after a genetic search of a number of evaluations.
func (s *Space) proveFrom(ctx context.Context, o *Options, evals int64) (*proof, error) {
	p := &proof{space: s, options: o, known: map[candidate]bool{}}
	if err := p.warm(ctx, evals); err != nil {
		return nil, err
	}
	var err error
	if p.forest, err = s.plant(); err != nil {
		return nil, err
	}
	p.goal = listGoal{p}
	if o.Spread {
		p.picks = &picks{n: o.Top, forest: p.forest, pool: p.triples.sorted()}
		p.goal = p.picks
	}
	if !p.start(ctx) || !p.run(ctx) {
		return p, nil
	}
	p.whole = true
	p.last = p.looks() + max(frontLooks, p.looks()/10)
	for a := range objective.AxisCount {
		p.pursue(axisGoal{p, a})
		if !p.run(ctx) {
			break
		}
	}
	if p.looks() <= p.last {
		p.pursue(frontGoal{p})
		p.fronted = p.run(ctx) && p.queue.Len() == 0
	}
	p.settled = s.fitted
	p.progress()
	return p, nil
}

// warm runs a short genetic search, so that the bar is high from the start.
func (p *proof) warm(ctx context.Context, evals int64) error {
	o := *p.options
	o.MaxEvals, o.Progress = evals, nil
	h, err := p.space.genetic(ctx, &o)
	if err != nil {
		return err
	}
	p.tally = &h.tally
	for c := range h.known {
		p.known[c] = true
	}
	p.settled = int64(len(p.known))
	return nil
}

// start bounds the roots.
func (p *proof) start(ctx context.Context) bool {
	const chunk = 1 << 14
	f := p.forest
	for first := 0; first < len(f.roots); first += chunk {
		nodes := make([]node, min(chunk, len(f.roots)-first))
		for i := range nodes {
			nodes[i] = node{root: int32(first + i), score: 100, axes: [objective.AxisCount]float32{100, 100, 100, 100}}
		}
		if !p.take(ctx, nodes) {
			// What was not looked at may hold anything.
			for i := first; i < len(f.roots); i++ {
				p.aside = append(p.aside, node{root: int32(i), score: 100, axes: [objective.AxisCount]float32{100, 100, 100, 100}})
			}
			return false
		}
		p.progress()
	}
	return true
}

// pursue turns to another goal: the open nodes that matter to it are queued.
func (p *proof) pursue(g goal) {
	p.goal = g
	open := append(p.aside, p.queue.nodes...)
	p.queue.nodes, p.aside = nil, nil
	for _, n := range open {
		p.put(n)
	}
}

// put queues an open node, or sets it aside.
func (p *proof) put(n node) {
	b := n.bound()
	if !p.goal.matters(&n, &b) {
		p.aside = append(p.aside, n)
		return
	}
	n.priority = p.goal.priority(&b)
	heap.Push(&p.queue, n)
}

// run works on the queue until nothing in it matters any more. It returns false if the context
// ended first.
func (p *proof) run(ctx context.Context) bool {
	for {
		if p.picks != nil {
			p.picks.settle(&p.queue)
		}
		if p.queue.Len() == 0 || p.last > 0 && p.looks() > p.last {
			return true
		}
		if !p.advance(ctx) {
			return false
		}
		p.progress()
	}
}

// take bounds nodes and queues them or sets them aside; what is infeasible is dropped.
func (p *proof) take(ctx context.Context, nodes []node) bool {
	bounds := make([]bound, len(nodes))
	n := parallel(ctx, p.options.Workers, len(nodes), 16, func(i int) {
		bounds[i] = nodes[i].bound()
		if p.forest.size(&nodes[i]) > wholeNode {
			b := p.forest.branch(&nodes[i])
			bounds[i] = p.space.bound(&b, func(b *bound) bool {
				n := nodes[i]
				n.tighten(b, &p.space.problem.Style.Weights)
				tight := n.bound()
				return p.goal.matters(&n, &tight)
			})
		}
	})
	if n < len(nodes) {
		return false
	}
	for i := range nodes {
		p.bounded++
		if bounds[i].none {
			p.settled += p.forest.size(&nodes[i])
			continue
		}
		nodes[i].tighten(&bounds[i], &p.space.problem.Style.Weights)
		p.put(nodes[i])
	}
	return true
}

// advance works on the nodes that go first: small ones are evaluated, others halved.
func (p *proof) advance(ctx context.Context) bool {
	var taken, halves []node
	var fresh []candidate
	for len(taken) < proveBatch && p.queue.Len() > 0 {
		n := heap.Pop(&p.queue).(node)
		if b := n.bound(); !p.goal.matters(&n, &b) {
			p.aside = append(p.aside, n)
			continue
		}
		taken = append(taken, n)
		if p.forest.size(&n) <= wholeNode {
			p.forest.each(&n, func(c candidate) {
				if !p.known[c] {
					fresh = append(fresh, c)
				}
			})
			continue
		}
		two := p.forest.split(&n)
		halves = append(halves, two[:]...)
	}
	found := make([]scored, len(fresh))
	done := parallel(ctx, p.options.Workers, len(fresh), 16, func(i int) { found[i] = p.space.evaluate(fresh[i]) })
	if done < len(fresh) || !p.take(ctx, halves) {
		p.aside = append(p.aside, taken...) // open as before
		return false
	}
	for i := range found {
		p.note(&found[i])
		if p.picks != nil && found[i].verdict.Feasible() {
			heap.Push(&p.picks.pool, found[i])
		}
	}
	p.settled += int64(len(found))
	return true
}

func (p *proof) looks() int64 { return p.bounded + p.evaluated }

func (p *proof) progress() {
	if p.options.Progress != nil {
		p.options.Progress(p.settled, p.space.fitted)
	}
}

// gap is by how much the best left open might beat the best found; 0 if the list is proven.
func (p *proof) gap() float64 {
	if p.whole {
		return 0
	}
	if p.forest == nil {
		return 100 - p.top()
	}
	var most float64
	for _, open := range [][]node{p.queue.nodes, p.aside} {
		for i := range open {
			most = math.Max(most, open[i].score)
		}
	}
	return math.Max(most-p.top(), 0)
}

// node is a place in the search: a branch of a root's packs with a branch of its bodies, and the
// best that it can hold.
type node struct {
	root, packs, bodies int32
	axes                [objective.AxisCount]float32 // rounded up
	score, priority     float64
}

// tighten takes over a bound where it is lower than what was known.
func (n *node) tighten(b *bound, weights *objective.Weights) {
	for a := range n.axes {
		n.axes[a] = min(n.axes[a], math.Nextafter32(float32(b.axes[a]), math.MaxFloat32))
	}
	together := n.bound()
	n.score = min(n.score, b.score, weights.Score(&together.axes)*(1+1e-12))
}

func (n *node) bound() bound {
	b := bound{score: n.score}
	for a := range b.axes {
		b.axes[a] = float64(n.axes[a])
	}
	return b
}

// nodeHeap gives the highest priority first, ties in the order of roots and branches.
type nodeHeap struct{ nodes []node }

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
func (h *nodeHeap) Push(x any) { h.nodes = append(h.nodes, x.(node)) }

// Pop implements heap.Interface.
func (h *nodeHeap) Pop() any {
	n := h.nodes[len(h.nodes)-1]
	h.nodes = h.nodes[:len(h.nodes)-1]
	return n
}
