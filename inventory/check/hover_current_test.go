package check

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
)

// TestHoverCurrentsOfFlownCrafts: currents that crafts were seen to hover at are not remarked on, slips of a digit's
// place are (common practice, no source: 112 g of 2.5 inch on 3S with a digital video transmitter take 4.5 A, a
// 30 g whoop on 1S 2.4 A, 620 g of 5 inch on 6S 6 A).
func TestHoverCurrentsOfFlownCrafts(t *testing.T) {
	for _, c := range []struct {
		parts string
		amps  float64
	}{
		{`motors: [{id: m, stator: "1303.5", kv: 5500, mass_g: 5.6}]
props: [{id: p, size: 2.5x1.9x3}]
packs: [{id: k, size: 3S 450 75C, mass_g: 42}]
frames: [{id: f, mass_g: 22, max_prop_in: 2.5}]
boards: [{id: b, esc_current_a: 15, cells: 4S, mass_g: 7}]
extras: [{id: v, role: video, mass_g: 13, power_w: 6}]
`, 4.5},
		{`motors: [{id: m, stator: "0802", kv: 22000, mass_g: 2}]
props: [{id: p, size: 31mm x 0.9 x 4}]
packs: [{id: k, size: 1S 300 75C, mass_g: 8.5}]
frames: [{id: f, mass_g: 3.5, max_prop_in: 1.22, ducted: true}]
boards: [{id: b, esc_current_a: 5, cells: 1S, mass_g: 4.5}]
`, 2.4},
		{`motors: [{id: m, stator: "2207", kv: 1800, mass_g: 33}]
props: [{id: p, size: 5.1x4.5x3}]
packs: [{id: k, size: 6S 1100 100C, mass_g: 190}]
frames: [{id: f, mass_g: 120, max_prop_in: 5}]
boards: [{id: b, esc_current_a: 50, cells: 6S, mass_g: 22}]
extras: [{id: v, role: video, mass_g: 25}, {id: c, role: camera, mass_g: 30}]
`, 6},
	} {
		for _, slip := range []float64{0.1, 1, 10} {
			text := fmt.Sprintf("%slog: [{parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_current_a: %g}]\n",
				c.parts,
				slip*c.amps)
			d, err := inventory.Read("drawer.yaml", strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			noted := slices.ContainsFunc(Plausibility(d), func(n Note) bool {
				return strings.HasSuffix(n.Path,
					"hover_current_a")
			})
			if noted != (slip != 1) {
				t.Errorf("%g A: remarked on %v\n%s", slip*c.amps, noted, c.parts)
			}
		}
	}
}
