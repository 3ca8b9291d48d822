package inventory

import "testing"

// Property: a negation takes back the damage it stands before, and none behind a mark that parts sentences (common
// practice of notes, no source).
func TestNotesOfDamage(t *testing.T) {
	for note, retired := range map[string]bool{
		"puffed": true, "a bit puffed": true, "do not fly, puffed": true, "DO NOT CHARGE: swollen": true,
		"no punch, puffed": true, "not puffed, dented": true, "never fly this (leaking)": true,
		"not puffed": false, "no dents": false, "not puffed/swollen": false, "never been crushed": false, "": false,
	} {
		if p := (Pack{Part: Part{Note: note}, Cells: 4, CapacityMAh: 1300}); p.Retired() != retired {
			t.Errorf("%q: retired %v", note, p.Retired())
		}
	}
}
