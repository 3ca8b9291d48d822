package solve

import (
	"partsaloft/search/space"
	"slices"
)

// topN keeps the top n, the best feasible candidates in order; of a group the best alone.
type topN struct {
	N     int
	List  []space.Scored
	group func(space.Candidate) space.Group // nil where every candidate is a row of its own
	held  map[space.Group]space.Scored      // the list by group
}

// groupedTop keeps the n best groups of a space, or its n best candidates.
func groupedTop(s *space.Space, o *Options) topN {
	if o.Ungrouped {
		return topN{N: o.Top}
	}
	return topN{N: o.Top, group: s.Group, held: map[space.Group]space.Scored{}}
}

// add takes a candidate in if it is among the best so far.
func (b *topN) add(s *space.Scored) {
	if len(b.List) == b.N && (b.N == 0 || b.List[b.N-1].Order(s) <= 0) {
		return
	}
	if b.group != nil {
		g := b.group(s.Candidate)
		if old, ok := b.held[g]; ok {
			if old.Order(s) <= 0 {
				return
			}
			i := b.place(&old)
			b.List = slices.Delete(b.List, i, i+1)
		}
		b.held[g] = *s
	}
	if len(b.List) == b.N {
		if b.group != nil {
			delete(b.held, b.group(b.List[b.N-1].Candidate))
		}
		b.List = b.List[:b.N-1]
	}
	b.List = slices.Insert(b.List, b.place(s), *s)
}

func (b *topN) place(s *space.Scored) int {
	i, _ := slices.BinarySearchFunc(b.List, s, func(have space.Scored, s *space.Scored) int { return have.Order(s) })
	return i
}

// incumbent is the score of the last of them, the score that a candidate must reach to enter; 0 while there is room.
func (b *topN) incumbent() float64 {
	if len(b.List) < b.N {
		return 0
	}
	return b.List[b.N-1].Evaluation.Score
}

// incumbentOf is the score that a candidate of a group must reach to enter: that of the group's best once it is held.
func (b *topN) incumbentOf(g space.Group) float64 {
	if held, ok := b.held[g]; ok {
		return held.Evaluation.Score
	}
	return b.incumbent()
}
