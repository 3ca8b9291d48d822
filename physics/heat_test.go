package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

// Independent: the laws of heat worked out by hand for a motor of 2 g and one of 32 g at a watt a gram: time
// constants of 21 and 55 s, a third of the way after 0.41 of one, and in a punch the copper on top of the stator.
func TestHeatBySize(t *testing.T) {
	for _, m := range []struct{ grams, tauS, steadyK, punchK float64 }{
		// 40·2^(−2/3)·2 and 40·32^(−2/3)·32; 3/0.21 + 10·2^(1/3)·0.811 and 3/0.21 + 10·32^(1/3)·0.811
		{2, 21.7, 50.4, 14.29 + 10.22}, {32, 54.6, 127.0, 14.29 + 25.75},
	} {
		motor := Motor{MassKg: m.grams / 1000}
		watts := m.grams
		if got := motor.flightRiseK(watts, 1e6); math.Abs(got/m.steadyK-1) > 0.005 {
			t.Errorf("%g g: %.1f K in the end, want %g", m.grams, got, m.steadyK)
		}
		if got := motor.flightRiseK(watts, m.tauS) / m.steadyK; math.Abs(got-(1-1/math.E)) > 0.005 {
			t.Errorf("%g g: %.3f of it after a time constant", m.grams, got)
		}
		if got := motor.punchRiseK(heat{watts, watts}); math.Abs(got/m.punchK-1) > 0.005 {
			t.Errorf("%g g: a punch adds %.1f K, want %g", m.grams, got, m.punchK)
		}
	}
}

// Ripple: a sixteenth of RippleW at half duty for a 35 g motor whose pack over its torque constant is 4000 rad/s; about
// a watt for an 8 mm motor on one cell (common practice, no source), none at full throttle.
func TestRippleHeat(t *testing.T) {
	law := DefaultMotorLaw()
	motor := law.Motor(MotorLabel{StatorM: 0.023, StatorHeightM: 0.006, KV: 1750, MassKg: 0.035}).Motor
	motor.TorqueConstantNmA = 0.004
	if got := motor.heat(lawESC(), operating{}, 0.5, 16).allW; math.Abs(got-law.RippleW/16) > 1e-9 {
		t.Errorf("%.2f W at half duty, want a sixteenth of what the law says", got)
	}
	small := law.Motor(MotorLabel{StatorM: 0.008, StatorHeightM: 0.002, KV: 19000})
	if got := small.heat(lawESC(), operating{}, 0.5, 3.8).allW; got < 0.4 || got > 1.6 {
		t.Errorf("%.2f W for an 8 mm motor on one cell, want about 1", got)
	}
	if got := small.heat(lawESC(), operating{}, 1, 3.8).allW; got != 0 {
		t.Errorf("%.2f W at full throttle", got)
	}
}

// The 8 mm motor of 19000 rpm/V with a 40 mm prop: on one cell, with which it is flown, nothing is noted of its speed
// nor held back; on two its own limit caps it with a note; on four its electrical speed is beyond what ESCs follow and
// the windings are refused or held far down.
func TestSmallMotorOnMoreCells(t *testing.T) {
	law := DefaultMotorLaw()
	estimated := law.Motor(MotorLabel{StatorM: 0.008, StatorHeightM: 0.002, KV: 19000, MassKg: 0.00195})
	for _, c := range []struct {
		cells              int
		cap                Limit
		noted              bool
		lowRPM, highRPM    float64 // electrical
		lowestUse, highest float64 // of the motor's limit at full throttle
	}{
		{1, NoLimit, false, 200e3, 290e3, 0, 0.88},
		{2, MotorLimit, true, 290e3, 440e3, 1, 2},
		{4, MotorLimit, true, 440e3, 700e3, 2, 4},
	} {
		craft := testCraft(t, 8, 2, 19000, 1.575, 1.3, 3, 0.2, c.cells, 450, 90, 12*float64(c.cells), 12)
		craft.Motor = estimated.Motor
		craft.Board.ContinuousA, craft.Board.BurstA = 30, 30
		craft.Connector = Connector{}
		p := evaluated(craft, 3)
		rpm, _ := p.Figure(figure.ElectricalSpeed)
		use, _ := p.Get(figure.MotorCurrentUse)
		fast := warned(&craft, FastElectrical)
		if p.Cap != c.cap || rpm < c.lowRPM || rpm > c.highRPM || use < c.lowestUse || use > c.highest ||
			(warned(&craft, DrivenHard) || fast) != c.noted {
			t.Errorf("%dS: held back by %v, %.0f electrical rpm, %.2f of the motor's limit, noted %v", c.cells, p.Cap, rpm,
				use, fast)
		}
	}
}
