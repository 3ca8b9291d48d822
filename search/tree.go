package search

import (
	"cmp"
	"math"
	"slices"
)

// tree halves a list of parts again and again, like beside like, so that a search can bound a
// whole branch at once. Node 0 is the root; a leaf holds one part.
type tree[R any] struct {
	items []int32 // the parts, reordered
	nodes []treeNode[R]
}

// treeNode holds items[first:end] and what they range over.
type treeNode[R any] struct {
	first, end  int32
	left, right int32 // 0 for a leaf
	ranges      R
}

// grow makes the tree of parts. place gives a part's coordinates in comparable steps, and each
// branch is halved where it is widest; ranges sums up the parts of a branch.
func grow[R any](items []int32, place func(int32) []float64, ranges func([]int32) R) *tree[R] {
	t := &tree[R]{items: items}
	t.branch(0, int32(len(items)), place, ranges)
	return t
}

func (t *tree[R]) branch(first, end int32, place func(int32) []float64, ranges func([]int32) R) int32 {
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

// span is a range of numbers.
type span struct{ low, high float64 }

func noSpan() span { return span{math.Inf(1), math.Inf(-1)} }

func (s *span) take(x float64) { s.low, s.high = min(s.low, x), max(s.high, x) }

// packRanges is what the packs of a branch range over; they share cells, chemistry and plug.
type packRanges struct {
	internalOhm, leadOhm, massKg span
	capacityAs, safeA            span
	first                        int32 // one of them, for what they share
}

func (s *Space) growPacks(packs []int32) *tree[packRanges] {
	return grow(packs, func(k int32) []float64 {
		p := &s.si.packs[k]
		return []float64{math.Log(p.CapacityAs), 2 * math.Log(p.MassKg), math.Log(p.InternalOhm), 0.3 * math.Log(p.SafeCurrentA)}
	}, func(list []int32) packRanges {
		r := packRanges{noSpan(), noSpan(), noSpan(), noSpan(), noSpan(), list[0]}
		for _, k := range list {
			p := &s.si.packs[k]
			r.internalOhm.take(p.InternalOhm)
			r.leadOhm.take(p.LeadOhm)
			r.massKg.take(p.MassKg)
			r.capacityAs.take(p.CapacityAs)
			r.safeA.take(p.SafeCurrentA)
		}
		return r
	})
}

// bodyRanges is what the bodies of a branch range over for one supply; they share the number of
// rotors. An unknown or advisory rating of a plug is infinite.
type bodyRanges struct {
	massKg, dragM2, watts, plugOhm span
	burstA, peakA, flying          span    // flying: factor on the power taken in flight
	boardA, plugA                  float64 // largest continuous ratings
	rotors                         int
}

func (s *Space) growBodies(bodies []int32, supply int) *tree[bodyRanges] {
	return grow(bodies, func(b int32) []float64 {
		f := &s.si.bodies[b][supply]
		return []float64{2 * math.Log(f.massKg()), math.Log(f.dragAreaM2), 3 * math.Log(f.board.BurstA)}
	}, func(list []int32) bodyRanges {
		r := bodyRanges{
			massKg: noSpan(), dragM2: noSpan(), watts: noSpan(), plugOhm: noSpan(), burstA: noSpan(), peakA: noSpan(), flying: noSpan(),
			rotors: s.si.bodies[list[0]][supply].rotors,
		}
		for _, b := range list {
			f := &s.si.bodies[b][supply]
			r.massKg.take(f.massKg())
			r.dragM2.take(f.dragAreaM2)
			r.watts.take(f.electronicsW)
			r.plugOhm.take(f.plugOhm)
			r.burstA.take(f.board.BurstA)
			r.flying.take(f.flyingFactor)
			r.peakA.take(f.rated(f.connector.PeakA))
			r.boardA, r.plugA = max(r.boardA, f.board.ContinuousA), max(r.plugA, f.rated(f.connector.ContinuousA))
		}
		return r
	})
}

// rated is a rating of the plug that holds something back.
func (f *frameSet) rated(ratingA float64) float64 {
	if ratingA == 0 || f.connector.Advisory {
		return math.Inf(1)
	}
	return ratingA
}

func (f *frameSet) massKg() float64 { return f.frameKg + f.extrasKg + f.board.MassKg }
