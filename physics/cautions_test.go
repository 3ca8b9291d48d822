package physics

import (
	"math"
	"slices"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

func warned(c *Craft, caution Caution) bool {
	p := evaluated(*c, 12)
	return slices.ContainsFunc(c.Warnings(&p), func(w Warning) bool { return w.Caution == caution })
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
		{"winding, °C", HotWindingK - rotor.CelsiusToKelvin(0), 80, 130},
		{"winding refused, °C", RefusedWindingK - rotor.CelsiusToKelvin(0), 130, 180},
		{"punch, °C", HotPunchK - rotor.CelsiusToKelvin(0), 130, 180},
		{"punch refused, °C", RefusedPunchK - rotor.CelsiusToKelvin(0), 180, 240},
		{"electrical rpm", FastElectricalRadS * 60 / (2 * math.Pi), 250e3, 390e3},
		{"electrical rpm refused", RefusedElectricalRadS * 60 / (2 * math.Pi), 390e3, 500e3},
		{"tip Mach number", FastTipMach, 0.55, 0.8},
		{"twitchy hover", TwitchyDuty, 0.08, 0.15},
		{"weak hover", WeakDuty, 0.4, 0.65},
	} {
		if b.bound < b.low || b.bound > b.high {
			t.Errorf("%s: warned of from %g on, must lie in %g to %g", b.name, b.bound, b.low, b.high)
		}
	}
	// A stator of 12 slots turns 14 magnets, small ones of 9 slots turn 12: as many pole pairs as half.
	for poles, pairs := range map[int]float64{14: 7, 12: 6, 0: 6} {
		if got := electricalRadS(1, poles); got != pairs {
			t.Errorf("one turn of %d poles is %g electrical ones", poles, got)
		}
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
		if why == Defined && temperature > BurntWindingK || why == WindingsBurn && !warned(&c, HotWinding) {
			t.Errorf("motor of %g g: %g K (%v)", grams, temperature, why)
		}
	}
	if !seen[CellsCollapse] || !seen[WindingsBurn] || !seen[Defined] {
		t.Errorf("met only %v", seen)
	}
}
