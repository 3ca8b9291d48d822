package main

import (
	"math"
	"testing"

	"partsaloft/physics/internal/fit/rig"
)

// Property: sheets whose limits are those of the law give its heat back, each size left out too, and general sheets are
// kept apart.
func TestLimitClasses(t *testing.T) {
	law := rig.MotorLaw()
	var sheets []motorSheet
	for i, kg := range []float64{0.004, 0.009, 0.013, 0.032, 0.045} {
		kv := 30 / kg
		s := motorSheet{statorM: 0.010 + 0.003*float64(i), tallM: 0.005, kv: kv, massKg: kg,
			maxA: law.CurrentLimit(law.TorqueConstant(kv).Value, kg).Value}
		sheets = append(sheets, s)
		s.maxA, s.collected = s.maxA/2, true
		sheets = append(sheets, s)
	}
	sheets = append(sheets, motorSheet{statorM: 0.05, tallM: 0.01, kv: 300, massKg: 0.2, maxA: 30})
	classes := limitClasses(sheets, law)
	for i, want := range []float64{3.9e3, 3.9e3 / 4} {
		c := &classes[i]
		if len(c.logs) != 5 {
			t.Fatalf("%s: %d sheets, want 5", c.name, len(c.logs))
		}
		for k, off := range c.leftSizes() {
			if math.Abs(math.Exp(c.logs[k])/want-1) > 1e-9 || math.Abs(off) > 1e-9 {
				t.Errorf("%s: %.4g W/kg, want %g; left out %g", c.name, math.Exp(c.logs[k]), want, off)
			}
		}
	}
}
