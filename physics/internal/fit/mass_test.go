package main

import (
	"math"
	"testing"
)

// Property: a power law is found through one wild value in nine, and a group left out is predicted
// by the others.
func TestFitPower(t *testing.T) {
	var x [][]float64
	var y, w []float64
	var group []string
	for i := range 9 {
		v := float64(i) / 3
		x, w = append(x, []float64{1, v}), append(w, 1)
		y = append(y, 2+0.7*v+0.003*float64(i%3))
		group = append(group, string(rune('a'+i)))
	}
	y[4] += 3
	p, err := fitPower(x, y, w)
	if err != nil || math.Abs(p.c[0]-2) > 0.05 || math.Abs(p.c[1]-0.7) > 0.05 {
		t.Errorf("found %v, %v", p.c, err)
	}
	left, err := leaveGroups(x, y, w, group)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range left {
		if want := 3.0; i == 4 && math.Abs(l-want) > 0.1 || i != 4 && math.Abs(l) > 0.1 {
			t.Errorf("case %d is off by %g", i, l)
		}
	}
	if _, err := fitPower([][]float64{{1, 1}, {1, 1}}, []float64{1, 2}, []float64{1, 1}); err == nil {
		t.Error("columns that depend on each other must be refused")
	}
}
