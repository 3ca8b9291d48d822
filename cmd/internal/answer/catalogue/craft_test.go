package catalogue

import (
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// Property: every caution and every reason is said, with its numbers.
func TestEveryCautionIsSaid(t *testing.T) {
	for c := range physics.CautionEnd {
		said := CraftCaution(physics.Warning{Caution: c, Value: 400, Bound: 393.15})
		if said == "" || strings.ContainsAny(said, "{}") {
			t.Errorf("caution %d is said %q", c, said)
		}
	}
	hot := CraftCaution(physics.Warning{Caution: physics.HotWinding, Value: rotor.CelsiusToKelvin(140),
		Bound: physics.HotWindingK})
	if !strings.HasPrefix(hot, "motors will overheat: windings may reach 140 °C by the end of a flight in this style, "+
		"keep them under 100 °C") {
		t.Error(hot)
	}
	punch := CraftCaution(physics.Warning{Caution: physics.HotPunch, Value: rotor.CelsiusToKelvin(183),
		Bound: physics.HotPunchK})
	if !strings.Contains(punch, "reach 150 to 200 °C after") {
		t.Error(punch)
	}
	for r := range physics.ReasonEnd {
		if Undefined(r) == "" {
			t.Errorf("reason %d is not said", r)
		}
	}
}
