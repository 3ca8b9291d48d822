package faults

import (
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
)

func noteTexts(d *inventory.Drawer) string { return strings.Join(Notes(check.Plausibility(d)), "\n") }

// TestUnlikely: each remark comes when it should, and a plain drawer gives none.
func TestUnlikely(t *testing.T) {
	const plain = `
motors: [{id: m, count: 4, stator: 1404, kv: 3900, mass_g: 9.3}]
props: [{id: p, count: 4, size: 3x2.3x3, mass_g: 1.3}]
packs: [{id: k, count: 1, size: 3S 450 75C, mass_g: 42}]
frames: [{id: f, count: 1, mass_g: 25, max_prop_in: 3}]
boards: [{id: b, count: 1, esc_current_a: 14, cells: [2, 4], mass_g: 6}]
extras: [{id: x, count: 1, role: camera, mass_g: 2, use: always}]
`
	if got := noteTexts(mustRead(t, plain)); got != "" {
		t.Errorf("a plain drawer gives\n%s", got)
	}
	for _, c := range []struct{ name, old, new, want string }{
		{"a 60 g 1404", "mass_g: 9.3", "mass_g: 60", "motor m weighs 60 g, a 1404 mostly about 9.2 g: weigh it again"},
		{"a digit too much", "kv: 3900", "kv: 39000", "motor m has 39000 kV, a 1404 mostly"},
		{"ohms for milliohms", "mass_g: 9.3}", "mass_g: 9.3, resistance_mohm: 2}",
			"motor m has 2 mΩ, a 1404 of 3900 kV mostly about"},
		{"idle near the limit", "mass_g: 9.3}", "mass_g: 9.3, no_load_a: 5, no_load_v: 10, max_current_a: 10}",
			"motor m draws 5 A without load, its max current is 10 A"},
		{"a bench with a stranger", "mass_g: 9.3}",
			"mass_g: 9.3, bench: [{prop: p9, volts: 11, throttle_pct: 100, rpm: 30000}]}", "prop p9 of this reading is not in " +
				"the drawer"},
		{"four props weighed at once", "mass_g: 1.3}", "mass_g: 5.2}", "prop p weighs 5.2 g, one of its size mostly about"},
		{"steep", "3x2.3x3", "3x4.9x3", "unusually steep"},
		{"flat", "3x2.3x3", "3x0.5x3", "unusually flat"},
		{"a nut on a thin shaft", "mass_g: 1.3}", "mass_g: 1.2, mount: nut, bore_mm: 1.5}", "an unusual pair"},
		{"a heavy pack", "mass_g: 42", "mass_g: 142", "pack k weighs 142 g, 3S of 450 mAh mostly about 38 g"},
		{"the whole pack's resistance", "mass_g: 42}", "mass_g: 42, cell_resistance_mohm: 120}",
			"correct the reading if it was of the whole pack or taken cold"},
		{"burst under continuous", "mass_g: 42}", "mass_g: 42, burst_c: 35}",
			"claims 35C burst and 75C continuous, which contradict each other: the lower is used"},
		{"Li-ion at 75C", "mass_g: 42}", "mass_g: 30, chemistry: liion}", "is Li-ion and claims 75C"},
		{"label over 75C", "450 75C", "450 120C", "measure the cell resistance of k: labels over 75C are usually " +
			"inflated"},
		{"a plug of its own", "mass_g: 42}", `mass_g: 42, connector: "my plug"}`,
			`has the unknown plug "my plug"`},
		{"a frame of lead", "mass_g: 25,", "mass_g: 250,", "frame f weighs 250 g, one for 3 in props mostly about 26 g"},
		{"motors too near", "max_prop_in: 3}", "max_prop_in: 3, motor_spacing_mm: 70}",
			"takes props of 3 in (76.2 mm) but has motors 70 mm apart"},
		{"a spacing from corner to corner", "max_prop_in: 3}", "max_prop_in: 3, motor_spacing_mm: 400}",
			"frame f has motors 400 mm apart but takes props of 3 in (76.2 mm) only"},
		{"a board weighed in its craft", "mass_g: 6}", "mass_g: 80}", "board b weighs 80 g, most 2 to 45 g"},
		{"milliwatts for watts", "mass_g: 2, use", "mass_g: 2, power_w: 25, use",
			"camera x: check power_w, 25 W is unusual; cameras mostly 0.15 to 3 W"},
		{"milliohms for one cell too few", "mass_g: 42}", "mass_g: 42, cell_resistance_mohm: 1.3}",
			"pack k has 1.3 mΩ a cell, one of 450 mAh mostly about 17 mΩ: check the digits"},
		{"an ESC of ten times its current", "esc_current_a: 14", "esc_current_a: 140",
			"board b: check esc_current_a, 140 A is unusual; one of 6 g mostly 3.6 to 36 A"},
		{"a motor that bears 140 A", "mass_g: 9.3}", "mass_g: 9.3, max_current_a: 140}",
			"motor m: check max_current_a, 140 A is unusual; a 1404 of 3900 kV mostly"},
		{"a pack of 7.5C", "450 75C", "450 7.5C",
			"pack k: check discharge_c, 7.5 is unusual; packs of this size mostly 18 to 160"},
		{"500 cycles", "mass_g: 42}", "mass_g: 42, cycles: 500}", "cycles"},
		{"a camera of ten times its mass", "mass_g: 2, use", "mass_g: 40, use",
			"camera x: check mass_g, 40 g is unusual; one of this role on such frames mostly"},
		{"a stack that nobody makes", "mass_g: 6}", "mass_g: 6, stack_mm: 35}",
			"board b has a stack pattern of 35 mm, most have 16 or 20 or 25.5 or 26.5 or 30.5 mm"},
		{"forty frames", "{id: f, count: 1", "{id: f, count: 40", "frame f: 40 pieces, most drawers have up to 7 of a kind"},
		{"two ids in capitals", "props:", "props: [{id: P, count: 4, size: 5x4x2}, {id: p, count: 4, size: 3x2.3x3}]\n#",
			"prop p differs from P in capitals only"},
		{"ESC burst under continuous", "mass_g: 6}", "mass_g: 6, esc_burst_a: 8}",
			"board b claims 8 A burst and 14 A continuous"},
		{"no count", "frames: [{id: f, count: 1,", "frames: [{id: f,",
			"no count is given for f: assumed enough for one craft"},
		{"pressure and altitude", "motors:", "air: {pressure_hpa: 990, altitude_m: 300}\nmotors:", "pressure is used"},
		{"motor twice", "mass_g: 9.3}", "mass_g: 9.3}, {id: m-again, count: 2, stator: 1404, kv: 3900}",
			"motor m-again looks like motor m entered twice (1404, 3900 kV)"},
		{"prop twice", "mass_g: 1.3}", "mass_g: 1.3}, {id: p-again, count: 2, size: 3x2.3x3}",
			"prop p-again looks like prop p entered twice (3 x 2.3 x 3)"},
		{"pack twice", "mass_g: 42}", "mass_g: 42}, {id: k-again, count: 2, size: 3S 450 75C}",
			"pack k-again looks like pack k entered twice (3S 450 mAh 75C)"},
		{"frame twice", "max_prop_in: 3}", "max_prop_in: 3}, {id: f-again, count: 1, mass_g: 25, max_prop_in: 3}",
			"frame f-again looks like frame f entered twice (25 g)"},
		{"board twice", "mass_g: 6}", "mass_g: 6}, {id: b-again, count: 1, esc_current_a: 14, cells: [2, 4]}",
			"board b-again looks like board b entered twice (14 A, 2 to 4 cells)"},
		{"camera twice", "use: always}", "use: always}, {id: x-again, count: 1, role: camera, mass_g: 2}",
			"camera x-again looks like x entered twice (2 g)"},
		{"a log of a stranger", "motors:",
			"log: [{parts: {motor: m7, prop: p, pack: k, frame: f, board: b}, all_up_g: 120}]\nmotors:", "no motor is called m7; did you mean m?; learn refuses the " +
				"log until this is fixed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(plain, c.old, c.new, 1)
			if text == plain {
				t.Fatal("nothing is changed")
			}
			if got := noteTexts(mustRead(t, text)); !strings.Contains(got, c.want) || strings.Contains(got, "\n") {
				t.Errorf("got %q, want one remark with %q", got, c.want)
			}
		})
	}
	// Packs of different age or wear are two kinds, as are props of different series.
	for _, more := range []string{
		"{id: k-old, count: 1, size: 3S 450 75C, cycles: 150}]",
		"{id: k-hv, count: 1, size: 3S 450 75C, chemistry: lihv}]",
	} {
		text := strings.Replace(plain, "mass_g: 42}]", "mass_g: 42}, "+more, 1)
		if got := noteTexts(mustRead(t, text)); got != "" {
			t.Errorf("%s gives %s", more, got)
		}
	}
}

