// Package residual sums up residuals: natural logarithms of measured over predicted figures.
package residual

import (
	"fmt"
	"math"

	"partsaloft/physics/uncertain"
)

// Median is the median of some numbers, NaN of none.
func Median(x []float64) float64 { return uncertain.Quantile(x, 0.5) }

// Relative turns residuals into absolute errors relative to the measured.
func Relative(logs []float64) []float64 {
	out := make([]float64, len(logs))
	for i, l := range logs {
		out[i] = math.Abs(math.Exp(-l) - 1)
	}
	return out
}

// Spread is the standard deviation whose normal 80 % interval about zero holds 80 % of the residuals.
func Spread(logs []float64) float64 {
	size := make([]float64, len(logs))
	for i, l := range logs {
		size[i] = math.Abs(l)
	}
	return uncertain.Quantile(size, 0.8) / uncertain.HalfWidth()
}

// Agree fails where residuals scatter much more or much less than a stated standard deviation: by less
// than 0.65 or more than 1.5 times as much.
func Agree(logs []float64, lnSD float64) error {
	found := Spread(logs)
	if r := found / lnSD; !(r >= 0.65 && r <= 1.5) {
		return fmt.Errorf("%d figures scatter by %.3f of ln, stated are %.3f", len(logs), found, lnSD)
	}
	return nil
}
