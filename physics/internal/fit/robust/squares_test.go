package robust

import (
	"math"
	"testing"
)

// Property: the robust fit finds a known curve through points of which every eighth is wild, which
// plain least squares does not, and a prior holds what the data leave open.
func TestRobustFit(t *testing.T) {
	const a, b = 2.0, -0.7
	p := Problem{Start: []float64{1, 0, 5}, Scale: []float64{0.5, 0.2, 1}, Prior: []float64{0, 0, 0.5}}
	var xs, ys []float64
	for i := range 64 {
		x := float64(i) / 64
		y := a*math.Exp(b*x) + 0.01*math.Sin(37*x)
		if i%8 == 3 {
			y += 3
		}
		xs, ys = append(xs, x), append(ys, y)
		p.Weights = append(p.Weights, 1)
	}
	p.Residuals = func(z, r []float64) {
		for i, x := range xs {
			r[i] = (ys[i] - z[0]*math.Exp(z[1]*x)) / 0.02
		}
	}
	s, err := p.Solve()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.X[0]-a) > 0.02 || math.Abs(s.X[1]-b) > 0.03 {
		t.Errorf("found %.4f exp(%.4f x), want %g exp(%g x)", s.X[0], s.X[1], a, b)
	}
	if math.Abs(s.X[2]-5) > 1e-3 || math.Abs(s.Sd[2]-0.5) > 0.01 {
		t.Errorf("what no point sees is %.4f ± %.3f, want the prior's 5 ± 0.5", s.X[2], s.Sd[2])
	}
	again, err := p.Solve()
	if err != nil || again.X[0] != s.X[0] || again.X[1] != s.X[1] {
		t.Errorf("a second fit gives %v (%v), the first %v", again.X, err, s.X)
	}
}
