package main

import (
	"math"
	"testing"

	"partsaloft/physics"
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

// Independent: a drawn bell lies between all its metal at the stator's edge and at twice the radius,
// grows with height, and from 8 to 28 mm meets physics' law within a quarter.
func TestDrawnBell(t *testing.T) {
	for _, size := range [][2]float64{{8, 2}, {11, 3}, {14, 4}, {20, 4}, {22, 7}, {23, 6}, {28, 7}} {
		d, h := size[0]/1000, size[1]/1000
		mass := physics.EstimateMotorMass(d, h).Value
		got := drawnBellKgM2(d, h)
		if got < 0.3*mass*d*d/4 || got > mass*d*d || drawnBellKgM2(d, 1.5*h) <= got {
			t.Errorf("%g x %g mm: %g kg m²", size[0], size[1], got)
		}
		if ratio := got / physics.EstimateBellInertia(mass, d).Value; ratio < 0.8 || ratio > 1.25 {
			t.Errorf("%g x %g mm: drawn %.2f times the law", size[0], size[1], ratio)
		}
	}
}
