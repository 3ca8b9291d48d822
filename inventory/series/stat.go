package series

import (
	"math"
	"slices"
)

func mean(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// quantile of sorted values, linear between them.
func quantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := p * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	j := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[j]-sorted[i])
}

// quantileOf is a quantile of the finite ones of some values.
func quantileOf(x []float64, p float64) float64 {
	list := make([]float64, 0, len(x))
	for _, v := range x {
		if !math.IsNaN(v) {
			list = append(list, v)
		}
	}
	slices.Sort(list)
	return quantile(list, p)
}

func medianOf(x []float64) float64 { return quantileOf(x, 0.5) }

// madSD is the standard deviation of normal values by their median absolute deviation.
func madSD(x []float64) float64 {
	m := medianOf(x)
	d := make([]float64, len(x))
	for i, v := range x {
		d[i] = math.Abs(v - m)
	}
	return 1.4826 * medianOf(d)
}
