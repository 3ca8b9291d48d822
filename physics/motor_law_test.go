package physics

import (
	"math"
	"testing"

	"partsaloft/physics/internal/residual"
	"partsaloft/physics/uncertain"
)

// lawMotor is a motor as the laws have it from its stator and label.
func lawMotor(statorMM, heightMM, kv float64) Motor {
	law := DefaultMotorLaw()
	return law.Motor(MotorLabel{StatorM: statorMM / 1000, StatorHeightM: heightMM / 1000, KV: kv}).Motor
}

// lawESC is the law's speed controller.
func lawESC() ESC {
	law := DefaultMotorLaw()
	return law.ESC(0).ESC
}

// Published, in the fit by way of the losses of ESCs: volts, amperes, rpm and torque of three motors on five ESC
// set-ups with one 7x5.6 three-blade, bench supply of 16 V (public university logs of ESC tests, 2019,
// MIT licence). The stand's volts are those before 37 milliohm of leads, its torque reads 6.5 % low
// (notes of the data). This stand's ESCs lose next to nothing at part throttle, unlike those of the fit,
// so that the law draws too much there; towards full throttle the two meet.
func TestPublishedStandPower(t *testing.T) {
	const leadsOhm, torqueLow = 0.037, 1.065
	var part, high []float64
	for _, m := range []struct {
		statorMM, heightMM, kv float64
		rows                   [][4]float64 // V, A, rpm, N m
	}{
		{23, 6, 1600, [][4]float64{{15.871, 2.7995, 7729, 0.036805}, {15.784, 5.209, 9497, 0.057164}, {15.541, 10.468,
			11892, 0.091397}, {15.175, 17.08, 13643, 0.12012}, {14.896, 24.778, 15090, 0.14781}, {14.646, 29.786, 15868, 0.1619}}},
		{22, 7, 1750, [][4]float64{{15.849, 3.6452, 8131, 0.041076}, {15.677, 7.7741, 10724, 0.073208}, {15.43, 13.935,
			12916, 0.10769}, {15.377, 15.566, 13326, 0.115}}},
		{22, 7, 1750, [][4]float64{{15.887, 2.7605, 7681, 0.036853}, {15.767, 5.9797, 9884, 0.06249}, {15.468, 14.163,
			12955, 0.10912}, {15.274, 19.285, 14196, 0.131}, {14.697, 34.066, 16517, 0.17587}}},
		{24, 8, 1900, [][4]float64{{15.887, 2.7741, 7972, 0.03908}, {15.765, 5.9508, 10220, 0.065222}, {15.447, 14.007,
			13344, 0.11147}, {15.04, 24.198, 15654, 0.15489}, {14.757, 32.091, 16710, 0.17748}, {14.423, 39.723, 17618, 0.19752}}},
	} {
		motor := lawMotor(m.statorMM, m.heightMM, m.kv)
		for _, r := range m.rows {
			atEsc := r[0] - leadsOhm*r[1]
			v, i := motor.VoltageV(torqueLow*r[3], r[2]*rpm)
			duty := v / atEsc
			e := math.Log(r[1] / lawESC().SuppliedA(&motor, duty, atEsc, i))
			if e > 0.05 || e < -0.35 {
				t.Errorf("%g x %g mm, %g rpm/V at %g rpm: %.2f A read, ln over the law's %+.2f", m.statorMM, m.heightMM, m.kv,
					r[2], r[1], e)
			}
			if duty > 0.85 {
				high = append(high, e)
			} else {
				part = append(part, e)
			}
		}
	}
	if p, h := residual.Median(part), residual.Median(high); p > 0 || p < -0.25 || math.Abs(h) > 0.1 {
		t.Errorf("current read over the law's, medians of ln: %+.3f at part throttle, %+.3f beyond", p, h)
	}
}

// Published, in the fit by way of its rows: one motor with one prop at one rpm takes 1.12 to 1.18 times
// the power from 11 V that it takes from 7.4 V (Cao & Strawson 2018, 432 points): what ESCs lose at part
// throttle. Motor current and voltage are the same at both, so that the law's ratio without ripple needs no motor.
// This stand's ESC loses more than most: an ESC of one standard deviation over the law's comes up to it.
func TestPartThrottleLoss(t *testing.T) {
	usual := lawESC()
	bad := usual
	bad.Deviate(&uncertain.Deviation{uncertain.PartThrottle: partThrottleLnSD})
	for _, e := range []struct {
		name      string
		esc       ESC
		low, high float64
	}{{"the law's", usual, 1.04, 1.12}, {"a bad one", bad, 1.09, 1.18}} {
		var ratios []float64
		for duty := 0.4; duty <= 0.95; duty += 0.05 { // on 7.4 V
			other := duty * 7.4 / 11
			loss := e.esc.PartThrottleLoss
			ratios = append(ratios, 11*switchedA(loss, other, 5)/(7.4*switchedA(loss, duty, 5)))
		}
		if r := residual.Median(ratios); r < e.low || r > e.high {
			t.Errorf("%s: power from 11 V over that from 7.4 V: %.3f, on the stand 1.12 to 1.18", e.name, r)
		}
	}
}

