package uncertain

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Quantile is the value at a share of some values, NaN of none; see SortedQuantile.
func Quantile(values []float64, share float64) float64 {
	return SortedQuantile(slices.Sorted(slices.Values(values)), share)
}

// SortedQuantile is the value at a share of rising values, NaN of none: linear between order statistics,
// the first at 0 and the last at 1 (definition 7 of R. J. Hyndman, Y. Fan, American Statistician 50,
// 361, 1996, which the library at hand does not have).
func SortedQuantile(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	x := share * float64(len(sorted)-1)
	i := min(int(x), len(sorted)-2)
	if i < 0 {
		return sorted[0]
	}
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}

// HalfWidth is half the width of a normal distribution's interval from LowShare to HighShare, in standard
// deviations.
func HalfWidth() float64 { return distuv.UnitNormal.Quantile(HighShare) }
