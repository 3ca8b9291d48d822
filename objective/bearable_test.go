package objective

import (
	"testing"

	"partsaloft/physics/figure"
)

// Property: a style that asks for a least temperature keeps the most that every style allows; one with a most of its own
// keeps that.
func TestLeastValueKeepsTheMost(t *testing.T) {
	every, ok := everyStyle(figure.MotorTemperature)
	if !ok {
		t.Fatal("no style holds the windings")
	}
	for text, most := range map[string]float64{"motor_temperature_c=20..": every.High, "motor_temperature_c=..90": 90} {
		limit, err := ParseLimit(text)
		if err != nil {
			t.Fatal(err)
		}
		var s Style
		s = s.With(limit)
		if got := s.bearable(figure.MotorTemperature); got.High != most {
			t.Errorf("%s: at most %g, want %g", text, got.High, most)
		}
	}
}
