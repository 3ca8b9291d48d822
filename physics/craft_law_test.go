package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

// Published: drag of two crafts that were measured, the only ones at hand: a 10-inch camera quadrotor of
// 1.5 kg, 0.0209 m² with its rotors stopped, and a 5-inch research quadrotor of 0.8 kg, 0.175 N a m/s in
// level flight up to 12.5 m/s, which has the rotors' own drag in it. The law, without that drag, lies
// between them; their middle is met within a third.
func TestPublishedDragArea(t *testing.T) {
	const rho = 1.225
	bare := 0.0209 / EstimateDragArea(10*inch).Value
	withRotors := 0.1752 * 12.5 / (0.5 * rho * 12.5 * 12.5) / EstimateDragArea(5*inch).Value
	if bare > 1 || withRotors < 1 {
		t.Errorf("measured drag over the law's: %.2f bare, %.2f with the rotors' own", bare, withRotors)
	}
	if m := math.Sqrt(bare * withRotors); m < 0.75 || m > 1.33 {
		t.Errorf("measured drag over the law's: %.2f and %.2f", bare, withRotors)
	}
}

// Common practice, no source: boards with four ESCs weigh 3 to 5 g at 5 to 6 A, 4 to 7 g at 12 to 15 A,
// 8 to 17 g at 30 to 35 A, 17 to 28 g at 50 to 55 A.
func TestTradeBoardMass(t *testing.T) {
	for _, b := range []struct{ lowA, highA, lowG, highG float64 }{{5, 6, 2, 5}, {12, 15, 4, 7}, {30, 35, 8, 17}, {50,
		55, 17, 28}} {
		if low, high := EstimateBoardMass(b.lowA).Value*1000, EstimateBoardMass(b.highA).Value*1000; low < b.lowG ||
			high > b.highG {
			t.Errorf("boards of %g to %g A weigh %.1f to %.1f g", b.lowA, b.highA, low, high)
		}
	}
}

// Common practice, no source: a flight controller with its ESCs idle takes 0.15 to 0.35 A at 5 V.
func TestTradeBoardPower(t *testing.T) {
	if p := EstimateBoardPower().Value; p < 0.75 || p > 1.75 {
		t.Errorf("a board takes %.2f W", p)
	}
}

// Common practice, no source: 5-inch crafts on 6S do 38 to 55 m/s flat out, 3-inch ones of 85 g on 2S 17
// to 27 m/s.
func TestTradeTopSpeed(t *testing.T) {
	five := testCraft(t, 22, 7, 1950, 5.1, 4.6, 3, 4.3, 6, 1300, 120, 205, 440)
	a, b := evaluated(five, 12), evaluated(nimble(t), 12)
	if v := a.si[figure.TopSpeed]; v < 38 || v > 55 {
		t.Errorf("a 5-inch craft does %.1f m/s", v)
	}
	if v := b.si[figure.TopSpeed]; v < 17 || v > 27 {
		t.Errorf("a 3-inch craft does %.1f m/s", v)
	}
}

// Common practice, no source: LiPo packs are landed at 3.4 to 3.6 V a cell under load, Li-ion at 2.8 to 3.2 V,
// with 15 to 25 % of the charge left.
func TestTradeLanding(t *testing.T) {
	f := Flying{}
	for c, want := range map[Chemistry][2]float64{LiPo: {3.4, 3.6}, LiHV: {3.4, 3.6}, LiIon: {2.8, 3.2}} {
		if v := f.landingV(c); v < want[0] || v > want[1] {
			t.Errorf("%v lands at %g V", c, v)
		}
	}
	if r := f.reserve(); r < 0.15 || r > 0.25 {
		t.Errorf("%g of the charge is left", r)
	}
}
