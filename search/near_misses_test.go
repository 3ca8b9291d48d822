package search

import (
	"context"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// weakPack is a drawer whose one pack claims little and gives much.
const weakPack = `
motors: [{id: m, stator: "2207", kv: 1950, cells: [4, 6]}]
props: [{id: p, size: 5.1x4.3x3}]
packs: [{id: k, size: 4S 850 10C, mass_g: 95, connector: XT60}]
frames: [{id: f, mass_g: 115, max_prop_in: 5}]
boards: [{id: b, esc_current_a: 45, cells: [3, 6], connector: XT60}]
`

// Where a label alone refuses a craft, the near miss says so: what caps it and at what, how much the pack would have to
// give, less than full throttle takes, and that it gives as much by its resistance.
func TestNearMissOfALabel(t *testing.T) {
	d, err := inventory.Read("weak.yaml", strings.NewReader(weakPack))
	if err != nil {
		t.Fatal(err)
	}
	air, style := synthetic.AirAndStyle(t, d, "freestyle")
	style.Flying.Segments = []physics.Segment{{Kind: physics.Hover, Share: 1, LoadFactor: 1}}
	r, err := Search(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, Options{Draws: 2})
	if err != nil || len(r.Best) > 0 || len(r.NearMisses) != 1 {
		t.Fatal(err, len(r.Best), len(r.NearMisses))
	}
	m := &r.NearMisses[0]
	full, _ := m.Performance.Get(figure.FullThrottleCurrent)
	if len(m.Violations) != 1 || len(m.Remedies) != 1 {
		t.Fatalf("%+v %+v", m.Violations, m.Remedies)
	}
	b, way := m.Violations[0], m.Remedies[0]
	if b.Rule != objective.Currents || b.Key != "thrust_to_weight" || b.Cap != physics.PackLimit ||
		!(b.CapPct > 10 && b.CapPct < 60) {
		t.Errorf("broken: %+v", b)
	}
	if way.Kind != StrongerPack || way.Has != 8.5 || !(way.Needs > way.Has && way.Needs < full) ||
		!(way.BySag > way.Needs) {
		t.Errorf("remedy: %+v of %g A at full throttle", way, full)
	}
	// Such a pack is enough.
	for i := range d.Packs {
		d.Packs[i].DischargeC = way.Needs / 0.85
	}
	r, err = Search(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, Options{Draws: 2})
	if err != nil || len(r.Best) != 1 {
		t.Errorf("a pack that gives %.1f A is not enough: %v", way.Needs, err)
	}
}

// What a home asks for is told in grams, and not to be loosened.
func TestNearMissOfAHome(t *testing.T) {
	d, err := inventory.Read("weak.yaml", strings.NewReader(strings.Replace(weakPack, "10C", "75C", 1)))
	if err != nil {
		t.Fatal(err)
	}
	air, style := synthetic.AirAndStyle(t, d, "indoor")
	r, err := Search(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, Options{Draws: 2})
	if err != nil || len(r.NearMisses) != 1 || len(r.NearMisses[0].Remedies) != 1 {
		t.Fatalf("%v %+v", err, r.NearMisses)
	}
	m := &r.NearMisses[0]
	if way := m.Remedies[0]; way.Kind != LessMass || way.Loose != nil ||
		0.5*(m.Craft.MassKg()-way.Needs)*style.Flying.SpeedMS*style.Flying.SpeedMS > 0.25+1e-9 {
		t.Errorf("%+v of a craft of %g kg", way, m.Craft.MassKg())
	}
}

// Where nothing fits, of what fits equally badly that is told which would fly: one adapter mends it, not less weight.
func TestNearestFitFlies(t *testing.T) {
	d, err := inventory.Read("unfit.yaml", strings.NewReader(`
motors: [{id: m, stator: "2207", kv: 1860, mass_g: 33, hole_pattern_mm: 16}]
props: [{id: small, size: 3.5x2.5x3}, {id: whoop, size: 63mm, blades: 3}, {id: large, size: 5.1x4.1x3}]
packs:
  - {id: tiny, size: 3S 450 55C, mass_g: 44, connector: XT30}
  - {id: right, size: 6S 1100 100C, mass_g: 190, connector: XT60}
frames: [{id: f, mass_g: 110, max_prop_in: 5, hole_pattern_mm: 16, stack_mm: 30}]
boards: [{id: b, esc_current_a: 40, cells: [2, 6], stack_mm: 25.5, mass_g: 10.5}]
`))
	if err != nil {
		t.Fatal(err)
	}
	air, style := synthetic.AirAndStyle(t, d, "freestyle")
	r, err := Search(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, Options{Draws: 2})
	if err != nil || len(r.Best) > 0 || len(r.NearMisses) == 0 {
		t.Fatal(err, len(r.Best), len(r.NearMisses))
	}
	if m := &r.NearMisses[0]; len(m.Misfits) != 1 || len(m.Violations) > 0 || m.Combination.Pack.ID != "right" {
		t.Errorf("%s: %d misfits, %d violations", m.Combination.Key(), len(m.Misfits), len(m.Violations))
	}
}
