package solve

import (
	"container/heap"
	"partsaloft/search/space"
	"slices"
)

// Diverse picks up to n candidates from a sorted list, each of a group unlike those of all before it.
func Diverse(of *space.Space, sorted []space.Scored, n int) []space.Scored {
	var out []space.Scored
	for i := range sorted {
		if len(out) == n {
			break
		}
		if !similar(of, out, of.Group(sorted[i].Candidate)) {
			out = append(out, sorted[i])
		}
	}
	return out
}

// similar reports whether a group is alike to that of a pick.
func similar(of *space.Space, picks []space.Scored, g space.Group) bool {
	return slices.ContainsFunc(picks, func(s space.Scored) bool { return of.Group(s.Candidate).Similar(g) })
}

// Groups keep the best candidate of each group.
type Groups struct {
	of   func(space.Candidate) space.Group
	best map[space.Group]space.Scored // nil where none are kept
}

func (t *Groups) add(s *space.Scored) {
	if t.best == nil {
		return
	}
	key := t.of(s.Candidate)
	if old, ok := t.best[key]; !ok || s.Order(&old) < 0 {
		t.best[key] = *s
	}
}

// Sorted lists them, the best first.
func (t *Groups) Sorted() []space.Scored {
	list := make([]space.Scored, 0, len(t.best))
	for _, s := range t.best {
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
	g, ok := p.roots.group(n)
	if r := p.roots.root(n.root); p.roots.several(&r) {
		return true // of twins only some may be alike to a pick
	}
	if !ok {
		g.Pack = -1
	}
	return !similar(p.roots.space, p.List, g)
}

func (p *diversePicks) tellsMore(n *node, b *bound) bool { return p.matters(n, b) }

func (p *diversePicks) priority(b *bound) float64 { return b.score }

// pick picks what comes before everything open.
func (p *diversePicks) pick(open *nodeHeap) {
	for len(p.List) < p.n && p.pool.Len() > 0 {
		if open.Len() > 0 && float64(open.nodes[0].score) >= p.pool[0].Evaluation.Score {
			return
		}
		s := heap.Pop(&p.pool).(space.Scored)
		if !similar(p.roots.space, p.List, p.roots.space.Group(s.Candidate)) {
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
