package solve

import (
	"cmp"
	"math"
	"slices"
)

// kdTree is a k-d tree: it parts a list of parts in two again and again, like beside like, so that a search can bound a
// whole branch at once. Node 0 is the root; a leaf holds one part with its twins. A list is sorted by the coordinate that
// is widest and cut where the widths of the two, each times the number of its parts, add up to least, so that a cut
// falls between clusters (the surface area heuristic in one dimension: J. D. MacDonald, K. S. Booth, The Visual Computer
// 6, 153, 1990).
type kdTree[R any] struct {
	items []int32 // the parts, reordered; of twins the first
	twins twins
	nodes []treeNode[R]
}

// treeNode holds items[first:end] and what they range over; parts is their number with all twins.
type treeNode[R any] struct {
	first, end  int32
	parts       int32
	left, right int32 // 0 for a leaf
	ranges      R
}

// traits say how the parts of a tree differ.
type traits[K comparable, R any] struct {
	key    func(int32) K         // all that an evaluation looks at
	place  func(int32) []float64 // coordinates in comparable steps
	ranges func([]int32) R       // what the parts of a branch range over
}

// newKDTree makes a k-d tree of parts that are listed in order.
func newKDTree[K comparable, R any](parts []int32, of traits[K, R]) *kdTree[R] {
	t := &kdTree[R]{}
	t.items, t.twins = sortTwins(parts, of.key)
	t.branch(0, int32(len(t.items)), of.place, of.ranges)
	return t
}

func (t *kdTree[R]) branch(first, end int32, place func(int32) []float64, ranges func([]int32) R) int32 {
	at := int32(len(t.nodes))
	list := t.items[first:end]
	parts := 0
	for _, item := range list {
		parts += t.twins.count(item)
	}
	t.nodes = append(t.nodes, treeNode[R]{first: first, end: end, parts: int32(parts), ranges: ranges(list)})
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
	cut := first + int32(cutOf(len(list), func(i int) float64 { return place(list[i])[widest] }))
	left := t.branch(first, cut, place, ranges)
	right := t.branch(cut, end, place, ranges)
	t.nodes[at].left, t.nodes[at].right = left, right
	return at
}

// cutOf is how many of n sorted numbers to cut off, of cuts that are as good the one nearest to the middle.
func cutOf(n int, x func(int) float64) int {
	best, least := 0, math.Inf(1)
	off := func(i int) int { return max(2*i-n, n-2*i) }
	for i := 1; i < n; i++ {
		cost := float64(i)*(x(i-1)-x(0)) + float64(n-i)*(x(n-1)-x(i))
		if cost < least || cost == least && off(i) < off(best) {
			best, least = i, cost
		}
	}
	return best
}
