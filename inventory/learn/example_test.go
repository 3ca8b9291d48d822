package learn_test

import (
	"context"
	"fmt"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/physics"
)

// A weighed and timed flight corrects what its parts' figures leave open.
func ExampleLearn() {
	d, err := inventory.Read("shelf.yaml", strings.NewReader(`
motors: [{id: m, stator: "1507", kv: 2720, mass_g: 15.2, cells: [4, 5]}]
props: [{id: p, size: 3.5x2.6x3}]
packs: [{id: k, size: 4S 720 95C, mass_g: 80}]
frames: [{id: f, mass_g: 24.5, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 22, cells: [2, 4], mass_g: 8.8}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, all_up_g: 189, hover_throttle_pct: 26, throttle_kind: output}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := learn.Learn(context.Background(), d, learn.Ways{"freestyle": {SpeedMS: 12,
		Segments: physics.MixedSegments()}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range report.Entries[0].Readings {
		fmt.Printf("%s: read %.0f, predicted %.0f, now %.0f\n", r.Key, r.Measured, r.Before.Value, r.After.Value)
	}
	// Output:
	// all_up_g: read 189, predicted 182, now 189
	// hover_throttle_pct: read 26, predicted 25, now 26
}
