package solve

import (
	"container/heap"
	"partsaloft/search/space"
	"slices"
)

// Diverse picks up to n candidates from a sorted list, each unlike all before it.
func Diverse(sorted []space.Scored, n int) []space.Scored {
	var out []space.Scored
	for _, s := range sorted {
		if len(out) == n {
			break
		}
		if !slices.ContainsFunc(out, func(o space.Scored) bool { return o.Candidate.Similar(s.Candidate) }) {
			out = append(out, s)
		}
	}
	return out
}

// Triples keeps the best candidate of each motor, prop and pack.
type Triples map[[3]int32]space.Scored

func (t Triples) add(s *space.Scored) {
	key := [3]int32{s.Candidate.Motor, s.Candidate.Prop, s.Candidate.Pack}
	if old, ok := t[key]; !ok || s.Order(&old) < 0 {
		t[key] = *s
	}
}

// Sorted lists them, the best first.
func (t Triples) Sorted() []space.Scored {
	list := make([]space.Scored, 0, len(t))
	for _, s := range t {
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b space.Scored) int { return a.Order(&b) })
	return list
}

// diversePicks make a spread list under a proof: a candidate is picked once nothing open can come before
// it, and what is alike to a pick no longer matters.
type diversePicks struct {
	n     int
	roots *rootNodes
	List  []space.Scored
	pool  scoredHeap // found, but not yet settled
}

func (p *diversePicks) matters(n *node, _ *bound) bool {
	if len(p.List) == p.n {
		return false
	}
	r := &p.roots.roots[n.root]
	branch := &p.roots.packs[r.packs].nodes[n.packs]
	c := space.Candidate{Motor: r.motor, Prop: r.prop, Pack: -1}
	if branch.end-branch.first == 1 {
		c.Pack = p.roots.packs[r.packs].items[branch.first]
	}
	return !slices.ContainsFunc(p.List, func(s space.Scored) bool { return s.Candidate.Similar(c) })
}

func (p *diversePicks) priority(b *bound) float64 { return b.score }

// pick picks what comes before everything open.
func (p *diversePicks) pick(open *nodeHeap) {
	for len(p.List) < p.n && p.pool.Len() > 0 {
		if open.Len() > 0 && open.nodes[0].score >= p.pool[0].Evaluation.Score {
			return
		}
		s := heap.Pop(&p.pool).(space.Scored)
		if !slices.ContainsFunc(p.List, func(o space.Scored) bool { return o.Candidate.Similar(s.Candidate) }) {
			p.List = append(p.List, s)
		}
	}
}

// scoredHeap gives the best first.
type scoredHeap []space.Scored

func (h scoredHeap) Len() int           { return len(h) }
func (h scoredHeap) Less(i, j int) bool { return h[i].Order(&h[j]) < 0 }
func (h scoredHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface.
func (h *scoredHeap) Push(x any) { *h = append(*h, x.(space.Scored)) }

// Pop implements heap.Interface.
func (h *scoredHeap) Pop() any {
	old := *h
	s := old[len(old)-1]
	*h = old[:len(old)-1]
	return s
}