// In the fit by way of their rows: kV and effective resistance in milliohm that were fitted elsewhere to
// full-throttle rows of 13 to 19 thousand rpm (Cao & Strawson 2018; Tyto Robotics public test database).
// Left out: the outlier of that stand, and the runs that end before full duty. The law's level, and the
// scatter that it states.
func TestEffectiveResistance(t *testing.T) {
	var ohms, speeds []float64
	for _, m := range []struct{ statorMM, heightMM, kv, kvFitted, milliohm float64 }{
		{18, 4, 2400, 0, 383.3}, {18, 6, 2500, 2403, 191.3}, {22, 5, 2600, 2377, 96}, {22, 6, 2450, 2403, 118.2}, {23, 6,
			2400, 2246, 112.6},
		{23, 6, 2400, 2307, 82.7}, {22, 7, 2600, 2414, 0}, {22, 6, 2350, 2119, 0},
	} {
		motor := lawMotor(m.statorMM, m.heightMM, m.kv)
		if m.milliohm > 0 {
			ohms = append(ohms, math.Log(m.milliohm/1000/motor.EffectiveOhm(16000*rpm)))
		}
		if m.kvFitted > 0 {
			speeds = append(speeds, math.Log(m.kvFitted*rpm*motor.TorqueConstantNmA))
		}
	}
	if m := residual.Median(ohms); math.Abs(m) > 0.15 {
		t.Errorf("ln of effective resistance over the law's is %+.3f at the median", m)
	}
	if m := residual.Median(speeds); math.Abs(m) > 0.02 {
		t.Errorf("ln of kV over the law's is %+.3f at the median", m)
	}
	if err := residual.Agree(ohms, motorResistanceLnSD); err != nil {
		t.Errorf("effective resistance: %v", err)
	}
	if err := residual.Agree(speeds, motorSpeedLnSD); err != nil {
		t.Errorf("kV: %v", err)
	}
}

// Independent: forced convection on the bell as on a cylinder in cross flow (S. W. Churchill and
// M. Bernstein, J. Heat Transfer 99, 300, 1977), in the wash of its prop at hover (momentum theory, disc
// loading 125 N/m²), over the bell's mantle and its two faces.
func TestMotorCoolsAsACylinder(t *testing.T) {
	const conductivity, prandtlNumber, viscosity = 0.026, 0.71, 1.5e-5 // air at 25 °C, handbook
	wash := 1.4 * math.Sqrt(125/(2*1.2))                               // of momentum theory, between the disc and far below
	for _, m := range []struct{ grams, diameterM, tallM float64 }{{2, 0.0105, 0.009}, {9.3, 0.0185, 0.014}, {31, 0.0275,
		0.019}, {43, 0.031, 0.019}} {
		re := wash * m.diameterM / viscosity
		nusselt := 0.3 + 0.62*math.Sqrt(re)*math.Cbrt(prandtlNumber)/math.Pow(1+math.Pow(0.4/prandtlNumber, 2.0/3),
			0.25)*math.Pow(1+math.Pow(re/282000, 0.625), 0.8)
		area := math.Pi*m.diameterM*m.tallM + math.Pi/2*m.diameterM*m.diameterM
		want := 1 / (nusselt * conductivity / m.diameterM * area)
		motor := Motor{MassKg: m.grams / 1000}
		got := motor.flightRiseK(1, 1e6)
		if r := got / want; r < 0.67 || r > 1.5 {
			t.Errorf("%g g: %.1f K/W, a cylinder in the wash %.1f", m.grams, got, want)
		}
	}
}

// Independent: a bell drawn in usual proportions (from memory of taken-apart motors): magnets a
// fourteenth of the stator's diameter thick, 1.5 mm taller than the stator and covering 85 % of the
// round, in a steel ring a twentieth of it thick and 3 mm taller; an aluminium cap like a disc of
// 1.2 mm that is half cut away. Densities from handbooks.
func drawnBellKgM2(statorM, tallM float64) float64 {
	const steel, magnet, aluminium, gapM = 7870.0, 7500.0, 2700.0, 0.0002
	ring := func(inner, thick, tall, density float64) float64 {
		outer := inner + thick
		return density * math.Pi / 2 * tall * (math.Pow(outer, 4) - math.Pow(inner, 4))
	}
	thick, wall := statorM/14, statorM/20
	inner := statorM/2 + gapM
	outer := inner + thick + wall
	return ring(inner, thick, tallM+0.0015, 0.85*magnet) + ring(inner+thick, wall, tallM+0.003, steel) +
		0.5*math.Pi*math.Pow(outer, 4)/2*0.0012*aluminium
}

