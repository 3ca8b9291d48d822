package solve

import (
	"math"
	"partsaloft/objective"
	"testing"
)

// Hypervolumes worked out by hand: one point is a box; two boxes overlap in a third; a beaten
// point adds nothing; a staircase in two axes with the others full.
func TestHypervolume(t *testing.T) {
	for _, c := range []struct {
		points []objective.Axes
		want   float64
	}{
		{nil, 0},
		{[]objective.Axes{{50, 50, 50, 50}}, 0.0625},
		{[]objective.Axes{{100, 50, 100, 100}, {50, 100, 100, 100}}, 0.75},
		{[]objective.Axes{{80, 80, 80, 80}, {10, 80, 70, 80}}, 0.4096},
		{[]objective.Axes{{20, 100, 100, 60}, {60, 100, 100, 20}, {40, 100, 100, 40}}, 0.2*0.6 + 0.2*0.4 + 0.2*0.2},
		{[]objective.Axes{{50, 60, 70, 80}, {60, 50, 80, 70}}, 2*0.5*0.6*0.7*0.8 - 0.5*0.5*0.7*0.7},
	} {
		if got := Hypervolume(c.points); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v cover %g, want %g", c.points, got, c.want)
		}
	}
}