// TestDangers: what may burn if a figure is a slip is told with every build that has the part, the rest is not.
func TestDangers(t *testing.T) {
	d := mustRead(t, `
motors: [{id: m, count: 4, stator: 1204, kv: 5200, mass_g: 5.6, max_current_a: 90}]
props: [{id: p, count: 4, size: 3x2.3x3, mass_g: 12}]
packs: [{id: k, count: 1, size: 3S 480 75C, mass_g: 4.2}]
frames: [{id: f, count: 1, mass_g: 250, max_prop_in: 3}]
boards: [{id: b, count: 1, esc_current_a: 140, cells: [2, 4], mass_g: 6}]
`)
	c := inventory.Combination{Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0], Frame: &d.Frames[0],
		Board: &d.Boards[0]}
	said := strings.Join(Notes(check.Dangers(&c)), "\n")
	for _, want := range []string{"motor m: check max_current_a, 90 A is unusual", "pack k weighs 4.2 g",
		"board b: check esc_current_a, 140 A is unusual"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
	if strings.Contains(said, "prop p") || strings.Contains(said, "frame f") {
		t.Errorf("what cannot burn is said:\n%s", said)
	}
}

// TestAssumptions: of ratings that are missing or contradict each other it is said what counts.
func TestAssumptions(t *testing.T) {
	d := mustRead(t, smallCraft)
	c := wholeCraft(d)
	low, burst := 9.0, 20.0
	board, pack := *c.Board, *c.Pack
	board.EscBurstA, board.Connector, pack.BurstC = &low, "PH 2.0", &burst
	c.Board, c.Pack = &board, &pack
	said := strings.Join(Problems(check.Assumptions(&c)), "\n")
	for _, want := range []string{
		"pack k claims 20C burst and 70C continuous: the lower counts",
		"board b claims 9 A burst and 14 A continuous: the lower counts for both",
		"plug PH 2.0: limits are what pilots pull through it, 8 A in flight and 12 A for a few seconds; its " +
			"rating is 2 A (datasheet)",
		"plug XT30: limits are what pilots pull through it, 25 A in flight and 45 A for a few seconds; its " +
			"rating is 15 A, 30 A for seconds (from memory)",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s\nsaid:\n%s", want, said)
		}
	}
	c.Board.EscBurstA, c.Board.Connector = nil, "thing"
	ec3 := *c.Pack
	ec3.Connector, c.Pack = "EC3", &ec3
	m := *c.Motor
	m.MaxCurrentA = nil
	c.Motor = &m
	said = strings.Join(Problems(check.Assumptions(&c)), "\n")
	for _, want := range []string{
		"motor m: max current not given; ",
		"board b: burst current not given; 1.2 times its 14 A is allowed for a punch",
		`no rating known for plug "thing": its current is not checked`,
		"plug EC3: limits are what pilots pull through it, 50 A in flight and 90 A for a few seconds; no " +
			"datasheet at hand",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s\nsaid:\n%s", want, said)
		}
	}
}
