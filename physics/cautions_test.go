package physics

import (
	"math"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"slices"
	"testing"
)

func warned(c *Craft, caution Caution) bool {
	p := evaluated(*c, 12)
	return slices.ContainsFunc(c.Warnings(&p), func(w Warning) bool { return w.Caution == caution })
}

// Common practice, no source: motors made for two cells run on two, and on six they burn in
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

// Where the bounds of the cautions must lie, by facts outside: magnets of the usual grades hold 100 to
// 150 °C and enamel 130 and more (IEC 60404-8-1 and 60085 classes, from memory); whoops fly at 390 000
// electrical rpm (25 000 rpm/V, 1S, 12 poles), nobody is known to at 500 000 (common practice, no
// source); thin sections meet their drag rise at Mach 0.7 to 0.8 (Hoerner 1965, from memory); usual
// crafts hover at 15 to 40 % (common practice, no source).
func TestBoundsOfCautions(t *testing.T) {
	for _, b := range []struct {
		name             string
		bound, low, high float64
	}{
		{"winding, °C", HotWindingK - rotor.CelsiusToKelvin(0), 100, 150},
		{"electrical rpm", FastElectricalS * 60, 390e3, 500e3},
		{"tip Mach number", FastTipMach, 0.55, 0.8},
		{"twitchy hover", TwitchyDuty, 0.08, 0.15},
		{"weak hover", WeakDuty, 0.4, 0.65},
	} {
		if b.bound < b.low || b.bound > b.high {
			t.Errorf("%s: warned of from %g on, must lie in %g to %g", b.name, b.bound, b.low, b.high)
		}
	}
	// A stator of 12 slots turns 14 magnets, small ones of 9 slots turn 12: as many pole pairs as half.
	if turns := ElectricalSpeed(2*math.Pi, 14); turns != 7 {
		t.Errorf("one turn of 14 poles is %g electrical ones", turns)
	}
	if turns := ElectricalSpeed(2*math.Pi, 0); turns != 6 {
		t.Errorf("one turn of a small motor is %g electrical ones", turns)
	}
}

// Published: makers' sheets print largest currents (for seconds) of motors, in A; on the most cells in
// use with them (common practice, no source) at 3.7 V these are 10 to 32 W/g. None of them counts as driven beyond its
// kind, and twice the most of them does.
func TestPrintedDriveIsNotHard(t *testing.T) {
	most := 0.0
	for _, m := range []struct{ grams, largestA, cells float64 }{
		{3.8, 9.2, 2}, {5.3, 7.7, 3}, {5.3, 10.2, 2}, {6.5, 8.7, 4}, {9.34, 20, 4}, {13.3, 24.5, 4}, {31.4, 33, 6}, {37.3, 34.6, 6}, {43.2, 42, 6}, {55, 45, 6},
	} {
		most = max(most, m.largestA*m.cells*3.7/(m.grams/1000))
	}
	if most > HardDriveWKg || 2*most < HardDriveWKg {
		t.Errorf("printed are up to %.0f W/kg, hard is %g", most, HardDriveWKg)
	}
}

// Property: cells and windings that cannot be give no figures but the reason, and the latter is warned of.
func TestWhatCannotBeIsNoFigure(t *testing.T) {
	c := nimble(t)
	c.Pack.SafeCurrentA = 1e4
	c.Board.BurstA, c.Motor.MaxCurrentA = 1e4, 0
	c.Pack.Cells = 6
	seen := map[Reason]bool{}
	for _, ohm := range []float64{0.01, 0.1, 1, 5, 50} {
		c.Pack.InternalOhm = ohm
		p := evaluated(c, 12)
		cellV, why := p.Get(figure.LoadedCell)
		seen[why] = true
		if (why == Defined) != (cellV > 0) || why != Defined && why != CellsCollapse {
			t.Errorf("%g ohm: a cell of %g V (%v)", ohm, cellV, why)
		}
	}
	c.Pack.InternalOhm = 0.01
	for _, grams := range []float64{4, 1, 0.2} {
		c.FrameKg = 0.06
		c.Motor.MassKg = grams / 1000
		p := evaluated(c, 12)
		temperature, why := p.Get(figure.MotorTemperature)
		seen[why] = true
		if why == Defined && temperature > BurntWindingK || why == WindingsBurn && !warned(&c, BurntWinding) {
			t.Errorf("motor of %g g: %g K (%v)", grams, temperature, why)
		}
	}
	if !seen[CellsCollapse] || !seen[WindingsBurn] || !seen[Defined] {
		t.Errorf("met only %v", seen)
	}
}
