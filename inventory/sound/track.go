package sound

import (
	"math"
	"slices"
)

// walk is how far a hover's rotor speed wanders in 0.1 s, standard deviation in ln f.
const (
	walk      = 0.012
	walkTimeS = 0.1
)

// viterbi finds the most likely path through scores by frame and grid point under a Gaussian random walk, as grid
// points, and its mean score a frame. A path is wanted only if asked for.
func viterbi(score [][]float64, hopS float64, want bool) ([]int, float64) {
	if len(score) == 0 {
		return nil, 0
	}
	sd := walk * math.Sqrt(hopS/walkTimeS) / gridStep
	reach := int(math.Ceil(3 * sd))
	cost := make([]float64, reach+1)
	for d := range cost {
		cost[d] = float64(d*d) / (2 * sd * sd)
	}
	points := len(score[0])
	best, next := append([]float64(nil), score[0]...), make([]float64, points)
	var back [][]int16
	for _, row := range score[1:] {
		if !want {
			farthest(next, best, cost)
			for i, x := range row {
				next[i] += x
			}
			best, next = next, best
			continue
		}
		from := make([]int16, points)
		back = append(back, from)
		for i := range next {
			at, top := i, best[i]
			for j := max(0, i-reach); j <= min(points-1, i+reach); j++ {
				d := i - j
				if d < 0 {
					d = -d
				}
				if x := best[j] - cost[d]; x > top {
					at, top = j, x
				}
			}
			next[i] = top + row[i]
			from[i] = int16(at)
		}
		best, next = next, best
	}
	at := 0
	for i, x := range best {
		if x > best[at] {
			at = i
		}
	}
	mean := best[at] / float64(len(score))
	if !want {
		return nil, mean
	}
	path := make([]int, len(score))
	path[len(path)-1] = at
	for f := len(back) - 1; f >= 0; f-- {
		at = int(back[f][at])
		path[f] = at
	}
	return path, mean
}

// farthest is the best that leads to each point from those within reach, less the cost of the way: by distance, near
// ones first, until no more can be had than what the highest point of the blocks within reach leaves.
func farthest(to, best, cost []float64) {
	const block = 16
	var few [64]float64
	high := few[:0]
	for from := 0; from < len(best); from += block {
		high = append(high, slices.Max(best[from:min(len(best), from+block)]))
	}
	reach := len(cost) - 1
	for i, top := range best {
		most := math.Inf(-1)
		for _, x := range high[max(0, i-reach)/block : min(len(best)-1, i+reach)/block+1] {
			if x > most {
				most = x
			}
		}
		for d := 1; d <= reach && most-cost[d] > top; d++ {
			if j := i - d; j >= 0 {
				if x := best[j] - cost[d]; x > top {
					top = x
				}
			}
			if j := i + d; j < len(best) {
				if x := best[j] - cost[d]; x > top {
					top = x
				}
			}
		}
		to[i] = top
	}
}

// against is how many standard deviations a score lies above those of combs that no rotor makes.
func against(score float64, null []float64) float64 {
	mean, square := 0.0, 0.0
	for _, x := range null {
		mean += x / float64(len(null))
	}
	for _, x := range null {
		square += (x - mean) * (x - mean) / float64(len(null)-1)
	}
	return (score - mean) / math.Sqrt(square+1e-12)
}
