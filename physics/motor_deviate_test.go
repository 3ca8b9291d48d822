package physics

import (
	"math"
	"testing"

	"partsaloft/physics/uncertain"
)

// Independent: what all motors have in common does to one what its own deviations do, worked out by hand; the power of
// mass turns about a motor of 35 g.
func TestMotorsDeviateAlike(t *testing.T) {
	law := DefaultMotorLaw()
	motor := func(massKg float64, d uncertain.Deviation) Motor {
		m := law.Motor(MotorLabel{StatorM: 0.014, StatorHeightM: 0.004, KV: 3900, MassKg: massKg}).Motor
		m.Deviate(&d)
		return m
	}
	if a, b := motor(0.009, uncertain.Deviation{uncertain.MotorsSpeed: 0.02, uncertain.MotorsLoss: 0.1}),
		motor(0.009, uncertain.Deviation{uncertain.MotorSpeed: 0.02, uncertain.MotorLoss: 0.1}); a != b {
		t.Errorf("all motors' kV and loss make %+v, its own %+v", a, b)
	}
	small, plain := motor(0.0035, uncertain.Deviation{uncertain.MotorsPower: 0.05}), motor(0.0035, uncertain.Deviation{})
	// A tenth of the mass: a motor constant of 10^−0.05, and so 10^0.1 of the resistance.
	if r := small.WindingOhm / plain.WindingOhm; math.Abs(r/math.Pow(10, 0.1)-1) > 1e-9 ||
		math.Abs(small.CopperOhm/plain.CopperOhm-r) > 1e-12 || small.EscOhm != plain.EscOhm {
		t.Errorf("the power of mass takes the winding of a motor of 3.5 g to %.4f of it", r)
	}
	if turned := motor(0.035, uncertain.Deviation{uncertain.MotorsPower: 0.05}); math.Abs(turned.WindingOhm/
		motor(0.035, uncertain.Deviation{}).WindingOhm-1) > 1e-12 {
		t.Error("the power of mass moves a motor of 35 g")
	}
	if e := motor(0.009, uncertain.Deviation{uncertain.EscResistance: 0.3}); math.Abs(e.EscOhm/(law.EscOhm*math.Exp(0.3))-1) >
		1e-12 {
		t.Errorf("ESC and leads have %g ohm", e.EscOhm)
	}
}
