package search

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"partsaloft/objective"
)

const (
	// proveBatch is how many nodes are worked on before their results are taken in.
	proveBatch = 512
	// wholeNode is the number of candidates up to which a node is evaluated rather than bounded.
	wholeNode = 2
	// warmEvals is the budget of the genetic search that sets the bar first.
	warmEvals = 4000
)

// proof is a branch and bound search under way.
type proof struct {
	*tally
	space   *Space
	forest  *forest
	known   map[candidate]bool // noted by the warm start
	queue   nodeHeap
	bounded int64 // bounds worked out
	settled int64 // candidates evaluated, or left out for good
	skipped int64 // candidates left out, by bounds
	whole   bool  // nothing is open
	options *Options
}

// prove finds the best candidates and shows that nothing better is left out: nodes are taken best
// bound first, and what cannot reach the bar is dropped.
func (s *Space) prove(ctx context.Context, o *Options) (*proof, error) {
	return s.proveFrom(ctx, o, warmEvals)
}

// proveFrom is prove after a genetic search of a number of evaluations.
func (s *Space) proveFrom(ctx context.Context, o *Options, evals int64) (*proof, error) {
	p := &proof{space: s, options: o, known: map[candidate]bool{}}
	if err := p.warm(ctx, evals); err != nil {
		return nil, err
	}
	p.forest = s.plant()
	if !p.start(ctx) {
		return p, nil
	}
	for p.queue.Len() > 0 && p.queue[0].score >= p.best.bar() {
		if !p.advance(ctx) {
			return p, nil
		}
	}
	for i := range p.queue {
		p.skip(&p.queue[i])
	}
	p.queue, p.whole = nil, true
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
			nodes[i] = node{root: int32(first + i), score: 100, axes: [4]float32{100, 100, 100, 100}}
		}
		if !p.take(ctx, nodes) {
			// What was not looked at may hold anything.
			p.queue = append(p.queue, node{score: 100})
			return false
		}
	}
	return true
}

// take bounds nodes and queues what may matter.
func (p *proof) take(ctx context.Context, nodes []node) bool {
	bar := p.best.bar()
	matters := func(b *bound) bool { return b.score >= bar }
	bounds := make([]bound, len(nodes))
	n := parallel(ctx, p.options.Workers, len(nodes), 16, func(i int) {
		if p.forest.size(&nodes[i]) <= wholeNode {
			// Evaluated when its turn comes, which its parent's bound sets.
			bounds[i] = bound{score: nodes[i].score, axes: nodes[i].bounds()}
			return
		}
		b := p.forest.branch(&nodes[i])
		bounds[i] = p.space.bound(&b, matters)
	})
	if n < len(nodes) {
		return false
	}
	for i := range nodes {
		nd := &nodes[i]
		p.bounded++
		if bounds[i].none || !matters(&bounds[i]) {
			p.skip(nd)
			continue
		}
		nd.score = math.Min(nd.score, bounds[i].score)
		for a := range nd.axes {
			nd.axes[a] = min(nd.axes[a], math.Nextafter32(float32(bounds[i].axes[a]), math.MaxFloat32))
		}
		heap.Push(&p.queue, *nd)
	}
	return true
}

// bounds are a node's axes as they were bounded.
func (n *node) bounds() objective.Axes {
	var x objective.Axes
	for a := range x {
		x[a] = float64(n.axes[a])
	}
	return x
}

func (p *proof) skip(n *node) {
	size := p.forest.size(n)
	p.skipped += size
	p.settled += size
}

// advance works on the nodes with the highest bounds.
func (p *proof) advance(ctx context.Context) bool {
	bar := p.best.bar()
	var taken, halves []node
	var whole []candidate
	for len(taken) < proveBatch && p.queue.Len() > 0 && p.queue[0].score >= bar {
		n := heap.Pop(&p.queue).(node)
		taken = append(taken, n)
		if p.forest.size(&n) <= wholeNode {
			p.forest.each(&n, func(c candidate) {
				if !p.known[c] {
					whole = append(whole, c)
				}
			})
			continue
		}
		two := p.forest.split(&n)
		halves = append(halves, two[:]...)
	}
	found := make([]scored, len(whole))
	done := parallel(ctx, p.options.Workers, len(whole), 16, func(i int) { found[i] = p.space.evaluate(whole[i]) })
	if done == len(whole) && p.take(ctx, halves) {
		for i := range found {
			p.note(&found[i])
		}
		p.settled += int64(len(found))
		if p.options.Progress != nil {
			p.options.Progress(p.settled, p.space.fitted)
		}
		return true
	}
	// Interrupted: what was found counts, what was not settled stays open.
	for i := range found[:done] {
		p.note(&found[i])
	}
	for _, n := range taken {
		heap.Push(&p.queue, n)
	}
	return false
}

// gap is by how much the best left open might beat the best found; 0 if nothing is left open.
func (p *proof) gap() float64 {
	if p.queue.Len() == 0 {
		if p.whole {
			return 0
		}
		return 100 - p.top()
	}
	return math.Max(p.queue[0].score-p.top(), 0)
}

// nodeHeap gives the highest bound first, ties in the order of roots and branches.
type nodeHeap []node

func (h nodeHeap) Len() int { return len(h) }
func (h nodeHeap) Less(i, j int) bool {
	a, b := &h[i], &h[j]
	if a.score != b.score {
		return a.score > b.score
	}
	return cmp.Or(cmp.Compare(a.root, b.root), cmp.Compare(a.packs, b.packs), cmp.Compare(a.bodies, b.bodies)) < 0
}
func (h nodeHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface.
func (h *nodeHeap) Push(x any) { *h = append(*h, x.(node)) }

// Pop implements heap.Interface.
func (h *nodeHeap) Pop() any {
	old := *h
	n := old[len(old)-1]
	*h = slices.Delete(old, len(old)-1, len(old))
	return n
}
