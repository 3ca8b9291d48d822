package objective

import (
	"math"
	"slices"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// A whoop of 30 g with shallow props, hand made: at a racer's speed it cannot hold a turn of 2 g. What that takes is a
// number over 100 %, and the score is one over 0 that grows with the motors' speed.
func TestTurnBeyondFullThrottle(t *testing.T) {
	style := raceStyle(t)
	last := 0.0
	for _, kv := range []float64{19000, 21000, 23000} {
		craft := whoop(t, kv)
		p := craft.Evaluate(&style.Flying)
		v := style.Evaluate(&craft, &p)
		turn, why := p.Figure(figure.TurnThrottle)
		if why != physics.Defined || turn <= 100 || turn > 200 {
			t.Errorf("%g kV: a turn takes %g %% (%d), want one number over 100", kv, turn, why)
		}
		if v.Score <= last {
			t.Errorf("%g kV: a score of %g after %g", kv, v.Score, last)
		}
		last = v.Score
	}
}

// whoop is a craft of 30 g on one cell, put together by hand from a label of 31 mm.
func whoop(t testing.TB, kv float64) physics.Craft {
	t.Helper()
	c := racer(t)
	prop, err := rotor.New(rotor.Spec{DiameterM: 0.031, PitchM: 0.023, Blades: 4, MassKg: 0.00025}, c.Propeller.Map.Air)
	if err != nil {
		t.Fatal(err)
	}
	law := physics.DefaultMotorLaw()
	c.Propeller = *prop
	c.Motor = law.Motor(physics.MotorLabel{StatorM: 0.008, StatorHeightM: 0.002, KV: kv}).Motor
	c.Pack = physics.Pack{Cells: 1, CapacityAs: 0.45 * 3600, SafeCurrentA: 36, InternalOhm: 0.03, LeadOhm: 0.01,
		MassKg:         0.012,
		CapacityFactor: 1}
	c.Board, c.Connector = physics.Board{ContinuousA: 5, BurstA: 6, MassKg: 0.003}, physics.Connector{}
	c.FrameKg, c.DragAreaM2, c.ElectronicsW = 0.006, 0.003, 1.5
	return c
}

// What a home bears is a kinetic energy, more with ducts; what a pilot asks for holds with both.
func TestLimitWithDucts(t *testing.T) {
	style, _ := Preset("indoor")
	for _, c := range []struct {
		massG  float64
		ducted bool
		kept   bool
	}{{54, false, true}, {57, false, false}, {57, true, true}, {88, true, true}, {90, true, false}} {
		craft := whoop(t, 19000)
		craft.Ducted = c.ducted
		craft.FrameKg += c.massG/1000 - craft.MassKg()
		p := craft.Evaluate(&style.Flying)
		broken := slices.ContainsFunc(style.Violations(&craft, &p), func(b Violation) bool {
			return b.Key == "kinetic_energy_j"
		})
		if broken == c.kept {
			t.Errorf("%g g, ducts %v: broken %v", c.massG, c.ducted, broken)
		}
		energy := style.Effective(c.ducted)[len(style.Effective(c.ducted))-1]
		if want := map[bool]float64{false: 0.25, true: 0.4}[c.ducted]; energy.Quantity != figure.KineticEnergy ||
			energy.Range.High != want {
			t.Errorf("ducts %v: %v", c.ducted, energy)
		}
	}
	own := style.With(Limit{figure.KineticEnergy, Range{math.Inf(-1), 0.1}})
	if got := own.Effective(true); got[len(got)-1].Range.High != 0.1 {
		t.Errorf("a pilot's own limit does not hold with ducts: %v", got)
	}
	if again, _ := Preset("indoor"); len(again.DuctedLimits) != 1 {
		t.Error("With changed the style that it was asked of")
	}
}
