package catalogue

import (
	"testing"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

// What is read by the trade's habits is said, in words that hold what was read.
func TestReadingsAreSaid(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"prop 51433", "51433 read as 5.1x4.3x3: diameter and pitch in tenths of an inch, the last digit of five the blades"},
		{"lipo 22.2V 1300mAh 100C", "22.2V read as 6S by the nominal voltage of its cells"},
		{"Li-Ion 4S 21700 4000 15A", "21700 read as the size of the cells, not as mAh"},
		{"65mm whoop", "65mm whoop read as a ducted frame, opposite motors that far apart: 46 mm between " +
			"neighbours"},
		{"frame 220mm", "220mm read as the distance between opposite motors: 155.6 mm between neighbours"},
		{"frame 5 inch 16x16", "16x16 read as motor holes, not as the stack"},
		{"frame whoop 2 inch", "whoop read as ducted; if it has no ducts, write ducted: false"},
		{"esc 4x45A 3-6S", "4x45A read as one board with four ESCs, 45 A each"},
		{"motor 1404 4600kv 9g set of 4", "9g read as the mass of one piece"},
	} {
		d, err := edit.Describe(c.text, &inventory.Drawer{})
		if err != nil || len(d.Readings) != 1 {
			t.Errorf("%s: %v, %v", c.text, d.Readings, err)
			continue
		}
		if got := faults.Problem(&d.Readings[0]); got != c.says {
			t.Errorf("%s:\ngot  %s\nwant %s", c.text, got, c.says)
		}
	}
}
