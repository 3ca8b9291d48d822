package main

import (
	"fmt"
	"math"
	"slices"
)

// quantile is the q-th quantile of numbers, linear between order statistics; NaN of none.
func quantile(x []float64, q float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	y := slices.Clone(x)
	slices.Sort(y)
	at := q * float64(len(y)-1)
	i := min(int(at), len(y)-2)
	if i < 0 {
		return y[0]
	}
	return y[i] + (at-float64(i))*(y[i+1]-y[i])
}

func median(x []float64) float64 { return quantile(x, 0.5) }

// relative turns logarithms of measured over predicted into absolute errors relative to the measured.
func relative(logs []float64) []float64 {
	out := make([]float64, len(logs))
	for i, l := range logs {
		out[i] = math.Abs(math.Exp(-l) - 1)
	}
	return out
}

// spread80 is the standard deviation whose normal 80 % interval about zero holds 80 % of the logs.
func spread80(logs []float64) float64 {
	abs := make([]float64, len(logs))
	for i, l := range logs {
		abs[i] = math.Abs(l)
	}
	return quantile(abs, 0.8) / 1.2816
}

// correlation of two equally long lists about zero, each held to ±2.5 of its spread so that single
// specimens do not decide.
func correlation(a, b []float64) float64 {
	sa, sb := 2.5*spread80(a), 2.5*spread80(b)
	var ab, aa, bb float64
	for i := range a {
		x, y := math.Max(-sa, math.Min(sa, a[i])), math.Max(-sb, math.Min(sb, b[i]))
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	return ab / math.Sqrt(aa*bb)
}

// errorPair writes median and nine-in-ten of absolute errors in percent.
func errorPair(logs []float64) string {
	if len(logs) == 0 {
		return "–"
	}
	e := relative(logs)
	return fmt.Sprintf("%.1f / %.1f %%", 100*median(e), 100*quantile(e, 0.9))
}

// binomialBand is the 95 % band for the share inside 80 % intervals of n independent cases.
func binomialBand(n int) (low, high float64) {
	const share = 0.8
	cumulative, k := 0.0, 0
	low, high = 0, 1
	found := false
	for ; k <= n; k++ {
		lg := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
		p := math.Exp(lg(n) - lg(k) - lg(n-k) + float64(k)*math.Log(share) + float64(n-k)*math.Log(1-share))
		cumulative += p
		if !found && cumulative >= 0.025 {
			low, found = float64(k)/float64(n), true
		}
		if cumulative >= 0.975 {
			high = float64(k) / float64(n)
			break
		}
	}
	return low, high
}
