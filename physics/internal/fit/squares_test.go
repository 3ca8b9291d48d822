package main

import (
	"math"
	"testing"
)

// Property: the robust fit finds a known curve through points of which every eighth is wild, which
// plain least squares does not, and a prior holds what the data leave open.
func TestRobustFit(t *testing.T) {
	const a, b = 2.0, -0.7
	p := robust{start: []float64{1, 0, 5}, scale: []float64{0.5, 0.2, 1}, prior: []float64{0, 0, 0.5}}
	var xs, ys []float64
	for i := range 64 {
		x := float64(i) / 64
		y := a*math.Exp(b*x) + 0.01*math.Sin(37*x)
		if i%8 == 3 {
			y += 3
		}
		xs, ys = append(xs, x), append(ys, y)
		p.weights = append(p.weights, 1)
	}
	p.residuals = func(z, r []float64) {
		for i, x := range xs {
			r[i] = (ys[i] - z[0]*math.Exp(z[1]*x)) / 0.02
		}
	}
	s, err := p.solve()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.x[0]-a) > 0.02 || math.Abs(s.x[1]-b) > 0.03 {
		t.Errorf("found %.4f exp(%.4f x), want %g exp(%g x)", s.x[0], s.x[1], a, b)
	}
	if math.Abs(s.x[2]-5) > 1e-3 || math.Abs(s.sd[2]-0.5) > 0.01 {
		t.Errorf("what no point sees is %.4f ± %.3f, want the prior's 5 ± 0.5", s.x[2], s.sd[2])
	}
	again, err := p.solve()
	if err != nil || again.x[0] != s.x[0] || again.x[1] != s.x[1] {
		t.Errorf("a second fit gives %v (%v), the first %v", again.x, err, s.x)
	}
}
