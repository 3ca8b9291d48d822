package inventory

import (
	"fmt"
	"testing"
)

// pairOfMotors is a drawer with two kinds of 14 mm motors and a frame of four rotors.
func pairOfMotors(countA, countB int, kvB float64, restB string) string {
	return fmt.Sprintf(`
motors:
  - {id: b, count: %d, stator: 1505, kv: 3800, mass_g: 9.2, max_current_a: 14, hole_pattern_mm: [9, 12], cells: [2, 4], prop_mount: screws, shaft_mm: 1.5}
  - {id: a, count: %d, stator: 1505, kv: %g, mass_g: 9.4%s}
frames: [{id: f, mass_g: 20, max_prop_in: 3}]
`, countA, countB, kvB, restB)
}

func TestMixedTakesMeansAndTheCautiousRating(t *testing.T) {
	d := mustRead(t, pairOfMotors(3, 2, 3900, ", max_current_a: 12, cells: [3, 6], hole_pattern_mm: 12"))
	m := d.Motor("a~b")
	if m == nil || d.Motor("b~a") == nil || d.Motor("a~c") != nil || d.Motor("a~a") != nil {
		t.Fatal("a~b is not found, or nonsense is")
	}
	if m.ID != "a~b" || m.KV != 3850 || *m.MassG < 9.299 || *m.MassG > 9.301 || *m.MaxCurrentA != 12 ||
		*m.Cells != (CellRange{Min: 3, Max: 4}) || len(m.HolePatternMm) != 1 || m.HolePatternMm[0] != 12 || *m.Count != 5 ||
		m.PropMount != Screws || *m.ShaftMm != 1.5 {
		t.Errorf("mixed motor is %+v", m)
	}
	if want := "mixed set of a (3900 rpm/V) and b (3800 rpm/V), predicted with the mean"; m.Note != want {
		t.Errorf("note %q, want %q", m.Note, want)
	}
	if a, b := m.Mixed.Pieces(4); a != 2 || b != 2 {
		t.Errorf("a set takes %d and %d, want 2 and 2", a, b)
	}
	d = mustRead(t, pairOfMotors(3, 1, 3900, ""))
	if a, b := d.Motor("a~b").Mixed.Pieces(4); a != 1 || b != 3 {
		t.Errorf("of one a and three b a set takes %d and %d", a, b)
	}
	si := d.Motor("a~b").SI()
	if si.MassKg < 0.00929 || si.MassKg > 0.00931 {
		t.Errorf("mixed motor weighs %g kg", si.MassKg)
	}
}
