package solve

import (
	"partsaloft/search/space"
	"slices"
)

// topN keeps the top n, the best feasible candidates in order.
type topN struct {
	N    int
	List []space.Scored
}

// add takes a candidate in if it is among the best so far.
func (b *topN) add(s *space.Scored) {
	if len(b.List) == b.N && (b.N == 0 || b.List[b.N-1].Order(s) <= 0) {
		return
	}
	i, _ := slices.BinarySearchFunc(b.List, s, func(have space.Scored, s *space.Scored) int { return have.Order(s) })
	if len(b.List) == b.N {
		b.List = b.List[:b.N-1]
	}
	b.List = slices.Insert(b.List, i, *s)
}

// incumbent is the score of the last of them, the score that a candidate must reach to enter; 0 while there is room.
func (b *topN) incumbent() float64 {
	if len(b.List) < b.N {
		return 0
	}
	return b.List[b.N-1].Evaluation.Score
}
