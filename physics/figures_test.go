package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

// Property: every figure of the table is computed for some craft, and for every craft it is a finite number or
// undefined for a reason in words, whether it is asked for alone or among all.
func TestEveryFigureIsComputedOrSaysWhy(t *testing.T) {
	limited := nimble(t)
	limited.Motor.MaxCurrentA, limited.Board, limited.Connector = 12, Board{ESC: lawESC(), ContinuousA: 15,
		BurstA: 20, MassKg: limited.Board.MassKg}, Connector{ContinuousA: 15, PeakA: 30}
	heavy := nimble(t)
	heavy.FrameKg = 5
	ways := []Flying{{SpeedMS: 10, Segments: MixedSegments()}, {Segments: IndoorSegments()}, {SpeedMS: 60,
		Segments: HardSegments()}}
	var defined [figure.Count]bool
	for name, craft := range map[string]Craft{"nimble": nimble(t), "with every limit": limited,
		"too heavy to hover": heavy} {
		if err := craft.Check(); err != nil {
			t.Fatal(err)
		}
		for i := range ways {
			p := craft.Evaluate(&ways[i])
			for _, f := range figure.All() {
				x, why := p.Get(f.Quantity)
				shown, whyShown := p.Figure(f.Quantity)
				alone := craft.EvaluateOnly(&ways[i], figure.SetOf(f.Quantity))
				y, whyAlone := alone.Get(f.Quantity)
				if whyShown != why || whyAlone != why || y != x {
					t.Errorf("%s, way %d: %s is %g (%v), as a figure (%v), alone %g (%v)", name, i, f.Key, x, why, whyShown, y,
						whyAlone)
				}
				switch {
				case why == Defined:
					defined[f.Quantity] = true
					if math.IsNaN(x) || math.IsInf(x, 0) || shown != f.FromSI(x) {
						t.Errorf("%s, way %d: %s is %g, shown %g", name, i, f.Key, x, shown)
					}
				case why == NotAsked || x != 0 || shown != 0:
					t.Errorf("%s, way %d: %s is undefined (%v) and %g", name, i, f.Key, why, x)
				}
			}
		}
	}
	for _, f := range figure.All() {
		if !defined[f.Quantity] {
			t.Errorf("%s is computed for none of the crafts", f.Key)
		}
	}
}

// Independent: thrusts in grams go by the gravity that weights go by.
func TestOneGravity(t *testing.T) {
	if figure.StandardGravityMS2 != GravityMS2 {
		t.Errorf("%g and %g m/s²", figure.StandardGravityMS2, GravityMS2)
	}
}
