package learn

import (
	"math"
	"testing"

	"partsaloft/physics/uncertain"
)

// Property: an input is told to be other than given where it moved by half of the doubt that is left and by half a per
// cent, surer where more than 15 % of the doubt is gone, and as given otherwise; an ESC by a point of throttle.
func TestFindings(t *testing.T) {
	for _, c := range []struct {
		input               uncertain.Input
		shift, before, left float64
		want                Finding
	}{
		{uncertain.MotorSpeed, 0.02, 0.033, 0.030, Shifted}, {uncertain.MotorSpeed, 0.014, 0.033, 0.030, AsGiven},
		{uncertain.MotorSpeed, -0.02, 0.033, 0.030, Shifted}, {uncertain.PackMass, 0.004, 0.03, 0.004,
			Surer}, {uncertain.PackMass, 0.01, 0.03, 0.01, Shifted},
		{uncertain.PackMass, 0, 0.030, 0.025, Surer}, {uncertain.PackMass, 0, 0.030, 0.026, AsGiven},
		{uncertain.ThrottleScale, 0.032, 0.16, 0.02, Surer}, {uncertain.ThrottleScale, 0.034, 0.16, 0.02, Shifted},
	} {
		change := Change{Input: c.input, LnFactor: c.shift, LnSDBefore: c.before, LnSDAfter: c.left}
		if got := change.Finding(); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// Independent: a display that shows 1.2 times what others of its kind do shows 36 % where they show 30.
func TestThrottlePoints(t *testing.T) {
	if got := ThrottlePoints(math.Log(1.2)); math.Abs(got-6) > 1e-9 {
		t.Errorf("%.3f points", got)
	}
}

// Independent: nine tenths of a normal distribution lie under 1.2816 standard deviations (any table of it).
func TestIntervalsHoldEightOfTen(t *testing.T) {
	c := Change{LnFactor: 0.1, LnSDAfter: 0.05}
	if low, high := c.LnInterval(); math.Abs(low-(0.1-0.05*1.2816)) > 1e-5 || math.Abs(high-(0.1+0.05*1.2816)) > 1e-5 {
		t.Errorf("from %.5f to %.5f", low, high)
	}
	r := Reading{Key: AllUp, Measured: 100, SD: 0.5}
	if x := r.interval(100, 0.5); math.Abs(x.Low-(100-0.6408)) > 1e-4 || math.Abs(x.High-(100+0.6408)) > 1e-4 || !x.Known {
		t.Errorf("%+v", x)
	}
}

// Property: each outcome of leaving entries out has its kind.
func TestCheckKinds(t *testing.T) {
	two := []Entry{{}, {}}
	for _, c := range []struct {
		r    Report
		want CheckKind
	}{
		{Report{Entries: two, Inflation: 1}, NoCheck},
		{Report{Entries: two[:1], CrossCheck: CrossCheck{Readings: 2, Before: 1, After: 0.5}, Inflation: 1}, OneEntry},
		{Report{Entries: two, CrossCheck: CrossCheck{Readings: 2, Before: 1, After: 1}}, NothingLearned},
		{Report{Entries: two, CrossCheck: CrossCheck{Readings: 2, Before: 1, After: 0.9}, Inflation: 4}, Scattered},
		{Report{Entries: two, CrossCheck: CrossCheck{Readings: 2, Before: 1, After: 0.997}, Inflation: 1}, NoGain},
		{Report{Entries: two, CrossCheck: CrossCheck{Readings: 2, Before: 1, After: 0.99}, Inflation: 1}, Holds},
	} {
		if got := c.r.Check(); got != c.want {
			t.Errorf("%+v: %d, want %d", c.r.CrossCheck, got, c.want)
		}
	}
}
