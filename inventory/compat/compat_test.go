package compat

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// drawer reads an invented drawer.
func drawer(t testing.TB, text string) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Read("drawer.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// gravest is the code of the gravest finding of a rule, "" if there is none.
func gravest(list []Finding, rule Rule) (severity Severity, code strict.Code) {
	for _, f := range list {
		if f.Rule == rule && f.Severity >= severity {
			severity, code = f.Severity, f.Code
		}
	}
	return severity, code
}

// TestMotorsWithoutCells: published figures of use; the sizes are those of common practice: 0802 of 19000 to 27000 and
// 1103 of 11000 to 15000 fly on 1S and 2S, 1404 of 4600 on 4S, 2207 of 1750 and 2105.5 of 2650 on 6S, and nobody plugs
// a whoop motor into 4S.
func TestMotorsWithoutCells(t *testing.T) {
	for _, c := range []struct {
		stator string
		kv     int
		cells  int
		want   Severity
		code   strict.Code
	}{
		{"0802", 19000, 1, Unknown, "fit.motor_cells_unknown"},
		{"0802", 27000, 1, Unknown, "fit.motor_cells_unknown"},
		{"0802", 19000, 2, Remark, "fit.motor_cells_high"},
		{"0802", 19000, 4, Misfit, "fit.motor_cells_beyond"},
		{"1103", 11000, 2, Unknown, "fit.motor_cells_unknown"},
		{"1103", 11000, 3, Misfit, "fit.motor_cells_beyond"},
		{"1404", 4600, 4, Unknown, "fit.motor_cells_unknown"},
		{"1303.5", 5500, 4, Remark, "fit.motor_cells_high"},
		{"1404", 4600, 6, Misfit, "fit.motor_cells_beyond"},
		{"2105.5", 2650, 6, Remark, "fit.motor_cells_high"},
		{"2207", 1750, 6, Unknown, "fit.motor_cells_unknown"},
		{"2207", 2400, 4, Unknown, "fit.motor_cells_unknown"},
		{"2207", 2750, 6, Misfit, "fit.motor_cells_beyond"},
		{"2205", 2300, 6, Misfit, "fit.motor_cells_beyond"},
		{"2205", 2300, 5, Unknown, "fit.motor_cells_unknown"},
		{"2306", 2450, 6, Misfit, "fit.motor_cells_beyond"},
		{"2306", 2450, 5, Remark, "fit.motor_cells_high"},
		{"2207", 2150, 6, Remark, "fit.motor_cells_high"},
		{"2807", 1700, 6, Remark, "fit.motor_cells_high"},
		{"2806.5", 1300, 6, Unknown, "fit.motor_cells_unknown"},
	} {
		d := drawer(t, fmt.Sprintf("motors: [{id: m, stator: %q, kv: %d}]\npacks: [{id: k, size: %dS 1000 80C}]\n", c.stator,
			c.kv, c.cells))
		both := inventory.Combination{Motor: &d.Motors[0], Pack: &d.Packs[0]}
		list := Findings(&both)
		if got, code := gravest(list, RuleCells); got != c.want || code != c.code {
			t.Errorf("%s of %d kV on %dS: %v %s, want %v %s", c.stator, c.kv, c.cells, got, code, c.want, c.code)
		}
		if danger := c.want == Remark; len(list) != 1 || list[0].Danger() != danger {
			t.Errorf("%s of %d kV on %dS: danger is not %v in %v", c.stator, c.kv, c.cells, danger, list)
		}
		if first := FirstFault(&both); (first == RuleCells) != (c.want == Misfit) {
			t.Errorf("%s of %d kV on %dS: first fault %v", c.stator, c.kv, c.cells, first)
		}
	}
	// What is written overrules.
	d := drawer(t, "motors: [{id: m, stator: \"0802\", kv: 19000, cells: 4S}]\npacks: [{id: k, size: 4S 450 75C}]\n")
	if list := MotorPack(&d.Motors[0], &d.Packs[0]); list != nil {
		t.Errorf("cells up to 4S on 4S: %v", list)
	}
	if n := UsualCells(&inventory.Motor{KV: 19000, StatorDiameterMm: 8}); n.String() != "1S" {
		t.Errorf("19000 kV of 8 mm is used on %v", n)
	}
}

// TestUpTo: 6S of a motor, a board or an extra is up to 6S (common practice, no source).
func TestUpTo(t *testing.T) {
	d := drawer(t, `motors: [{id: m, stator: "2207", kv: 1750, cells: 6S}]
boards: [{id: b, esc_current_a: 45, cells: 6S}]
extras: [{id: v, role: video, mass_g: 8, cells: 6S}]
packs: [{id: k4, size: 4S 1500 100C}, {id: k6, size: 6S 1100 100C}, {id: k8, size: 8S 1100 100C}, {id: k1, size: 1S 300 75C}]
`)
	if s, code := gravest(BoardPack(&d.Boards[0], &d.Packs[3]), RuleCells); s != Remark ||
		code != "fit.board_single_cell" {
		t.Errorf("one cell on a board for up to six: %v %s", s, code)
	}
	for i, want := range []Rule{NoRule, NoRule, RuleCells} {
		for _, c := range []inventory.Combination{{Motor: &d.Motors[0]}, {Board: &d.Boards[0]},
			{Extras: []*inventory.Extra{&d.Extras[0]}}} {
			c.Pack = &d.Packs[i]
			if got := FirstFault(&c); got != want {
				t.Errorf("%s: %v, want %v", c.Key(), got, want)
			}
		}
	}
}

// TestNominalStacks: patterns are the same as pilots say them; neighbours are not (common practice, no source).
func TestNominalStacks(t *testing.T) {
	for _, c := range []struct {
		board, frame string
		want         Severity
	}{
		{"30x30", "30.5", Fits}, {"30.5", "30.5x30.5", Fits}, {"25x25", "25.5", Fits}, {"26x26", "25.5", Fits},
		{"26", "26.5", Fits}, {"20x20", "20", Fits}, {"16x16", "16", Fits}, {"25.5", "26.5", Misfit}, {"25", "26.5", Misfit},
		{"20", "25.5", Misfit}, {"30.5", "25.5", Misfit}, {"16", "20", Misfit}, {"30x30", "[20, 30.5]", Fits},
	} {
		d := drawer(t, fmt.Sprintf("boards: [{id: b, esc_current_a: 20, cells: 4S, stack_mm: %s}]\n"+
			"frames: [{id: f, mass_g: 20, max_prop_in: 3, stack_mm: %s}]\n"+
			"extras: [{id: p, role: adapter, mass_g: 2, bridges: {what: stack_mm, from: 30, to: 25}}]\n", c.board, c.frame))
		got, _ := gravest(BoardFrame(&d.Boards[0], &d.Frames[0], nil), RuleStack)
		if got != c.want {
			t.Errorf("%s on %s: %v, want %v", c.board, c.frame, got, c.want)
		}
		bridged, _ := gravest(BoardFrame(&d.Boards[0], &d.Frames[0], []*inventory.Extra{&d.Extras[0]}), RuleStack)
		if want := c.board == "30.5" && c.frame == "25.5"; (bridged == Remark) != want {
			t.Errorf("%s on %s with a plate of 30 and 25: %v", c.board, c.frame, bridged)
		}
	}
	// Motors have patterns of their own, half a millimetre apart.
	d := drawer(t, "motors: [{id: m, stator: \"1104\", kv: 7000, hole_pattern_mm: 8.5}]\n"+
		"frames: [{id: f, mass_g: 20, max_prop_in: 3, hole_pattern_mm: 9}]\n")
	if got, _ := gravest(MotorFrame(&d.Motors[0], &d.Frames[0]), RuleHoles); got != Misfit {
		t.Errorf("holes of 8.5 mm on 9: %v", got)
	}
}

// TestHolesNotGiven: which motors may go on a frame whose holes are given, when theirs are not (common practice, no
// source).
func TestHolesNotGiven(t *testing.T) {
	for _, c := range []struct {
		stator, takes string
		want          Severity
	}{
		{"2207", "[9, 12]", Misfit}, {"2207", "16", Unknown}, {"2207", "19", Unknown}, {"1404", "16", Misfit},
		{"1404", "[9, 16]", Unknown}, {"2004", "16", Unknown}, {"2004", "[9, 12]", Unknown}, {"2105.5", "12", Unknown},
		{"1806", "16", Unknown}, {"2203", "12", Unknown}, {"2806.5", "12", Misfit}, {"0802", "12", Misfit}, {"1103", "12", Unknown},
	} {
		d := drawer(t, fmt.Sprintf("motors: [{id: m, stator: %q, kv: 3000}]\n"+
			"frames: [{id: f, mass_g: 20, max_prop_in: 3, hole_pattern_mm: %s}]\n", c.stator, c.takes))
		if got, _ := gravest(MotorFrame(&d.Motors[0], &d.Frames[0]), RuleHoles); got != c.want {
			t.Errorf("%s on holes of %s: %v, want %v", c.stator, c.takes, got, c.want)
		}
	}
}

// TestPropRoom: which props go on a frame by its class in inches, by its motors' distance and by its ducts (common
// practice, no source). A square frame of 65 mm between opposite motors has neighbours 46 mm apart, one of 75 mm 53.
func TestPropRoom(t *testing.T) {
	for _, c := range []struct {
		prop, frame string
		want        Severity
	}{
		{"5.1x4x3", "max_prop_in: 5", Fits}, {"5.2x4x3", "max_prop_in: 5", Fits}, {"5.5x4x3", "max_prop_in: 5", Misfit},
		{"3.1x2x3", "max_prop_in: 3", Fits}, {"3.5x2x3", "max_prop_in: 3", Misfit}, {"2.6x2x3", "max_prop_in: 2.5", Fits},
		{"7.1x4x3", "max_prop_in: 7", Fits}, {"5.2x4x3", "max_prop_in: 5.1", Misfit}, {"5.1x4x3", "max_prop_in: 5.1", Fits},
		{"5.1x4x3", "max_prop_in: 5, motor_spacing_mm: 131", Remark}, {"5.2x4x3", "max_prop_in: 5, motor_spacing_mm: 131",
			Misfit},
		{"5.2x4x3", "motor_spacing_mm: 155", Fits},
		{"31mm x 0.8 x 4", "max_prop_in: 1.2, ducted: true", Fits}, {"90mm x 2 x 3", "max_prop_in: 3.5, ducted: true", Fits},
		{"92mm x 2 x 3", "max_prop_in: 3.5, ducted: true", Misfit},
		{"40mm x 1 x 3", "max_prop_in: 1.2, ducted: true", Misfit},
		{"3x2x3", "max_prop_in: 3, ducted: true", Fits}, {"3.1x2x3", "max_prop_in: 3, ducted: true", Misfit},
		{"31mm x 0.8 x 4", "max_prop_in: 1.22, ducted: true", Fits}, {"40mm x 1 x 3", "max_prop_in: 1.22, ducted: true",
			Misfit},
		{"31mm x 0.8 x 4", "motor_spacing_mm: 46, ducted: true", Fits}, {"40mm x 1 x 3", "motor_spacing_mm: 46, ducted: true",
			Misfit},
		{"40mm x 1 x 3", "motor_spacing_mm: 53, ducted: true", Fits}, {"40mm x 1 x 3", "motor_spacing_mm: 46", Fits},
	} {
		d := drawer(t, fmt.Sprintf("props: [{id: p, size: %s}]\nframes: [{id: f, mass_g: 20, %s}]\n", c.prop, c.frame))
		both := inventory.Combination{Prop: &d.Props[0], Frame: &d.Frames[0]}
		if got, code := gravest(Findings(&both), RulePropSize); got != c.want {
			t.Errorf("%s on %s: %v %s, want %v", c.prop, c.frame, got, code, c.want)
		}
		if first := FirstFault(&both); (first == RulePropSize) != (c.want == Misfit) {
			t.Errorf("%s on %s: first fault %v", c.prop, c.frame, first)
		}
	}
}

// TestHeavyPack: common practice, no source: 195 g of four round cells fly on 3.5-inch frames of 25 g, 850 g on
// 7-inch frames of 170 g; nobody straps 440 g on a 3-inch frame of 38 g.
func TestHeavyPack(t *testing.T) {
	for _, c := range []struct {
		packG, frameG float64
		want          bool
	}{{195, 25, false}, {850, 170, false}, {8, 3.2, false}, {440, 38, true}} {
		pack, frame := inventory.Pack{MassG: &c.packG}, inventory.Frame{MassG: &c.frameG}
		if got := isHeavy(PackFrame(&pack, &frame)); got != c.want {
			t.Errorf("%g g on %g g is remarked: %t", c.packG, c.frameG, got)
		}
	}
	if isHeavy(PackFrame(&inventory.Pack{}, &inventory.Frame{})) {
		t.Error("what is not weighed is remarked")
	}
}

func isHeavy(list []Finding) bool {
	return slices.ContainsFunc(list, func(f Finding) bool { return f.Code == "fit.pack_heavy" })
}
