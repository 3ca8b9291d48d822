package solve

import (
	"cmp"
	"math"
	"slices"
)

// kdTree is a k-d tree: it halves a list of parts again and again, like beside like, so that a search can bound a
// whole branch at once. Node 0 is the root; a leaf holds one part.
type kdTree[R any] struct {
	items []int32 // the parts, reordered
	nodes []treeNode[R]
}

// treeNode holds items[first:end] and what they range over.
type treeNode[R any] struct {
	first, end  int32
	left, right int32 // 0 for a leaf
	ranges      R
}

// newKDTree makes a k-d tree of parts. place gives a part's coordinates in comparable steps, and each
// branch is halved where it is widest; ranges sums up the parts of a branch.
func newKDTree[R any](items []int32, place func(int32) []float64, ranges func([]int32) R) *kdTree[R] {
	t := &kdTree[R]{items: items}
	t.branch(0, int32(len(items)), place, ranges)
	return t
}

func (t *kdTree[R]) branch(first, end int32, place func(int32) []float64, ranges func([]int32) R) int32 {
	at := int32(len(t.nodes))
	list := t.items[first:end]
	t.nodes = append(t.nodes, treeNode[R]{first: first, end: end, ranges: ranges(list)})
	if len(list) < 2 {
		return at
	}
	widest, span := 0, -1.0
	for i := range place(list[0]) {
		low, high := math.Inf(1), math.Inf(-1)
		for _, item := range list {
			x := place(item)[i]
			low, high = min(low, x), max(high, x)
		}
		if high-low > span {
			widest, span = i, high-low
		}
	}
	slices.SortFunc(list, func(a, b int32) int {
		return cmp.Or(cmp.Compare(place(a)[widest], place(b)[widest]), cmp.Compare(a, b))
	})
	middle := first + int32(len(list)/2)
	left := t.branch(first, middle, place, ranges)
	right := t.branch(middle, end, place, ranges)
	t.nodes[at].left, t.nodes[at].right = left, right
	return at
}
