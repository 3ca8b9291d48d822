package robust

import (
	"math"
	"testing"

	"partsaloft/physics/internal/residual"
)

// Independent: binomial quantiles of 80 % from printed tables (20 cases: 12 to 19; 50: 34 to 45).
func TestBinomialBand(t *testing.T) {
	for n, want := range map[int][2]float64{20: {12. / 20, 19. / 20}, 50: {34. / 50, 45. / 50}} {
		low, high := BinomialBand(n)
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
	if s := residual.Spread(x); math.Abs(s-0.2) > 0.002 {
		t.Errorf("spread %.4f, want 0.2", s)
	}
	if a, b := Correlation(x, x), Correlation(x, opposite); math.Abs(a-1) > 1e-12 || math.Abs(b+1) > 1e-12 {
		t.Errorf("correlations %g and %g, want 1 and -1", a, b)
	}
	if s := Inside(x, 0.2); math.Abs(s-0.8) > 0.01 {
		t.Errorf("%.3f lie inside the 80 %% interval", s)
	}
}
