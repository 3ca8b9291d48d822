package learn

import (
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Independent: rotor speed in hover at a weight known from the scale corrects the prop's thrust, which goes with the
// square of the speed, by the textbook formula for one normal reading of one normal number, and a sister of its series
// by what the two have in common. A stranger stays.
func TestHoverSpeedFixesThrust(t *testing.T) {
	const off = 0.10 // ln of true over labelled thrust
	text := `
motors: [{id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}]
props:
  - {id: p, size: 3.5x2.2x3, series: line, mass_g: 1.2}
  - {id: sister, size: 3.5x2.6x3, series: line}
  - {id: stranger, size: 8x4x2}
packs: [{id: k, size: 4S 650 95C, mass_g: 76}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, all_up_g: 180, hover_rpm: 10000}
`
	d := mustRead(t, text)
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	prop, err := d.Prop("p").Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	sister, err := d.Prop("sister").Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	stronger := *prop
	stronger.ThrustFactor *= math.Exp(off)
	speed, _, ok := stronger.SpeedFor(0.180*physics.GravityMS2/4, rotor.Flow{})
	labelled, _, _ := prop.SpeedFor(0.180*physics.GravityMS2/4, rotor.Flow{})
	if !ok || math.Abs(2*math.Log(labelled/speed)-off) > 0.02 {
		t.Fatalf("speeds %g and %g rad/s", speed, labelled)
	}
	*d.Log[0].HoverRPM = speed * 60 / (2 * math.Pi)

	l := learn(t, d).Learned
	a, forms := prop.Uncertainty.Thrust.LnSD, &prop.Uncertainty.Forms
	left := math.Hypot(2*0.02, forms.LnSD(2)*math.Log(speed/prop.ReferenceRadS)) // reading, and thrust over speed
	gain := a * a / (a*a + left*left)
	got, ok := changeOf(l, inventory.KindProp, "p", uncertain.PropThrust)
	if !ok || math.Abs(got.LnFactor-gain*off) > 0.012 || math.Abs(got.LnSDAfter-a*math.Sqrt(1-gain)) > 0.006 {
		t.Errorf("prop: ln %.4f ± %.4f, by the textbook %.4f ± %.4f", got.LnFactor, got.LnSDAfter, gain*off,
			a*math.Sqrt(1-gain))
	}
	other, ok := changeOf(l, inventory.KindProp, "sister", uncertain.PropThrust)
	if want := gain * off * forms.Covariance(&sister.Uncertainty.Forms, 0, 0, true) / (a * a); !ok ||
		math.Abs(other.LnFactor-want) > 0.012 {
		t.Errorf("sister: ln %.4f, by what series and class share %.4f", other.LnFactor, want)
	}
	if c, ok := changeOf(l, inventory.KindProp, "stranger", uncertain.PropThrust); ok &&
		math.Abs(c.LnFactor) > 0.5*other.LnFactor {
		t.Errorf("a stranger was moved: %+v", c)
	}
	d = mustRead(t, strings.Replace(text, "hover_rpm: 10000", "hover_rpm: 10000, within: {hover_rpm: 1000}", 1))
	*d.Log[0].HoverRPM = speed * 60 / (2 * math.Pi)
	unsure, _ := changeOf(learn(t, d).Learned, inventory.KindProp, "p", uncertain.PropThrust)
	if math.Abs(unsure.LnFactor) > 0.75*got.LnFactor {
		t.Errorf("read to 10 %%: ln %.4f, to 2 %%: %.4f", unsure.LnFactor, got.LnFactor)
	}
}