func TestDrawnBell(t *testing.T) {
	law := DefaultMotorLaw()
	var logs []float64
	for _, size := range [][2]float64{{8, 2}, {11, 3}, {13, 3.5}, {14, 4}, {15, 7}, {20, 4}, {22, 7}, {23, 6}, {25, 7},
		{28, 7}} {
		d, h := size[0]/1000, size[1]/1000
		e := math.Log(drawnBellKgM2(d, h) / law.BellInertia(law.Mass(d, h).Value, d).Value)
		if math.Abs(e) > 0.25 {
			t.Errorf("%g x %g mm: ln of a drawn bell's moment of inertia over the law's is %+.2f", size[0], size[1], e)
		}
		logs = append(logs, e)
	}
	if m := residual.Median(logs); math.Abs(m) > 0.12 {
		t.Errorf("ln of drawn over predicted is %+.2f at the median", m)
	}
}

// Published: masses that makers' sheets print for motors up to 70 g (in the fit), stator and mass in
// grams: level and stated scatter.
func TestPublishedMotorMass(t *testing.T) {
	law := DefaultMotorLaw()
	var logs []float64
	for _, m := range [][3]float64{
		{7, 2, 1.8}, {8, 2, 1.95}, {8, 2.8, 2.3}, {11, 3, 3.8}, {12, 2.5, 3.8}, {11, 4, 5.3}, {13, 3.5, 6.5}, {13, 3.5,
			7.15}, {14, 4, 9.34}, {13, 6, 11.2},
		{18, 4, 13.3}, {14, 7, 17}, {22, 4, 23}, {22, 7, 31.4}, {22, 7, 37.3}, {23, 6, 42}, {25, 7, 43.2}, {22, 8, 45}, {23,
			8, 47}, {23, 10, 52}, {28, 7, 55}, {23, 12, 60},
	} {
		logs = append(logs, math.Log(m[2]/1000/law.Mass(m[0]/1000, m[1]/1000).Value))
	}
	if m := residual.Median(logs); math.Abs(m) > 0.06 {
		t.Errorf("ln of printed over predicted mass is %+.3f at the median", m)
	}
	if err := residual.Agree(logs, motorMassLnSD); err != nil {
		t.Errorf("motor mass: %v", err)
	}
}

// Published: winding resistances in milliohm and no-load currents at 10 V that makers' sheets print for
// motors up to 120 g (in the fit), stator, kV, mass in grams: the law's resistance, which is that of
// sheets, their no-load torque, and the scatter of both.
func TestPublishedWindings(t *testing.T) {
	law := DefaultMotorLaw()
	var ohms, losses []float64
	for _, m := range []struct{ kv, grams, milliohm, noLoadA float64 }{
		{4600, 9.34, 138, 0.6}, {3100, 11.2, 62, 0.2}, {1400, 23, 290, 0.3}, {2550, 42, 44, 1.2}, {1800, 43.2, 58.6,
			0.89}, {1100, 45, 165, 0}, {400, 46, 645, 0},
		{650, 46, 275, 0.2}, {1450, 47, 90, 0.8}, {2600, 48, 28, 1.8}, {2200, 52, 35, 2.1}, {400, 53, 359, 0.2}, {1150, 60,
			75, 0.85}, {1400, 63, 50, 1.05},
		{780, 65, 173, 0.4}, {920, 65, 142, 0.5}, {380, 68, 194, 0.3}, {885, 75, 127, 0.5}, {1250, 79, 52, 1.3}, {880, 81,
			80, 0.74}, {950, 93, 65, 1.2},
		{470, 98, 135, 0.3}, {700, 99, 92, 0.3}, {580, 103, 110, 0.4}, {450, 106, 60, 0.9}, {1050, 112, 34.6, 1.35}, {630,
			119, 65, 0.5},
	} {
		ke := law.TorqueConstant(m.kv).Value
		ohms = append(ohms, math.Log(m.milliohm/1000/law.Winding(ke, m.grams/1000).Value))
		if m.noLoadA > 0 {
			losses = append(losses, math.Log(law.NoLoadTorque(m.noLoadA, ke).Value/law.LossTorque(m.grams/1000).Value))
		}
	}
	for name, logs := range map[string][]float64{"printed resistance": ohms, "loss by printed no-load current": losses} {
		m := residual.Median(logs)
		if math.Abs(m) > 0.25 {
			t.Errorf("ln of %s over the law's is %+.3f at the median", name, m)
		}
		for i := range logs {
			logs[i] -= m
		}
	}
	if err := residual.Agree(ohms, printedResistanceLnSD); err != nil {
		t.Errorf("printed resistance: %v", err)
	}
	if err := residual.Agree(losses, noLoadLnSD); err != nil {
		t.Errorf("no-load current: %v", err)
	}
}

// Independent: what lies between pack and winding by its parts: two switched transistors of 1 to 3
// milliohm warm (classes of data sheets), two leads of 40 to 70 mm of AWG 20 (0.0333 ohm/m), joints and
// board of 1 to 3 milliohm.
func TestEscByItsParts(t *testing.T) {
	law := DefaultMotorLaw()
	const low, high = 2*0.001 + 2*0.040*0.0333 + 0.001, 2*0.003 + 2*0.070*0.0333 + 0.003
	if law.EscOhm < low || law.EscOhm > high {
		t.Errorf("ESC and leads have %.1f milliohm, their parts %.1f to %.1f", law.EscOhm*1e3, low*1e3, high*1e3)
	}
}
