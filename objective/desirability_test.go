package objective

import (
	"math"
	"testing"
)

// Derringer & Suich 1980: at the optimum of their tire tread compound the four responses are 129.5
// (abrasion index, over 120, 170 is enough), 1300 (modulus, over 1000, 1300 is enough), 465.7
// (elongation, 400 to 600, 500 is best) and 68 (hardness, 60 to 75, 67.5 is best), with
// desirabilities 0.189, 1, 0.656 and 0.932 and a composite of 0.583. Published; transcribed from
// memory. A two-sided desirability with exponents of 1 is the smaller of two one-sided ones.
func TestPublishedTireTread(t *testing.T) {
	up := func(y, worst, best float64) float64 {
		s := Scale{Worst: worst, Best: best}
		return s.Desirability(y)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"abrasion", up(129.5, 120, 170), 0.189},
		{"modulus", up(1300, 1000, 1300), 1},
		{"elongation", math.Min(up(465.7, 400, 500), up(465.7, 600, 500)), 0.656},
		{"hardness", math.Min(up(68, 60, 67.5), up(68, 75, 67.5)), 0.932},
	} {
		if math.Abs(c.got-c.want) > 0.002 {
			t.Errorf("%s: got %.4f, published %.3f", c.name, c.got, c.want)
		}
	}
	d := [...]float64{up(129.5, 120, 170), 1, up(465.7, 400, 500), up(68, 75, 67.5)}
	x := Axes{100 * d[0], 100 * d[1], 100 * d[2], 100 * d[3]}
	w := Weights{0.25, 0.25, 0.25, 0.25}
	if got := w.Score(&x) / 100; math.Abs(got-0.583) > 0.002 {
		t.Errorf("composite: got %.4f, published 0.583", got)
	}
}

// Property: a scale is 0 at its worst end and beyond, 1 at its best and beyond, and never falls on
// the way; on a logarithmic scale equal ratios give equal steps.
func TestScaleShape(t *testing.T) {
	for _, s := range []Scale{
		{Worst: 2, Best: 10}, {Worst: 10, Best: 2}, {Worst: 2, Best: 32, Log: true}, {Worst: 32, Best: 2, Log: true},
		{Worst: 2, Best: 10, Exponent: 2}, {Worst: 10, Best: 2, Exponent: 0.5},
	} {
		last := -1.0
		for i := -50; i <= 150; i++ {
			d := s.Desirability(s.Worst + (s.Best-s.Worst)*float64(i)/100)
			if d < last || d < 0 || d > 1 {
				t.Fatalf("%+v: %g after %g", s, d, last)
			}
			if i <= 0 && d != 0 || i >= 100 && d < 1-1e-12 {
				t.Errorf("%+v: %g at %d %%", s, d, i)
			}
			last = d
		}
	}
	log := Scale{Worst: 2, Best: 32, Log: true}
	for _, y := range []float64{2, 4, 8, 16} {
		if step := log.Desirability(2*y) - log.Desirability(y); math.Abs(step-0.25) > 1e-12 {
			t.Errorf("doubling from %g gains %g, want 0.25", y, step)
		}
	}
	if s := (Scale{Worst: 10, Best: 2, Log: true}); s.Desirability(0) != 1 || s.Desirability(-1) != 1 {
		t.Error("less is better: nothing at all must be best")
	}
}

// Published: G. Derringer and R. Suich (Journal of Quality Technology 12, 214, 1980), equation 3: between its ends a
// one-sided desirability is the share of the way to the power of r; worked out by hand.
func TestPublishedExponent(t *testing.T) {
	for _, c := range []struct{ y, worst, best, exponent, want float64 }{
		{4, 2, 10, 0, 0.25}, {4, 2, 10, 1, 0.25}, {4, 2, 10, 2, 0.0625}, {4, 2, 10, 0.5, 0.5},
		{8, 10, 2, 2, 0.0625}, {2.4, 2, 10, 1, 0.05}, {9.6, 2, 10, 1, 0.95}, {1, 2, 10, 2, 0}, {11, 2, 10, 0.5, 1},
	} {
		s := Scale{Worst: c.worst, Best: c.best, Exponent: c.exponent}
		if got := s.Desirability(c.y); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g from %g to %g to the power of %g: %g, want %g", c.y, c.worst, c.best, c.exponent, got, c.want)
		}
	}
}
