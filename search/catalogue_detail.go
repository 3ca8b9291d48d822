package search

import (
	"context"
	"math"
	"slices"

	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// How the entries to be worked out in full are found: the first few for each of the weights on a
// grid, without limits, with the opening ones, and with each bound alone at some levels.
const (
	weightSteps = 6 // of the grid of weights, 84 in all
	limitLevels = 12
	firstFew    = 3
)

// detail predicts in full the entries that are likely to be looked at, at most o.Details of them.
func detail(ctx context.Context, s *space.Space, entries []Entry, o *CatalogueOptions, work cataloguing) {
	wanted := likelyEntries(ctx, entries, o)
	style := &s.Problem.Style
	results := make([]predict.Result, len(wanted))
	parallel.For(ctx, o.Workers, len(wanted), 4, func(i int) {
		results[i] = resultOf(s, &entries[wanted[i]].found)
	})
	predict.Spread(work.details.In(ctx), results, style, o.Workers)
	if ctx.Err() != nil {
		return
	}
	var first []predict.Result
	var firstAt []int
	for _, at := range openingRows(entries, o, o.Top) {
		if i, ok := slices.BinarySearch(wanted, at); ok {
			first, firstAt = append(first, resultOf(s, &entries[at].found)), append(firstAt, i)
		}
	}
	work.details.End()
	predict.Judge(work.rows.In(ctx), first, style, predict.NewDraws(o.Sampling(s.Problem.Drawer)), o.Workers)
	for i, at := range firstAt {
		results[at] = first[i]
	}
	for i, at := range wanted {
		entries[at].Result = &results[i]
	}
}

// likelyEntries are the entries that are likely to be looked at, in order.
func likelyEntries(ctx context.Context, entries []Entry, o *CatalogueOptions) []int {
	if len(entries) <= o.Details {
		return indices(len(entries))
	}
	limits := limitGrid(entries, o)
	weights := weightGrid()
	ln := make([][4]float64, len(entries))
	for i := range entries {
		for a, x := range entries[i].Axes {
			ln[i][a] = math.Log(x)
		}
	}
	chosen := make([][]int, len(limits))
	parallel.For(ctx, o.Workers, len(limits), 1, func(l int) {
		var inside []int
		for i := range entries {
			if entries[i].Keeps(limits[l], o.Bounds) {
				inside = append(inside, i)
			}
		}
		for _, w := range weights {
			chosen[l] = append(chosen[l], leaders(ln, inside, &w)...)
		}
	})
	take := make([]bool, len(entries))
	count := 0
	put := func(i int) {
		if !take[i] && count < o.Details {
			take[i] = true
			count++
		}
	}
	// Those that the page opens with come first, then the leaders, then the best by score.
	for _, i := range openingRows(entries, o, o.Details/4) {
		put(i)
	}
	for _, list := range chosen {
		for _, i := range list {
			put(i)
		}
	}
	for i := range entries {
		put(i)
	}
	var wanted []int
	for i, yes := range take {
		if yes {
			wanted = append(wanted, i)
		}
	}
	return wanted
}

// openingRows are the first entries of the first n rows that keep the opening limits, in order.
func openingRows(entries []Entry, o *CatalogueOptions, n int) []int {
	type row struct{ motor, prop, class string }
	var heads []int
	seen := map[row]bool{}
	for i := range entries {
		e := &entries[i]
		key := row{e.Combination.Motor.ID, e.Combination.Prop.ID, e.Class}
		if len(heads) < n && !seen[key] && e.Keeps(o.Opening, o.Bounds) {
			seen[key] = true
			heads = append(heads, i)
		}
	}
	return heads
}

func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// leaders are the first few of some entries for weights, by the logarithm of the score.
func leaders(ln [][4]float64, inside []int, w *objective.Weights) []int {
	var best [firstFew]int
	var score [firstFew]float64
	n := 0
	for _, i := range inside {
		x := 0.0
		for a, weight := range w {
			if weight > 0 {
				x += weight * ln[i][a]
			}
		}
		if n == firstFew && x <= score[n-1] {
			continue
		}
		n = min(n+1, firstFew)
		at := n - 1
		for at > 0 && score[at-1] < x {
			best[at], score[at] = best[at-1], score[at-1]
			at--
		}
		best[at], score[at] = i, x
	}
	return slices.Clone(best[:n])
}

// weightGrid are weights that divide evenly among the axes in steps.
func weightGrid() []objective.Weights {
	var grid []objective.Weights
	for a := 0; a <= weightSteps; a++ {
		for b := 0; a+b <= weightSteps; b++ {
			for c := 0; a+b+c <= weightSteps; c++ {
				grid = append(grid, objective.Weights{
					float64(a) / weightSteps, float64(b) / weightSteps, float64(c) / weightSteps,
					float64(weightSteps-a-b-c) / weightSteps,
				})
			}
		}
	}
	return grid
}

// limitGrid are no limits, the opening ones, and each bound alone at levels that leave equal
// numbers of entries more.
func limitGrid(entries []Entry, o *CatalogueOptions) [][]*int32 {
	grid := [][]*int32{make([]*int32, len(o.Bounds))}
	if o.Opening != nil {
		grid = append(grid, o.Opening)
	}
	for b := range o.Bounds {
		steps := make([]int32, len(entries))
		for i := range entries {
			steps[i] = entries[i].Steps[b]
		}
		slices.Sort(steps)
		for level := range limitLevels {
			limits := make([]*int32, len(o.Bounds))
			limits[b] = &steps[len(steps)*(2*level+1)/(2*limitLevels)]
			grid = append(grid, limits)
		}
	}
	return grid
}
