package solve

import (
	"math/bits"
	"slices"
	"sort"

	"partsaloft/objective"
	"partsaloft/search/space"
)

// ParetoFront is the Pareto front: it collects what nobody beats on every axis. Members are found by bit vectors, one for
// each axis and whole number of points: who has so much of the axis.
type ParetoFront struct {
	places []space.Scored // members and places that are free
	// having tells which places hold a member with so many points at least of each axis, a bit each.
	having  [objective.AxisCount][levels][]uint64
	free    []int32 // places
	changes int     // so often its members changed
	latest  int     // the place of what beat the candidate that was last not taken in
}

// levels are whole points, 0 to 100, that a member may have at least of an axis.
const levels = 101

// level is the whole number of points in some of an axis.
func level(points float64) int { return int(min(max(points, 0), levels-1)) }

// any returns the place of the first member that has at least the whole points of some axes, less a gap, and that passes
// a test; -1 if there is none.
func (f *ParetoFront) any(x *objective.Axes, gap float64, passes func(*objective.Axes) bool) int {
	var of [objective.AxisCount][]uint64
	for a := range x {
		of[a] = f.having[a][level(x[a]-gap)]
	}
	first := of[0]
	second, third, fourth := of[1][:len(first)], of[2][:len(first)], of[3][:len(first)]
	for i := range first {
		for set := first[i] & second[i] & third[i] & fourth[i]; set != 0; set &= set - 1 {
			if place := i*64 + bits.TrailingZeros64(set); passes(&f.places[place].Evaluation.Axes) {
				return place
			}
		}
	}
	return -1
}

// covers reports whether a member is at least as good as some axes on every one, or short of them by up to a gap.
func (f *ParetoFront) covers(x *objective.Axes, gap float64) bool {
	return f.any(x, gap, func(y *objective.Axes) bool {
		for a := range y {
			if y[a]+gap < x[a] {
				return false
			}
		}
		return true
	}) >= 0
}

// coversBound reports whether nothing that keeps to a bound lies more than a gap beyond the front.
func (f *ParetoFront) coversBound(b *bound, gap float64) bool {
	if float64(b.within) <= gap || f.covers(&b.axes, gap) {
		return true
	}
	for i := range b.cut {
		if !f.covers(&b.pieces[i], gap) {
			return false
		}
	}
	return b.cut > 0
}

// gapOfBound is the least whole number of points, up to 100, within which the front covers all that keeps to a bound.
func (f *ParetoFront) gapOfBound(b *bound) float64 {
	return float64(sort.Search(levels-1, func(gap int) bool { return f.coversBound(b, float64(gap)) }))
}

// add takes a feasible candidate in unless a member beats or equals it on every axis, and drops
// the members that it beats. Of two with the same axes the one that is first by ids stays.
func (f *ParetoFront) add(s *space.Scored) {
	axes := &s.Evaluation.Axes
	better := func(y *objective.Axes) bool { return *y == *axes || y.Dominates(axes) }
	i := f.latest // what beat the one before often beats this one: twins are noted in turn
	if i >= len(f.places) || f.having[0][0][i/64]&(1<<(i%64)) == 0 || !better(&f.places[i].Evaluation.Axes) {
		i = f.any(axes, 0, better)
	}
	if i >= 0 {
		f.latest = i
		if p := &f.places[i]; p.Evaluation.Axes == *axes && s.Candidate.Compare(p.Candidate) < 0 {
			p.Candidate = s.Candidate
			f.changes++
		}
		return
	}
	f.dropBeaten(axes)
	if len(f.free) == 0 {
		if len(f.places)%64 == 0 {
			for a := range f.having {
				for l := range f.having[a] {
					f.having[a][l] = append(f.having[a][l], 0)
				}
			}
		}
		f.free = append(f.free, int32(len(f.places)))
		f.places = append(f.places, space.Scored{})
	}
	place := f.free[len(f.free)-1]
	f.free = f.free[:len(f.free)-1]
	f.places[place] = *s
	f.mark(place)
	f.changes++
}

// dropBeaten drops the members that some axes beat.
func (f *ParetoFront) dropBeaten(x *objective.Axes) {
	for i, set := range f.having[0][0] { // who is there at all
		for a := range x {
			if above := level(x[a]) + 1; above < levels {
				set &^= f.having[a][above][i]
			}
		}
		for ; set != 0; set &= set - 1 {
			place := int32(i*64 + bits.TrailingZeros64(set))
			if x.Dominates(&f.places[place].Evaluation.Axes) {
				f.mark(place)
				f.free = append(f.free, place)
			}
		}
	}
}

// mark sets the bits of a member that came to a place, or clears those of one that leaves it.
func (f *ParetoFront) mark(place int32) {
	bit := uint64(1) << (place % 64)
	for a, y := range &f.places[place].Evaluation.Axes {
		for l := range level(y) + 1 {
			f.having[a][l][place/64] ^= bit
		}
	}
}

// len is the number of members.
func (f *ParetoFront) len() int { return len(f.places) - len(f.free) }

// members lists copies of them in the order of their places.
func (f *ParetoFront) members() []space.Scored {
	list := make([]space.Scored, 0, f.len())
	for _, s := range f.held() {
		list = append(list, *s)
	}
	return list
}

// held lists them in the order of their places, good until the next is added.
func (f *ParetoFront) held() []*space.Scored {
	list := make([]*space.Scored, 0, f.len())
	for i := range f.places {
		if f.having[0][0][i/64]&(1<<(i%64)) != 0 {
			list = append(list, &f.places[i])
		}
	}
	return list
}

// Sorted lists the members, best score first.
func (f *ParetoFront) Sorted() []space.Scored {
	out := f.members()
	slices.SortFunc(out, func(a, b space.Scored) int { return a.Order(&b) })
	return out
}

// Hypervolume is the share of the cube of the four axes from 0 to 100 that a set of points covers:
// the part whose every point some member is at least as good as (E. Zitzler and L. Thiele, IEEE
// Transactions on Evolutionary Computation 3, 257, 1999). By slices along the last axis, exact.
func Hypervolume(points []objective.Axes) float64 {
	list := make([][]float64, len(points))
	for i := range points {
		list[i] = points[i][:]
	}
	volume := sliced(list, int(objective.AxisCount))
	for range objective.AxisCount {
		volume /= 100
	}
	return volume
}

// sliced is the volume that points dominate in their first n coordinates, over the origin.
func sliced(points [][]float64, n int) float64 {
	if n == 1 {
		var most float64
		for _, p := range points {
			most = max(most, p[0])
		}
		return most
	}
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b []float64) int {
		switch {
		case a[n-1] > b[n-1]:
			return -1
		case a[n-1] < b[n-1]:
			return 1
		}
		return 0
	})
	var volume float64
	var above [][]float64 // those not beaten in the first n−1 coordinates
	for i, p := range points {
		if !slices.ContainsFunc(above, func(q []float64) bool { return atLeast(q, p, n-1) }) {
			above = slices.DeleteFunc(above, func(q []float64) bool { return atLeast(p, q, n-1) })
			above = append(above, p)
		}
		next := 0.0
		if i+1 < len(points) {
			next = points[i+1][n-1]
		}
		if depth := p[n-1] - next; depth > 0 {
			volume += depth * sliced(above, n-1)
		}
	}
	return volume
}

func atLeast(p, q []float64, n int) bool {
	for i := range n {
		if p[i] < q[i] {
			return false
		}
	}
	return true
}
