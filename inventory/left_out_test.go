package inventory

import (
	"math"
	"testing"

	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// TestWhatPilotsLeaveOut: a pack rated in amps, a whoop prop without pitch and a frame without mass are reckoned with,
// what is estimated carries its doubt, and giving it takes the doubt away (property).
func TestWhatPilotsLeaveOut(t *testing.T) {
	d := mustRead(t, `
motors: [{id: m, stator: "0802", kv: 19000}]
props: [{id: p, size: 31mm, blades: 4}, {id: q, size: 31mm x 22.32mm x 4}, {id: r, diameter_in: 1.22, blades: 4}]
packs:
  - {id: ion, size: 6S 4000, discharge_a: 35, chemistry: liion}
  - {id: same, size: 6S 4000 8.75C, chemistry: liion}
  - {id: both, size: 6S 4000 8.75C, chemistry: liion, discharge_a: 35}
frames:
  - {id: duct, max_prop_in: 1.22, ducted: true}
  - {id: spaced, motor_spacing_mm: 46, ducted: true}
  - {id: five, max_prop_in: 5}
  - {id: weighed, max_prop_in: 5, mass_g: 98}
boards: [{id: b, esc_current_a: 5, cells: 1S}]
`)
	for i := range d.Packs {
		if got := d.Packs[i].SI(298).SafeCurrentA; math.Abs(got-35) > 1e-9 {
			t.Errorf("pack %s bears %g A, want 35", d.Packs[i].ID, got)
		}
	}
	air, _ := d.Air.SI()
	var doubt [3]rotor.Uncertainty
	for i := range d.Props {
		made, err := d.Props[i].Propeller(air)
		if err != nil {
			t.Fatal(err)
		}
		doubt[i] = made.Uncertainty
		if want := i != 1; d.Props[i].PitchEstimated != want || math.Abs(d.Props[i].PitchIn/d.Props[i].DiameterIn-0.72) > 1e-3 {
			t.Errorf("prop %s: pitch %g in, estimated %v", d.Props[i].ID, d.Props[i].PitchIn, d.Props[i].PitchEstimated)
		}
	}
	if !(doubt[0].Thrust.LnSD > 1.3*doubt[1].Thrust.LnSD && doubt[0].Power.LnSD > 1.2*doubt[1].Power.LnSD) ||
		doubt[0].Thrust.Basis != uncertain.Estimated {
		t.Errorf("without a pitch %+v, with it %+v", doubt[0], doubt[1])
	}
	for i, want := range []struct {
		lowG, highG float64 // common practice, no source
		basis       uncertain.Basis
	}{
		{2.5, 5, uncertain.Estimated}, {2.5, 8, uncertain.Estimated}, {60, 120, uncertain.Estimated}, {98, 98,
			uncertain.Label},
	} {
		c := Combination{Frame: &d.Frames[i], Board: &d.Boards[0]}
		mass := c.Body().FrameMass
		if g := 1000 * mass.Value; g < want.lowG-1e-9 || g > want.highG+1e-9 || mass.Basis != want.basis {
			t.Errorf("frame %s weighs %g g (%v), want %g to %g (%v)", d.Frames[i].ID, g, mass.Basis, want.lowG, want.highG,
				want.basis)
		}
		if wide := mass.LnSD > 0.3; wide != (want.basis == uncertain.Estimated) {
			t.Errorf("frame %s: standard deviation %g", d.Frames[i].ID, mass.LnSD)
		}
		if given := d.Frames[i].Grams() != nil; given != (want.basis == uncertain.Label) {
			t.Errorf("frame %s: given %v", d.Frames[i].ID, given)
		}
	}
}
