package search

import "slices"

// best keeps the n best feasible candidates in order.
type best struct {
	n    int
	list []scored
}

// add takes a candidate in if it is among the best so far.
func (b *best) add(s *scored) {
	if len(b.list) == b.n && (b.n == 0 || b.list[b.n-1].order(s) <= 0) {
		return
	}
	i, _ := slices.BinarySearchFunc(b.list, s, func(have scored, s *scored) int { return have.order(s) })
	if len(b.list) == b.n {
		b.list = b.list[:b.n-1]
	}
	b.list = slices.Insert(b.list, i, *s)
}

// bar is the score that a candidate must reach to enter; 0 while there is room.
func (b *best) bar() float64 {
	if len(b.list) < b.n {
		return 0
	}
	return b.list[b.n-1].verdict.Score
}
