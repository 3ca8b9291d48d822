package search

import (
	"cmp"
	"context"
	"fmt"
	"partsaloft/search/internal/parallel"
	"slices"
)

// slacks are the shares of the score that thinning may cost, tried in turn until a catalogue is
// small enough. The first costs nothing.
var slacks = [...]float64{0, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1}

// pruned keeps what can be the best for some weights and limits. An entry goes if another one is at
// least as good on every axis and keeps every limit that it keeps: whatever the weights and limits,
// the other one ranks before it. Of entries with the same axes only the first by ids may do so, for
// it wins the tie. If too many are left, entries go as well that another one covers but for a share
// of each axis, which is the most that the best score can lose, as scores are weighted geometric
// means of the axes. It returns that share.
func pruned(ctx context.Context, all []Entry, o *CatalogueOptions) ([]Entry, float64, error) {
	if len(o.Bounds) > maxBounds {
		return nil, 0, fmt.Errorf("a catalogue takes %d bounds at most, got %d", maxBounds, len(o.Bounds))
	}
	points := make([]point, len(all))
	for i := range all {
		points[i].of(&all[i], o.Bounds)
	}
	// What covers a point has no smaller sum of axes, so that it comes before the point.
	slices.SortFunc(points, func(a, b point) int {
		return cmp.Or(cmp.Compare(b.entry.Axes.Sum(), a.entry.Axes.Sum()),
			a.entry.found.Candidate.Compare(b.entry.found.Candidate))
	})
	for _, slack := range slacks {
		kept, whole := thinned(ctx, points, slack, o)
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		if whole || slack == slacks[len(slacks)-1] {
			entries := make([]Entry, len(kept))
			for i := range kept {
				entries[i] = *kept[i].entry
			}
			return entries, slack, nil
		}
	}
	return nil, 0, nil
}

// maxBounds is the most bounds that thinning takes.
const maxBounds = 5

// point is an entry as thinning sees it: axes and limits kept, more being better.
type point struct {
	axes  [4]float64
	keeps [maxBounds]int32
	entry *Entry
}

func (p *point) of(e *Entry, bounds []Bound) {
	p.entry, p.axes = e, e.Axes
	for b := range bounds {
		p.keeps[b] = e.Steps[b]
		if bounds[b].AtMost {
			p.keeps[b] = -e.Steps[b]
		}
	}
}

// thinBlock is how many points are tried against what is kept before they are tried among themselves.
const thinBlock = 1024

// thinned returns the points that no other one makes needless; false if they exceed the rows.
func thinned(ctx context.Context, points []point, slack float64, o *CatalogueOptions) ([]point, bool) {
	grow := 1 + slack
	var kept []point
	gone := make([]bool, thinBlock)
	for start := 0; start < len(points) && ctx.Err() == nil; start += thinBlock {
		block := points[start:min(start+thinBlock, len(points))]
		parallel.For(ctx, o.Workers, len(block), 16, func(i int) { gone[i] = block[i].needless(kept, grow) })
		old := len(kept)
		for i := range block {
			if !gone[i] && !block[i].needless(kept[old:], grow) {
				kept = append(kept, block[i])
			}
		}
		if len(kept) > o.Rows && slack < slacks[len(slacks)-1] {
			return nil, false
		}
	}
	return kept, true
}

// needless reports whether some kept point stands in for p whatever the weights and limits.
func (p *point) needless(kept []point, grow float64) bool {
next:
	for i := range kept {
		q := &kept[i]
		for a := range q.axes {
			if q.axes[a]*grow < p.axes[a] {
				continue next
			}
		}
		for b := range q.keeps {
			if q.keeps[b] < p.keeps[b] {
				continue next
			}
		}
		if grow > 1 || q.axes != p.axes || q.entry.found.Candidate.Compare(p.entry.found.Candidate) < 0 {
			return true
		}
	}
	return false
}
