package solve

import (
	"slices"

	"partsaloft/objective"
	"partsaloft/search/space"
)

// ParetoFront is the Pareto front: it collects what nobody beats on every axis.
type ParetoFront struct {
	points  []space.Scored
	changes int // so often its members changed
}

// add takes a feasible candidate in unless a member beats or equals it on every axis, and drops
// the members that it beats. Of two with the same axes the one that is first by ids stays.
func (f *ParetoFront) add(s *space.Scored) {
	for i := range f.points {
		p := &f.points[i]
		if p.Evaluation.Axes == s.Evaluation.Axes {
			if s.Candidate.Compare(p.Candidate) < 0 {
				p.Candidate = s.Candidate
				f.changes++
			}
			return
		}
		if p.Evaluation.Axes.Dominates(&s.Evaluation.Axes) {
			// A member that beats much is likely to beat the next: try it first.
			f.points[0], f.points[i] = f.points[i], f.points[0]
			return
		}
	}
	axes := &s.Evaluation.Axes
	f.points = slices.DeleteFunc(f.points, func(p space.Scored) bool { return axes.Dominates(&p.Evaluation.Axes) })
	f.points = append(f.points, *s)
	f.changes++
}

// covers reports whether a member is at least as good as some axes on every one, or short of them by up to a gap.
func (f *ParetoFront) covers(x *objective.Axes, gap float64) bool {
	for i := range f.points {
		short := false
		for a, y := range &f.points[i].Evaluation.Axes {
			if y+gap < x[a] {
				short = true
				break
			}
		}
		if !short {
			return true
		}
	}
	return false
}

// Sorted lists the members, best score first.
func (f *ParetoFront) Sorted() []space.Scored {
	out := slices.Clone(f.points)
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
