package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Published: drag of crafts that were measured: a 10-inch camera quadrotor of 1.5 kg, 0.0209 m² with its rotors
// stopped and 0.0697 with them running at 6 m/s, and one 5-inch frame at three masses, whose tilt gave 0.1526, 0.1752,
// 0.1978 N a m/s in level flight up to 12.5 m/s (IMAV). The law of body and rotors was found on the 5-inch frame: at
// 10 m/s it is met within a fifth, and what a kilogram adds within a third; the 10-inch craft within a factor of 2.
func TestPublishedDragArea(t *testing.T) {
	const rho = 1.225
	tiltForce := func(diameterIn, massKg, speedMS float64) float64 {
		air, err := rotor.StandardAir(0)
		if err != nil {
			t.Fatal(err)
		}
		c := Craft{Rotors: 4, Propeller: rotor.Propeller{Map: &rotor.Map{Air: air}}, RotorDragFactor: 1,
			DragAreaM2: EstimateDragArea(diameterIn*inch, false).Value}
		_, flow := c.tilted(massKg*GravityMS2, c.dragN(speedMS), speedMS)
		return massKg * GravityMS2 * flow.AxialMS / flow.InplaneMS
	}
	masses, slopes := []float64{0.547, 0.807, 1.067}, []float64{0.1526, 0.1752, 0.1978}
	for i, m := range masses {
		if got := tiltForce(5, m, 10) / 10; got < 0.8*slopes[i] || got > 1.2*slopes[i] {
			t.Errorf("%g kg: %.4f N a m/s at 10 m/s, published %g", m, got, slopes[i])
		}
	}
	perKg := (tiltForce(5, masses[2], 10) - tiltForce(5, masses[0], 10)) / 10 / (masses[2] - masses[0])
	if want := (slopes[2] - slopes[0]) / (masses[2] - masses[0]); perKg < want/1.33 || perKg > want*1.33 {
		t.Errorf("a kilogram adds %.4f N a m/s, published %.4f", perKg, want)
	}
	bare := EstimateDragArea(10*inch, false).Value / 0.0209
	running := tiltForce(10, 1.5, 6) / (0.5 * rho * 36) / 0.0697
	if bare < 0.5 || bare > 2 || running < 0.5 || running > 2 {
		t.Errorf("10 inch: %.2f of the measured drag bare, %.2f with running rotors", bare, running)
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

// Published: a streamlined 5-inch craft flew 59.1 m/s on 4S and 68 to 69 m/s on 5S, 1.15 to 1.17 times as fast. Its
// motors and props are not known: they are taken from 2300 to 2750 rpm/V and 5 to 6 inch of pitch, and both speeds must
// lie inside or 5 % over, the ratio within 0.03 for each of them.
func TestPublishedStreamlinedSpeed(t *testing.T) {
	speed := func(kv, pitchIn float64, cells int) float64 {
		c := testCraft(t, 22, 7, kv, 5, pitchIn, 3, 4.3, cells, 1300, 120, 33*float64(cells), 400)
		c.DragAreaM2 = EstimateDragArea(5*inch, true).Value
		p := evaluated(c, 12)
		return p.si[figure.TopSpeed]
	}
	var low, high [2]float64
	for _, parts := range [][2]float64{{2300, 5}, {2300, 6}, {2750, 5}, {2750, 6}} {
		four, five := speed(parts[0], parts[1], 4), speed(parts[0], parts[1], 5)
		if ratio := five / four; ratio < 1.12 || ratio > 1.20 {
			t.Errorf("%g rpm/V, pitch %g: %.1f m/s on 4S, %.1f on 5S, %.3f times", parts[0], parts[1], four, five, ratio)
		}
		for i, v := range []float64{four, five} {
			if low[i] == 0 {
				low[i] = v
			}
			low[i], high[i] = min(low[i], v), max(high[i], v)
		}
	}
	for i, published := range []float64{59.1, 68.5} {
		if published < low[i] || published > high[i]*1.05 {
			t.Errorf("%dS: %.1f to %.1f m/s, published %g", 4+i, low[i], high[i], published)
		}
	}
}

// Property: top speed keeps every limit at that speed, and meets one of them or full voltage.
func TestTopSpeedMeetsALimit(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	limited, free := 0, 0
	for range 200 {
		c := anyCraft(t, rng)
		c.Connector = Connector{ContinuousA: 15, PeakA: 10 + 60*rng.Float64()}
		c.Motor.MaxCurrentA *= 0.3 + rng.Float64()
		p := c.Evaluate(&Flying{Segments: hoverSegments[:]})
		v, why := p.Get(figure.TopSpeed)
		if why != Defined || v >= fastestMS {
			continue
		}
		s := c.supply(topSpeedCharge)
		o, ok := c.level(c.MassKg()*GravityMS2, v)
		d := s.demand(o)
		u := c.uses(&s, topSpeedCharge, math.Min(d, 1), o)
		_, most := c.binding(&u)
		if !ok || d > 1.002 || most > 1.002 || d < 0.998 && most < 0.998 {
			t.Errorf("at %.2f m/s the duty is %.4f, the limits are used to %.4f", v, d, most)
		}
		if d < 0.998 {
			limited++
		} else {
			free++
		}
	}
	if limited < 20 || free < 20 {
		t.Errorf("%d crafts limited by a current, %d by their voltage", limited, free)
	}
}

// Common practice, no source: LiPo packs of 5-inch crafts are landed at 3.4 to 3.6 V a cell under load with 15 to 25 %
// of the charge left, whoops flown down to 3.2 to 3.3 V and 10 to 15 %, Li-ion to 2.8 to 3.2 V and 5 to 20 %.
func TestTradeLanding(t *testing.T) {
	five := testCraft(t, 22, 7, 1950, 5.1, 4.6, 3, 4.3, 6, 1300, 120, 205, 440)
	ion := five
	ion.Pack.Chemistry = LiIon
	whoop := testCraft(t, 8, 2, 19000, 1.22, 0.8, 3, 0.2, 1, 300, 30, 7.7, 20)
	for _, tt := range []struct {
		name                             string
		craft                            Craft
		lowV, highV, lowShare, highShare float64
	}{{"5-inch", five, 3.4, 3.6, 0.15, 0.25}, {"3-inch", nimble(t), 3.3, 3.5, 0.1, 0.2}, {"whoop", whoop, 3.1, 3.3, 0.1,
		0.15}, {"Li-ion", ion, 2.8, 3.2, 0.05, 0.2}} {
		v, share := tt.craft.LandingV(&Flying{}), tt.craft.Reserve(&Flying{})
		if v < tt.lowV || v > tt.highV || share < tt.lowShare || share > tt.highShare {
			t.Errorf("%s: landed at %g V with %g of the charge left", tt.name, v, share)
		}
		own, want := Flying{LandingV: 3.7, IonV: 3.3, Reserve: 0.4}, 3.7
		if tt.craft.Pack.Chemistry == LiIon {
			want = 3.3
		}
		if v, share := tt.craft.LandingV(&own), tt.craft.Reserve(&own); v != want || share != 0.4 {
			t.Errorf("%s: a style's own landing becomes %g V, %g", tt.name, v, share)
		}
	}
}
