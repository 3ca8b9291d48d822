package physics

import (
	"slices"
	"testing"
)

func warned(c *Craft, caution Caution) bool {
	p := evaluated(*c, 12)
	return slices.ContainsFunc(c.Warnings(&p), func(w Warning) bool { return w.Caution == caution })
}

// Common practice, no source: 11 mm motors of 8000 kV run on two cells, and on six they burn in
// the first punch. Nothing but the missing current limit is warned of: one that is known caps.
func TestDrivenHard(t *testing.T) {
	sound := nimble(t)
	if warned(&sound, DrivenHard) {
		t.Error("a usual pairing is said to burn")
	}
	six := nimble(t)
	six.Pack.Cells = 6
	six.Board.ContinuousA, six.Board.BurstA = 60, 60
	six.Pack.SafeCurrentA *= 4
	six.Connector = Connector{}
	if !warned(&six, DrivenHard) {
		p := evaluated(six, 12)
		t.Errorf("six cells put %.0f W into each gram without a word", p.PeakMotorW/six.Motor.MassKg/1e3)
	}
	six.Motor.MaxCurrentA = 9
	if p := evaluated(six, 12); warned(&six, DrivenHard) || p.Cap != MotorLimit {
		t.Errorf("a motor with a limit is warned of; the cap is held by %v", p.Cap)
	}
}

// Property: the power at the cap is what the motors take there, within the pack's.
func TestPeakPower(t *testing.T) {
	for _, c := range []Craft{nimble(t), steep(t)} {
		p := evaluated(c, 12)
		full := c.supply(1)
		most := full.openV * c.Pack.SafeCurrentA / float64(c.Rotors)
		if p.PeakMotorW <= 0 || p.PeakMotorW > most {
			t.Errorf("%.1f W into one motor, the pack gives at most %.1f", p.PeakMotorW, most)
		}
	}
}
