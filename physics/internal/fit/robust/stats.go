package robust

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/physics/internal/residual"
	"partsaloft/physics/uncertain"
)

// Correlation of two equally long lists about zero, each held to ±2.5 of its spread so that single
// specimens do not decide.
func Correlation(a, b []float64) float64 {
	sa, sb := 2.5*residual.Spread(a), 2.5*residual.Spread(b)
	var ab, aa, bb float64
	for i := range a {
		x, y := math.Max(-sa, math.Min(sa, a[i])), math.Max(-sb, math.Min(sb, b[i]))
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	return ab / math.Sqrt(aa*bb)
}

// ErrorPair writes median and nine-in-ten of absolute errors in percent.
func ErrorPair(logs []float64) string {
	if len(logs) == 0 {
		return "–"
	}
	e := residual.Relative(logs)
	return fmt.Sprintf("%.1f / %.1f %%", 100*residual.Median(e), 100*uncertain.Quantile(e, 0.9))
}

// Signed writes errors as median / nine in ten (bias) in percent, relative to what was measured: a bias over 0 is a
// prediction that is too high.
func Signed(logs []float64) string {
	if len(logs) == 0 {
		return "–"
	}
	return fmt.Sprintf("%s (%+.0f)", ErrorPair(logs), 100*(math.Exp(-residual.Median(logs))-1))
}

// BinomialBand is the 95 % band for the share inside 80 % intervals of n independent cases.
func BinomialBand(n int) (low, high float64) {
	cases := distuv.Binomial{N: float64(n), P: 0.8}
	at := func(p float64) float64 {
		k := 0
		for cases.CDF(float64(k)) < p {
			k++
		}
		return float64(k) / float64(n)
	}
	return at(0.025), at(0.975)
}

func Mean(x []float64) float64 { return stat.Mean(x, nil) }

// RmsOf is the root of the mean square.
func RmsOf(x []float64) float64 { return floats.Norm(x, 2) / math.Sqrt(float64(len(x))) }

// Inside is the share of logarithms within the 80 % interval of a standard deviation.
func Inside(logs []float64, sd float64) float64 {
	var n float64
	for _, l := range logs {
		if math.Abs(l) <= uncertain.HalfWidth()*sd {
			n++
		}
	}
	return n / float64(len(logs))
}
