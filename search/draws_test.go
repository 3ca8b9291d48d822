package search

import (
	"math"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

func sampleOf(t *testing.T, d *draws, c inventory.Combination, s *Space, i uncertain.Input) []float64 {
	t.Helper()
	var out []float64
	for _, dev := range d.deviations(&c, uncertainty(t, s, &c)) {
		out = append(out, dev[i])
	}
	return out
}

func uncertainty(t *testing.T, s *Space, c *inventory.Combination) *uncertain.Budget {
	t.Helper()
	prop, err := s.propeller(c.Prop)
	if err != nil {
		t.Fatal(err)
	}
	craft, err := c.Craft(prop)
	if err != nil {
		t.Fatal(err)
	}
	return &craft.Uncertainty
}

func moments(x, y []float64) (meanX, sdX, correlation float64) {
	n := float64(len(x))
	var sx, sy, sxx, syy, sxy float64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, syy, sxy = sxx+x[i]*x[i], syy+y[i]*y[i], sxy+x[i]*y[i]
	}
	vx, vy := sxx/n-sx*sx/n/n, syy/n-sy*sy/n/n
	return sx / n, math.Sqrt(vx), (sxy/n - sx*sy/n/n) / math.Sqrt(vx*vy)
}

// Property: combinations that share a part share its draws, others are independent, props of a
// series share the series' part, and the spreads and correlations are those of the uncertainty.
func TestDrawsAreShared(t *testing.T) {
	drawer := club(t)
	s := space(t, drawer, "cruise")
	d := newDraws(4000, 3)
	part := func(motor, prop, pack string) inventory.Combination {
		return inventory.Combination{Motor: drawer.Motor(motor), Prop: drawer.Prop(prop), Pack: drawer.Pack(pack), Frame: &drawer.Frames[0], Board: &drawer.Boards[0]}
	}
	a, b := part("m1507-37", "p3.5-26x3", "k3s-620"), part("m1507-27", "p3.5-26x3", "k4s-720")
	sameProp := sampleOf(t, d, a, s, uncertain.PropThrust)
	if _, _, r := moments(sameProp, sampleOf(t, d, b, s, uncertain.PropThrust)); r < 1-1e-12 {
		t.Errorf("one prop in two combinations correlates by %g", r)
	}
	if _, _, r := moments(sampleOf(t, d, a, s, uncertain.MotorSpeed), sampleOf(t, d, b, s, uncertain.MotorSpeed)); math.Abs(r) > 0.05 {
		t.Errorf("two motors correlate by %g", r)
	}
	// p3.5-19x3 is of the series of p3.5-26x3, p3.5-35x3 of another.
	u := uncertainty(t, s, &a)
	sister, other := part("m1507-37", "p3.5-19x3", "k3s-620"), part("m1507-37", "p3.5-35x3", "k3s-620")
	if _, _, r := moments(sameProp, sampleOf(t, d, sister, s, uncertain.PropThrust)); math.Abs(r-u.SeriesShare) > 0.05 {
		t.Errorf("props of a series correlate by %g, share %g", r, u.SeriesShare)
	}
	if _, _, r := moments(sameProp, sampleOf(t, d, other, s, uncertain.PropThrust)); math.Abs(r) > 0.05 {
		t.Errorf("props of two series correlate by %g", r)
	}
	mean, sd, r := moments(sameProp, sampleOf(t, d, a, s, uncertain.PropPower))
	if math.Abs(mean) > 0.05*u.LnSD[uncertain.PropThrust] || math.Abs(sd/u.LnSD[uncertain.PropThrust]-1) > 0.05 || math.Abs(r-u.ThrustPower) > 0.05 {
		t.Errorf("prop thrust: mean %g, sd %g of %g, correlation %g of %g", mean, sd, u.LnSD[uncertain.PropThrust], r, u.ThrustPower)
	}
	_, sd, r = moments(sampleOf(t, d, a, s, uncertain.MotorSpeed), sampleOf(t, d, a, s, uncertain.MotorResistance))
	if math.Abs(sd/u.LnSD[uncertain.MotorSpeed]-1) > 0.05 || math.Abs(r-u.SpeedResistance) > 0.05 {
		t.Errorf("motor speed: sd %g of %g, correlation %g of %g", sd, u.LnSD[uncertain.MotorSpeed], r, u.SpeedResistance)
	}
	if _, _, r := moments(sampleOf(t, d, a, s, uncertain.FlyingPower), sampleOf(t, d, b, s, uncertain.FlyingPower)); r < 1-1e-12 {
		t.Errorf("the way of flying correlates by %g", r)
	}
	again := newDraws(4000, 3)
	if got := sampleOf(t, again, a, s, uncertain.PackMass); got[17] != sampleOf(t, d, a, s, uncertain.PackMass)[17] {
		t.Error("the same seed draws other numbers")
	}
}

// The points of a sorted list, between neighbours by proportion.
func TestPoint(t *testing.T) {
	x := []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	for _, c := range []struct{ share, want float64 }{{0, 0}, {0.1, 1}, {0.25, 2.5}, {0.9, 9}, {1, 10}} {
		if got := point(x, c.share); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("the point at %g is %g, want %g", c.share, got, c.want)
		}
	}
	if point([]float64{7}, 0.9) != 7 {
		t.Error("one value is every point")
	}
}

// Shares of draws worked out by hand, ties halved.
func TestShares(t *testing.T) {
	results := make([]Result, 3)
	shares(results, [][]float64{{3, 1, 2, 2}, {2, 2, 2, 1}, {1, 0, 2, 5}})
	for i, want := range [][2]float64{{0.625, (1 + 1.0/3) / 4}, {0.625, (1 + 1.0/3) / 4}, {1, (1 + 1.0/3) / 4}} {
		if got := results[i]; math.Abs(got.AheadShare-want[0]) > 1e-12 || math.Abs(got.BestShare-want[1]) > 1e-12 {
			t.Errorf("result %d: %g and %g, want %v", i, got.AheadShare, got.BestShare, want)
		}
	}
	for share, want := range map[float64]string{0.95: "clear", 0.9: "clear", 0.89: "likely", 0.7: "likely", 0.69: "toss-up"} {
		if got := Lead(share); got != want {
			t.Errorf("%g is %s", share, got)
		}
	}
}
