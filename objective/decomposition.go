package objective

import (
	"math"
)

// Decompose decomposes the difference between two scores: how many of the points by which a leads b
// each axis gives, under 0 where it costs. The shares add up to the difference exactly: with
// ln S = Σ w ln x and L the logarithmic mean of the two scores, axis by axis
//
//	L w (ln x_a − ln x_b),  L = (S_a − S_b)/(ln S_a − ln S_b)
//
// (the additive decomposition of a product by logarithmic means, B. W. Ang, Energy Policy 33, 867,
// 2005). If a score is 0 the axes that are 0 there share the difference, by weight.
func Decompose(w *Weights, a, b *Axes) [AxisCount]float64 {
	var points [AxisCount]float64
	scoreA, scoreB := w.Score(a), w.Score(b)
	if scoreA == 0 && scoreB == 0 {
		return points
	}
	if scoreA == 0 || scoreB == 0 {
		zero := a
		if scoreB == 0 {
			zero = b
		}
		var weight float64
		for i := range points {
			if zero[i] <= 0 {
				weight += w[i]
			}
		}
		for i := range points {
			if zero[i] <= 0 && w[i] > 0 {
				points[i] = (scoreA - scoreB) * w[i] / weight
			}
		}
		return points
	}
	mean := scoreA
	if gap := math.Log(scoreA / scoreB); math.Abs(gap) > 1e-9 {
		mean = (scoreA - scoreB) / gap
	}
	for i := range points {
		if w[i] > 0 {
			points[i] = mean * w[i] * math.Log(a[i]/b[i])
		}
	}
	return points
}
