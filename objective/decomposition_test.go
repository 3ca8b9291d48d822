package objective

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Property: whatever the axes and weights, the points of the axes add up to the difference of the
// scores, an axis without weight gives none, and one that is better never costs any.
func TestDecompositionAddsUpToTheDifference(t *testing.T) {
	draw := rand.New(rand.NewPCG(7, 11))
	for range 2000 {
		var w Weights
		var a, b Axes
		for i := range w {
			if draw.Float64() < 0.8 {
				w[i] = draw.Float64()
			}
			a[i], b[i] = 100*draw.Float64(), 100*draw.Float64()
			if draw.Float64() < 0.05 {
				a[i] = 0
			}
			if draw.Float64() < 0.05 {
				b[i] = 0
			}
			if draw.Float64() < 0.1 {
				b[i] = a[i]
			}
		}
		w, err := w.Normalised()
		if err != nil {
			continue
		}
		points := Decompose(&w, &a, &b)
		var sum float64
		for i, p := range points {
			sum += p
			if w[i] == 0 && p != 0 {
				t.Fatalf("weights %v, axes %v and %v: axis %d has no weight and gives %g", w, a, b, i, p)
			}
			if a[i] > b[i] && p < 0 || a[i] < b[i] && p > 0 {
				t.Fatalf("weights %v, axes %v and %v: axis %d gives %g", w, a, b, i, p)
			}
		}
		if want := w.Score(&a) - w.Score(&b); math.Abs(sum-want) > 1e-9 {
			t.Fatalf("weights %v, axes %v and %v: %v add up to %g, want %g", w, a, b, points, sum, want)
		}
	}
}
