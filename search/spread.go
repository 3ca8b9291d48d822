package search

import (
	"container/heap"
	"slices"
)

// alike says whether two candidates share two of motor, prop and pack: then they are one craft
// with a part changed, and a spread list holds only the better one.
func (c candidate) alike(d candidate) bool {
	same := 0
	for _, equal := range [...]bool{c.motor == d.motor, c.prop == d.prop, c.pack == d.pack} {
		if equal {
			same++
		}
	}
	return same >= 2
}

// spreadOut picks up to n candidates from a sorted list, each unlike all before it.
func spreadOut(sorted []scored, n int) []scored {
	var out []scored
	for _, s := range sorted {
		if len(out) == n {
			break
		}
		if !slices.ContainsFunc(out, func(o scored) bool { return o.candidate.alike(s.candidate) }) {
			out = append(out, s)
		}
	}
	return out
}

// triples keeps the best candidate of each motor, prop and pack.
type triples map[[3]int32]scored

func (t triples) add(s *scored) {
	key := [3]int32{s.candidate.motor, s.candidate.prop, s.candidate.pack}
	if old, ok := t[key]; !ok || s.order(&old) < 0 {
		t[key] = *s
	}
}

// sorted lists them, the best first.
func (t triples) sorted() []scored {
	list := make([]scored, 0, len(t))
	for _, s := range t {
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b scored) int { return a.order(&b) })
	return list
}

// picks make a spread list under a proof: a candidate is picked once nothing open can come before
// it, and what is alike to a pick no longer matters.
type picks struct {
	n      int
	forest *forest
	list   []scored
	pool   scoredHeap // found, but not yet settled
}

func (p *picks) matters(n *node, _ *bound) bool {
	if len(p.list) == p.n {
		return false
	}
	r := &p.forest.roots[n.root]
	branch := &p.forest.packs[r.packs].nodes[n.packs]
	c := candidate{motor: r.motor, prop: r.prop, pack: -1}
	if branch.end-branch.first == 1 {
		c.pack = p.forest.packs[r.packs].items[branch.first]
	}
	return !slices.ContainsFunc(p.list, func(s scored) bool { return s.candidate.alike(c) })
}

func (p *picks) priority(b *bound) float64 { return b.score }

// settle picks what comes before everything open.
func (p *picks) settle(open *nodeHeap) {
	for len(p.list) < p.n && p.pool.Len() > 0 {
		if open.Len() > 0 && open.nodes[0].score >= p.pool[0].verdict.Score {
			return
		}
		s := heap.Pop(&p.pool).(scored)
		if !slices.ContainsFunc(p.list, func(o scored) bool { return o.candidate.alike(s.candidate) }) {
			p.list = append(p.list, s)
		}
	}
}

// scoredHeap gives the best first.
type scoredHeap []scored

func (h scoredHeap) Len() int           { return len(h) }
func (h scoredHeap) Less(i, j int) bool { return h[i].order(&h[j]) < 0 }
func (h scoredHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface.
func (h *scoredHeap) Push(x any) { *h = append(*h, x.(scored)) }

// Pop implements heap.Interface.
func (h *scoredHeap) Pop() any {
	old := *h
	s := old[len(old)-1]
	*h = old[:len(old)-1]
	return s
}
