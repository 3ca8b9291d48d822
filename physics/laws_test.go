package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

// Published: volts, amperes and rpm read together at full throttle on public motor stands. The
// volts that the law wants for that speed and current must be those read, within 12 %.
func TestPublishedFullThrottle(t *testing.T) {
	const cao, tyto = "Cao & Strawson 2018", "Tyto Robotics public test database"
	for _, row := range []struct {
		source                  string
		statorMM, heightMM, kv  float64
		volts, amperes, rpmRead float64
	}{
		{cao, 23, 6, 2400, 7.199, 8.758, 15038},
		{cao, 18, 6, 2500, 7.141, 7.228, 13973},
		{cao, 18, 4, 2400, 7.253, 5.693, 12686},
		{cao, 22, 5, 2600, 7.189, 7.711, 15418},
		{tyto + ", n7k", 22, 7, 2450, 14.725, 16.424, 28390},
		{tyto + ", ez6w", 23, 6, 1750, 23.0, 26.299, 27290},
		{"public student thrust-stand runs, 2020", 11, 8, 5200, 10.91, 6.29, 43057},
	} {
		m := lawMotor(row.statorMM, row.heightMM, row.kv)
		speed := row.rpmRead * rpm
		if v := m.TorqueConstantNmA*speed + m.EffectiveOhm(speed)*row.amperes; math.Abs(v/row.volts-1) > 0.12 {
			t.Errorf("%s, %g x %g mm, %g rpm/V: %g rpm at %g A take %.2f V, read %g", row.source, row.statorMM, row.heightMM,
				row.kv, row.rpmRead, row.amperes, v, row.volts)
		}
	}
}

// Published: copper of wire gauges at 20 °C (ASTM B258 sizes, 0.017241 ohm mm²/m), PH 2.0 contacts
// of 10 to 20 milliohm (datasheet), and 0.2 V at 9 A less on BT 2.0 (a hobby measurement).
func TestPlugResistance(t *testing.T) {
	for _, w := range []struct {
		plug  string
		gauge float64
	}{{"PH 2.0", 24}, {"XH 2.5", 22}, {"A30", 20}, {"XT30", 18}, {"EC3", 16}, {"XT60", 14}, {"EC5", 12}, {"XT90", 10}} {
		millimetres := 0.127 * math.Pow(92, (36-w.gauge)/39)
		want := 0.017241 / (math.Pi / 4 * millimetres * millimetres)
		for _, p := range plugs {
			if p.name == w.plug && math.Abs(p.wireOhmPerM/want-1) > 0.01 {
				t.Errorf("%s on AWG %g: %g ohm/m, want %.5f", w.plug, w.gauge, p.wireOhmPerM, want)
			}
		}
	}
	if d := PlugResistance("PH 2.0") - PlugResistance("BT 2.0"); math.Abs(d-0.2/9) > 0.003 {
		t.Errorf("PH 2.0 has %.4f ohm more than BT 2.0, measured %.4f", d, 0.2/9)
	}
	last := math.Inf(1)
	for _, name := range []string{"PH 2.0", "BT 2.0", "XT30", "no such plug", "XT60", "XT90"} {
		r := PlugResistance(name)
		if r >= last || r <= 0 {
			t.Errorf("%s has %g ohm, the smaller plug %g", name, r, last)
		}
		last = r
	}
	if PlugResistance("no such plug") != LeadResistance() {
		t.Error("an unknown plug must have the leads' usual resistance")
	}
}

// Common practice, no source: 5-inch crafts of 575 to 750 g on 6S 1300 fly 3 to 4.5 minutes racing,
// 4 to 6 freestyle and 6 to 8 cruising; racing, the laws fall short of it by up to a sixth.
func TestTradeFiveInchTimes(t *testing.T) {
	for _, pitch := range []float64{3.6, 4.8} {
		c := testCraft(t, 22, 7, 1950, 5.1, pitch, 3, 4.3, 6, 1300, 120, 205, 440)
		p := evaluated(c, 12)
		for _, x := range []struct {
			q         figure.Quantity
			low, high float64
		}{{figure.HardTime, 2.5, 4.5}, {figure.StyleTime, 3.7, 6}, {figure.CruiseTime, 6, 9}} {
			if m := p.si[x.q] / 60; m < x.low || m > x.high {
				t.Errorf("pitch %g inch: quantity %d is %.1f min, about %g to %g in practice", pitch, x.q, m, x.low, x.high)
			}
		}
	}
}
