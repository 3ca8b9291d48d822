package main

import (
	"math"
	"testing"
)

// Independent: order statistics by hand.
func TestQuantile(t *testing.T) {
	x := []float64{5, 1, 4, 2, 3}
	for q, want := range map[float64]float64{0: 1, 0.5: 3, 1: 5, 0.9: 4.6, 0.25: 2} {
		if got := quantile(x, q); math.Abs(got-want) > 1e-12 {
			t.Errorf("quantile %g is %g, want %g", q, got, want)
		}
	}
	if x[0] != 5 {
		t.Error("quantile changed its argument")
	}
	if got := quantile([]float64{7}, 0.9); got != 7 {
		t.Errorf("quantile of one number is %g", got)
	}
	if !math.IsNaN(quantile(nil, 0.5)) {
		t.Error("quantile of nothing must be NaN")
	}
}

// Independent: binomial quantiles of 80 % from printed tables (20 cases: 12 to 19; 50: 34 to 45).
func TestBinomialBand(t *testing.T) {
	for n, want := range map[int][2]float64{20: {12. / 20, 19. / 20}, 50: {34. / 50, 45. / 50}} {
		low, high := binomialBand(n)
		if math.Abs(low-want[0]) > 1e-9 || math.Abs(high-want[1]) > 1e-9 {
			t.Errorf("%d cases: %.2f to %.2f, want %.2f to %.2f", n, low, high, want[0], want[1])
		}
	}
}

// Property: the spread of normal numbers is their standard deviation, and the correlation of a
// list with itself is 1, with its opposite −1.
func TestSpreadAndCorrelation(t *testing.T) {
	var x, opposite []float64
	for i := range 999 {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/999-1) * 0.2
		x, opposite = append(x, z), append(opposite, -z)
	}
	if s := spread80(x); math.Abs(s-0.2) > 0.002 {
		t.Errorf("spread %.4f, want 0.2", s)
	}
	if a, b := correlation(x, x), correlation(x, opposite); math.Abs(a-1) > 1e-12 || math.Abs(b+1) > 1e-12 {
		t.Errorf("correlations %g and %g, want 1 and -1", a, b)
	}
	if s := inside(x, 0.2); math.Abs(s-0.8) > 0.01 {
		t.Errorf("%.3f lie inside the 80 %% interval", s)
	}
}

// Property: a weight of one prop carries the common share, of very many all of their mean.
func TestSeriesGain(t *testing.T) {
	if g := seriesGain(1, 0.6); math.Abs(g-0.6) > 1e-12 {
		t.Errorf("gain of one prop %g, want 0.6", g)
	}
	if g := seriesGain(1e6, 0.6); math.Abs(g-1) > 1e-5 {
		t.Errorf("gain of very many props %g, want 1", g)
	}
}
