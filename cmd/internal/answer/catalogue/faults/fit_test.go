package faults

import (
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
)

func mustRead(t testing.TB, text string) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Read("test.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	return d
}

// smallCraft is a craft of invented parts in sizes of common practice: 12 mm motors, 2.5-inch props, 2S.
const smallCraft = `
air: {altitude_m: 0, temperature_c: 15}
motors: [{id: m, count: 4, stator: "1204", kv: 6700, mass_g: 5.3, shaft_mm: 1.5, prop_mount: screws, hole_pattern_mm: 9, cells: [2, 3], max_current_a: 8}]
props: [{id: p, count: 8, size: 2.5x1.9x3, mass_g: 1.17, bore_mm: 1.5, mount: screws, blade: root, directions: {cw: 4, ccw: 4}}]
packs: [{id: k, size: 2S 560 70C, mass_g: 28, connector: XT30, cell_resistance_mohm: 22}]
frames: [{id: f, mass_g: 20, max_prop_in: 3, hole_pattern_mm: 9, stack_mm: 25.5, camera_width_mm: 14, drag_area_cm2: 90}]
boards: [{id: b, esc_current_a: 14, cells: [2, 3], stack_mm: 25.5, mass_g: 6, connector: XT30, power_w: 1}]
extras:
  - {id: cam, role: camera, mass_g: 2, power_w: 0.5, width_mm: 14, use: always}
  - {id: vtx, role: video, mass_g: 2, power_w: 1.5, use: always}
`

func wholeCraft(d *inventory.Drawer) inventory.Combination {
	c := inventory.Combination{Frame: &d.Frames[0], Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0],
		Board: &d.Boards[0]}
	c.Extras = d.Following(c.Frame, c.Board)
	return c
}

func num(x float64) *float64 { return &x }

// fitCase is a combination of a few parts with what the rules say of it: severity and a piece of
// the sentence, "" for nothing at all.
type fitCase struct {
	name     string
	c        inventory.Combination
	rule     compat.Rule
	severity compat.Severity
	want     string
}

func motorWith(change func(*inventory.Motor)) *inventory.Motor {
	m := &inventory.Motor{Part: inventory.Part{ID: "m1204"}, Stator: "1204", StatorDiameterMm: 12, StatorHeightMm: 4,
		KV: 6700, HolePatternMm: inventory.Lengths{9}, PropMount: inventory.Screws, ShaftMm: num(1.5), Cells: &inventory.CellRange{Min: 2, Max: 3}}
	if change != nil {
		change(m)
	}
	return m
}

func propWith(change func(*inventory.Prop)) *inventory.Prop {
	p := &inventory.Prop{Part: inventory.Part{ID: "p3"}, DiameterIn: 3, PitchIn: 2.3, Blades: 3, Mount: inventory.Screws,
		BoreMm: num(1.5)}
	if change != nil {
		change(p)
	}
	return p
}

func packWith(change func(*inventory.Pack)) *inventory.Pack {
	p := &inventory.Pack{Part: inventory.Part{ID: "k2s"}, Cells: 2, CapacityMAh: 560, DischargeC: 70,
		Chemistry: inventory.LiPo, Connector: "XT30", SizeMm: &[3]float64{56, 18, 15}}
	if change != nil {
		change(p)
	}
	return p
}

func frameWith(change func(*inventory.Frame)) *inventory.Frame {
	f := &inventory.Frame{Part: inventory.Part{ID: "f3"}, MassG: num(20), MaxPropIn: num(3),
		HolePatternMm: inventory.Lengths{9,
			12}, StackMm: inventory.Lengths{25.5}, CameraWidthMm: num(19), PackMaxMm: &[3]float64{70, 36, 25}}
	if change != nil {
		change(f)
	}
	return f
}

func boardWith(change func(*inventory.Board)) *inventory.Board {
	b := &inventory.Board{Part: inventory.Part{ID: "b14"}, EscCurrentA: 14, Cells: &inventory.CellRange{Min: 2, Max: 3},
		StackMm: inventory.Lengths{25.5}, Connector: "XT30"}
	if change != nil {
		change(b)
	}
	return b
}

func cameraOf(widthMm *float64) []*inventory.Extra {
	return []*inventory.Extra{{Part: inventory.Part{ID: "eye"}, Role: inventory.Camera, MassG: 2, WidthMm: widthMm}}
}

func plate(from, to float64) *inventory.Extra {
	return &inventory.Extra{Part: inventory.Part{ID: "plate"}, Role: inventory.Adapter, MassG: 1.9,
		Bridges: &inventory.Bridge{What: "stack_mm", From: strict.Number(from).String(), To: strict.Number(to).String(),
			FromMm: from, ToMm: to}}
}

func lead(from, to inventory.Plug) *inventory.Extra {
	return &inventory.Extra{Part: inventory.Part{ID: "lead"}, Role: inventory.Adapter, MassG: 3,
		Bridges: &inventory.Bridge{What: "connector", From: string(from), To: string(to)}}
}

func count(n int) *int { return &n }

// Common practice, no source: the rules of fit as pilots state them.
func fitCases() []fitCase {
	with := func(m *inventory.Motor, f *inventory.Frame) inventory.Combination {
		return inventory.Combination{Motor: m, Frame: f}
	}
	spin := func(m *inventory.Motor, p *inventory.Prop) inventory.Combination {
		return inventory.Combination{Motor: m, Prop: p}
	}
	wide := func(p *inventory.Prop, f *inventory.Frame) inventory.Combination {
		return inventory.Combination{Prop: p, Frame: f}
	}
	sit := func(b *inventory.Board, f *inventory.Frame, e ...*inventory.Extra) inventory.Combination {
		return inventory.Combination{Board: b, Frame: f, Extras: e}
	}
	feed := func(k *inventory.Pack, b *inventory.Board, e ...*inventory.Extra) inventory.Combination {
		return inventory.Combination{Pack: k, Board: b, Extras: e}
	}
	none := func(m *inventory.Motor) { m.HolePatternMm = nil }
	return []fitCase{
		// count
		{"three motors", with(motorWith(func(m *inventory.Motor) { m.Count = count(3) }), frameWith(nil)), compat.RuleCount,
			compat.Misfit, "frame f3 needs 4 motors, you have 3 of m1204: get 1 more"},
		{"four motors", with(motorWith(func(m *inventory.Motor) { m.Count = count(4) }), frameWith(nil)), compat.RuleCount,
			compat.Fits, ""},
		{"four motors for six rotors", with(motorWith(func(m *inventory.Motor) { m.Count = count(4) }),
			frameWith(func(f *inventory.Frame) { f.Rotors = count(6) })), compat.RuleCount, compat.Misfit, "frame f3 needs 6 motors, you have 4 of m1204: get 2 more"},
		{"two props", wide(propWith(func(p *inventory.Prop) { p.Count = count(2) }), frameWith(nil)), compat.RuleCount,
			compat.Misfit, "frame f3 needs 4 props, you have 2 of p3: get 2 more"},
		{"three cw and one ccw", wide(propWith(func(p *inventory.Prop) {
			p.Count, p.Directions = count(4), &inventory.Directions{Clockwise: 3, Counterclockwise: 1}
		}), frameWith(nil)), compat.RuleCount, compat.Misfit, "frame f3 needs 2 props of each direction, you " +
			"have 1 ccw of p3: get 1 more"},
		{"nine cw and eleven ccw", wide(propWith(func(p *inventory.Prop) {
			p.Count, p.Directions = count(20), &inventory.Directions{Clockwise: 9, Counterclockwise: 11}
		}), frameWith(nil)), compat.RuleCount, compat.Fits, ""},
		{"directions on three rotors", wide(propWith(func(p *inventory.Prop) {
			p.Count, p.Directions = count(3), &inventory.Directions{Clockwise: 3, Counterclockwise: 0}
		}), frameWith(func(f *inventory.Frame) { f.Rotors = count(3) })), compat.RuleCount, compat.Fits, ""},
		{"no pack left", inventory.Combination{Pack: packWith(func(p *inventory.Pack) { p.Count = count(0) })},
			compat.RuleCount, compat.Misfit, "no pack k2s left, get one"},
		{"no board left", inventory.Combination{Board: boardWith(func(b *inventory.Board) { b.Count = count(0) })},
			compat.RuleCount, compat.Misfit, "no board b14 left"},
		{"no frame left", inventory.Combination{Frame: frameWith(func(f *inventory.Frame) { f.Count = count(0) })},
			compat.RuleCount, compat.Misfit, "no frame f3 left"},
		{"no camera left", inventory.Combination{Extras: []*inventory.Extra{{Part: inventory.Part{ID: "eye",
			Count: count(0)}, Role: inventory.Camera}}}, compat.RuleCount, compat.Misfit, "no camera eye left"},

		// cells
		{"four cells on a board for two to three", feed(packWith(func(p *inventory.Pack) { p.ID, p.Cells = "k4s", 4 }),
			boardWith(nil)), compat.RuleCells, compat.Misfit, "board b14 takes 2 to 3 cells, pack k4s has 4: too " +
			"many cells burn parts the moment you plug in; use a pack of 2 to 3 cells"},
		{"one cell on a board for two to three", feed(packWith(func(p *inventory.Pack) { p.Cells = 1 }), boardWith(nil)),
			compat.RuleCells, compat.Misfit, "it may not start, or quit in flight; use a pack of 2 to 3 cells"},
		{"four cells on a motor for two to three", inventory.Combination{Motor: motorWith(nil),
			Pack: packWith(func(p *inventory.Pack) { p.Cells = 4 })}, compat.RuleCells, compat.Misfit, "motor m1204 takes 2 " +
			"to 3 cells, pack k2s has 4"},
		{"a motor without cells", inventory.Combination{Motor: motorWith(func(m *inventory.Motor) { m.Cells = nil }),
			Pack: packWith(nil)}, compat.RuleCells, compat.Unknown, "check the largest S of motor m1204 before " +
			"plugging in: cell rating missing; 6700 kV in this size usually flies on up to 3S, pack k2s has " +
			"2"},
		{"cells of a video transmitter", inventory.Combination{Pack: packWith(nil),
			Extras: []*inventory.Extra{{Part: inventory.Part{ID: "vtx"}, Role: inventory.Video,
				Cells: &inventory.CellRange{Min: 3,
					Max: 6}}}}, compat.RuleCells, compat.Misfit, "video vtx takes 3 to 6 cells, pack k2s has 2"},
		{"cells that suit", inventory.Combination{Motor: motorWith(nil), Pack: packWith(nil), Board: boardWith(nil)},
			compat.RuleCells, compat.Fits, ""},
		{"one cell only", feed(packWith(nil), boardWith(func(b *inventory.Board) {
			b.Cells = &inventory.CellRange{Min: 1,
				Max: 1}
		})), compat.RuleCells, compat.Misfit, "board b14 takes 1 cell, pack k2s has 2"},

		// holes
		{"9 mm on 12 mm", with(motorWith(nil),
			frameWith(func(f *inventory.Frame) { f.HolePatternMm = inventory.Lengths{12} })), compat.RuleHoles, compat.Misfit, "motor m1204 has a 9 mm hole pattern, frame f3 takes 12 mm: hole patterns differ; use a frame with 9 mm"},
		{"9 mm on 9 or 12 mm", with(motorWith(nil), frameWith(nil)), compat.RuleHoles, compat.Fits, ""},
		{"8.5 mm on 9 mm", with(motorWith(func(m *inventory.Motor) { m.HolePatternMm = inventory.Lengths{8.5} }),
			frameWith(func(f *inventory.Frame) { f.HolePatternMm = inventory.Lengths{9} })), compat.RuleHoles, compat.Misfit, "8.5 mm hole pattern, frame f3 takes 9 mm"},
		{"unknown holes of a 12 mm motor", with(motorWith(none), frameWith(nil)), compat.RuleHoles, compat.Unknown,
			"measure the holes of motor m1204 before building: not given (its size usually has 9 mm), frame f3 " +
				"takes 9 or 12 mm"},
		{"unknown holes of an 1104", with(motorWith(func(m *inventory.Motor) {
			m.HolePatternMm, m.StatorDiameterMm,
				m.StatorHeightMm = nil, 11, 4
		}), frameWith(nil)), compat.RuleHoles, compat.Unknown, "(its size usually has 8.5 or 9 mm)"},
		{"unknown holes of a 2207 motor, far from the frame's", with(motorWith(func(m *inventory.Motor) {
			m.HolePatternMm,
				m.StatorDiameterMm, m.StatorHeightMm = nil, 22, 7
		}), frameWith(nil)), compat.RuleHoles, compat.Misfit, "its size usually has 16 mm, frame f3 takes 9 or 12 mm: too far apart"},
		{"unknown holes of an 8 mm motor", with(motorWith(func(m *inventory.Motor) {
			m.HolePatternMm,
				m.StatorDiameterMm = nil, 8
		}), frameWith(nil)), compat.RuleHoles, compat.Unknown, "(its size usually has 6.6 mm)"},
		{"unknown holes of a 14 mm motor", with(motorWith(func(m *inventory.Motor) {
			m.HolePatternMm,
				m.StatorDiameterMm = nil, 14
		}), frameWith(nil)), compat.RuleHoles, compat.Unknown, "(its size usually has 9 or 12 mm)"},
		{"unknown holes of a frame", with(motorWith(nil), frameWith(func(f *inventory.Frame) { f.HolePatternMm = nil })),
			compat.RuleHoles, compat.Unknown, "measure the motor holes of frame f3 before building: not given, " +
				"motor m1204 has 9 mm"},
		{"unknown holes of both", with(motorWith(none), frameWith(func(f *inventory.Frame) { f.HolePatternMm = nil })),
			compat.RuleHoles, compat.Unknown, "of frame f3 before building: neither is given"},

		// prop mount
		{"5 mm bore on a 1.5 mm shaft with screws",
			spin(motorWith(nil), propWith(func(p *inventory.Prop) { p.BoreMm = num(5) })), compat.RulePropMount, compat.Remark, "prop p3 has a 5 mm bore, motor m1204 a 1.5 mm shaft: only " +
				"the two screws centre it"},
		{"1.5 mm bore on a 2 mm shaft", spin(motorWith(func(m *inventory.Motor) { m.ShaftMm = num(2) }), propWith(nil)),
			compat.RulePropMount, compat.Misfit, "prop p3 has a 1.5 mm bore, motor m1204 a 2 mm shaft: bore too small for the " +
				"shaft; use a prop with a 2 mm bore"},
		{"1 mm press bore on a 0.98 mm shaft", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount,
				m.ShaftMm = inventory.Press, num(0.98)
		}), propWith(func(p *inventory.Prop) { p.Mount, p.BoreMm = inventory.Press, num(1) })), compat.RulePropMount, compat.Fits, ""},
		{"1.5 mm press bore on a 1 mm shaft", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount,
				m.ShaftMm = inventory.Press, num(1)
		}), propWith(func(p *inventory.Prop) { p.Mount = inventory.Press })), compat.RulePropMount, compat.Misfit, "too loose for a press fit"},
		{"6 mm bore under a nut on 5 mm", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount, m.ShaftMm = inventory.Nut,
				num(5)
		}), propWith(func(p *inventory.Prop) { p.Mount, p.BoreMm = inventory.Nut, num(6) })), compat.RulePropMount, compat.Remark, "use a ring to centre it"},
		{"screws on a nut", spin(motorWith(func(m *inventory.Motor) { m.PropMount, m.ShaftMm = inventory.Nut, num(5) }),
			propWith(nil)), compat.RulePropMount, compat.Misfit, "prop p3 is held by screws on a 1.5 mm bore, motor m1204 by " +
			"nut on a 5 mm shaft: mounts differ; use a prop for nut"},
		{"same mount, same bore", spin(motorWith(nil), propWith(nil)), compat.RulePropMount, compat.Fits, ""},
		{"motor without mount", spin(motorWith(func(m *inventory.Motor) { m.PropMount = "" }), propWith(nil)),
			compat.RulePropMount, compat.Unknown, "try prop p3 (screws on a 1.5 mm bore) on motor m1204: its " +
				"mount is not given (usually screws)"},
		{"22 mm motor without mount", spin(motorWith(func(m *inventory.Motor) { m.PropMount, m.StatorDiameterMm = "", 22 }),
			propWith(nil)), compat.RulePropMount, compat.Unknown, "(usually nut)"},
		{"prop without mount", spin(motorWith(nil), propWith(func(p *inventory.Prop) { p.Mount = "" })),
			compat.RulePropMount, compat.Unknown, "try prop p3 on motor m1204"},
		{"neither has a mount", spin(motorWith(func(m *inventory.Motor) { m.PropMount, m.StatorDiameterMm = "", 8 }),
			propWith(func(p *inventory.Prop) {
				p.Mount, p.DiameterIn = "",
					1.2
			})), compat.RulePropMount, compat.Unknown, "try prop p3 (usually press) on motor m1204 (usually " +
			"press)"},
		{"neither has a mount, and a nut has no blades so small", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount, m.ShaftMm, m.StatorDiameterMm = "", nil, 22
		}), propWith(func(p *inventory.Prop) { p.Mount, p.DiameterIn = "", 3.2 })), compat.RulePropMount, compat.Misfit,
			"prop p3 (usually screws) and motor m1204 (usually nut): mounts not given"},
		{"so, but the bore fits the shaft", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount, m.StatorDiameterMm = "", 22
		}), propWith(func(p *inventory.Prop) { p.Mount, p.DiameterIn = "", 3.2 })), compat.RulePropMount, compat.Unknown,
			"mounts not given"},
		{"neither has a mount, on a size that has both", spin(motorWith(func(m *inventory.Motor) {
			m.PropMount, m.ShaftMm, m.StatorDiameterMm = "", nil, 20
		}), propWith(func(p *inventory.Prop) { p.Mount, p.BoreMm, p.DiameterIn = "", nil, 3.5 })), compat.RulePropMount, compat.Unknown,
			"mounts not given"},
		{"prop without bore", spin(motorWith(nil), propWith(func(p *inventory.Prop) { p.BoreMm = nil })),
			compat.RulePropMount, compat.Unknown, "try prop p3 on motor m1204 (1.5 mm shaft): bore not given"},
		{"motor without shaft", spin(motorWith(func(m *inventory.Motor) { m.ShaftMm = nil }), propWith(nil)),
			compat.RulePropMount, compat.Unknown, "try prop p3 (1.5 mm bore) on motor m1204: shaft not given"},

		// prop size
		{"3 inch in 3 inch", wide(propWith(nil), frameWith(nil)), compat.RulePropSize, compat.Fits, ""},
		{"76.2 mm in 3 inch", wide(propWith(func(p *inventory.Prop) { p.DiameterIn = 76.2 / 25.4 }), frameWith(nil)),
			compat.RulePropSize, compat.Fits, ""},
		{"81 mm in 3 inch", wide(propWith(func(p *inventory.Prop) { p.DiameterIn = 81 / 25.4 }), frameWith(nil)),
			compat.RulePropSize, compat.Misfit, "prop p3 is 3.19 in (81.0 mm) wide, frame f3 takes at most 3 in (76.2 mm): it " +
				"hits the frame"},
		{"77 mm in ducts for 3 inch", wide(propWith(func(p *inventory.Prop) { p.DiameterIn = 77 / 25.4 }),
			frameWith(func(f *inventory.Frame) { f.Ducted = true })),
			compat.RulePropSize, compat.Misfit, "the ducts of frame f3 3 in (76.2 mm): it hits the duct"},
		{"76 mm between motors 82 mm apart in ducts", wide(propWith(nil), frameWith(func(f *inventory.Frame) {
			f.Ducted, f.MaxPropIn, f.MotorSpacingMm = true, nil, num(82.2)
		})), compat.RulePropSize, compat.Misfit, "6 mm between the props leave no room for ducts, which need 8 mm"},
		{"narrower than the duct", wide(propWith(func(p *inventory.Prop) { p.DiameterIn = 2.9 }),
			frameWith(func(f *inventory.Frame) { f.Ducted = true })), compat.RulePropSize, compat.Fits, ""},
		{"as wide as motors are apart", wide(propWith(nil), frameWith(func(f *inventory.Frame) {
			f.MaxPropIn,
				f.MotorSpacingMm = nil, num(76.2)
		})), compat.RulePropSize, compat.Misfit, "the motors of frame f3 stand 76.2 mm apart: the blades hit each other"},
		{"2 mm between blades", wide(propWith(nil), frameWith(func(f *inventory.Frame) { f.MotorSpacingMm = num(78.2) })),
			compat.RulePropSize, compat.Remark, "2 mm are left for the arms to flex, 3 mm are better"},
		{"4 mm between blades", wide(propWith(nil), frameWith(func(f *inventory.Frame) { f.MotorSpacingMm = num(80.2) })),
			compat.RulePropSize, compat.Fits, ""},

		// stack
		{"25.5 mm on 20 mm", sit(boardWith(nil), frameWith(func(f *inventory.Frame) { f.StackMm = inventory.Lengths{20} })),
			compat.RuleStack, compat.Misfit, "board b14 has a 25.5 mm stack pattern, frame f3 takes 20 mm: hole " +
				"patterns differ; use an adapter"},
		{"25.5 mm on 20 mm with a plate",
			sit(boardWith(nil), frameWith(func(f *inventory.Frame) { f.StackMm = inventory.Lengths{20} }),
				plate(25.5, 20)), compat.RuleStack, compat.Remark, "adapter plate joins them"},
		{"25.5 mm on 20 mm with the plate turned over", sit(boardWith(nil),
			frameWith(func(f *inventory.Frame) { f.StackMm = inventory.Lengths{20} }), plate(20,
				25.5)), compat.RuleStack, compat.Remark, "adapter plate joins them"},
		{"25.5 mm on 30.5 mm with a plate for 20",
			sit(boardWith(nil), frameWith(func(f *inventory.Frame) { f.StackMm = inventory.Lengths{30.5} }),
				plate(25.5, 20)), compat.RuleStack, compat.Misfit, "frame f3 takes 30.5 mm"},
		{"25.5 mm on 20 and 25.5 mm",
			sit(boardWith(nil), frameWith(func(f *inventory.Frame) {
				f.StackMm = inventory.Lengths{20,
					25.5}
			})), compat.RuleStack, compat.Fits, ""},
		{"board without pattern", sit(boardWith(func(b *inventory.Board) { b.StackMm = nil }), frameWith(nil)),
			compat.RuleStack, compat.Unknown, "measure the stack holes of board b14 before building: not given, " +
				"frame f3 takes 25.5 mm"},
		{"frame without pattern", sit(boardWith(nil), frameWith(func(f *inventory.Frame) { f.StackMm = nil })),
			compat.RuleStack, compat.Unknown, "measure the stack holes of frame f3 before building: not given, " +
				"board b14 has 25.5 mm"},
		{"neither has a pattern", sit(boardWith(func(b *inventory.Board) { b.StackMm = nil }),
			frameWith(func(f *inventory.Frame) { f.StackMm = nil })), compat.RuleStack, compat.Unknown, "before building: neither is given"},

		// camera
		{"21 mm camera in 19 mm", inventory.Combination{Frame: frameWith(nil), Extras: cameraOf(num(21))}, compat.RuleCamera,
			compat.Misfit, "camera eye is 21 mm wide, frame f3 takes 19 mm: too wide; use a camera of at most 19 mm"},
		{"19 mm camera in 19 mm", inventory.Combination{Frame: frameWith(nil), Extras: cameraOf(num(19))}, compat.RuleCamera,
			compat.Fits, ""},
		{"camera of unknown width", inventory.Combination{Frame: frameWith(nil), Extras: cameraOf(nil)}, compat.RuleCamera,
			compat.Unknown, "measure camera eye before building: width not given, frame f3 takes 19 mm"},
		{"frame of unknown width",
			inventory.Combination{Frame: frameWith(func(f *inventory.Frame) { f.CameraWidthMm = nil }),
				Extras: cameraOf(num(19))}, compat.RuleCamera, compat.Unknown, "of frame f3"},
		{"both unknown", inventory.Combination{Frame: frameWith(func(f *inventory.Frame) { f.CameraWidthMm = nil }),
			Extras: cameraOf(nil)}, compat.RuleCamera, compat.Unknown, "neither is given"},
		{"a wide antenna is no camera", inventory.Combination{Frame: frameWith(nil),
			Extras: []*inventory.Extra{{Part: inventory.Part{ID: "a"}, Role: inventory.Antenna,
				WidthMm: num(40)}}}, compat.RuleCamera, compat.Fits, ""},

		// connector
		{"same plug", feed(packWith(nil), boardWith(nil)), compat.RuleConnector, compat.Fits, ""},
		{"other plug", feed(packWith(nil), boardWith(func(b *inventory.Board) { b.Connector = "XT60" })),
			compat.RuleConnector, compat.Remark, "pack k2s has XT30, board b14 has XT60: use an adapter lead, or " +
				"solder the pack's kind of plug to the board"},
		{"other plug with a lead", feed(packWith(nil), boardWith(func(b *inventory.Board) { b.Connector = "XT60" }),
			lead("XT30", "XT60")), compat.RuleConnector, compat.Remark, "adapter lead joins them, the weaker plug counts"},
		{"unknown type", feed(packWith(func(p *inventory.Pack) { p.Connector = "blue\x1bone" }),
			boardWith(func(b *inventory.Board) { b.Connector = "blue\x1bone" })), compat.RuleConnector, compat.Remark, `pack k2s and board b14 have "blue\x1bone": no rating known`},
		{"pack without plug", feed(packWith(func(p *inventory.Pack) { p.Connector = "" }), boardWith(nil)),
			compat.RuleConnector, compat.Unknown, "check the plug of pack k2s before building: not given, board " +
				"b14 has XT30"},
		{"board without plug", feed(packWith(nil), boardWith(func(b *inventory.Board) { b.Connector = "" })),
			compat.RuleConnector, compat.Unknown, "check the plug of board b14 before building: not given, pack " +
				"k2s has XT30"},
		{"neither names its plug", feed(packWith(func(p *inventory.Pack) { p.Connector = "" }),
			boardWith(func(b *inventory.Board) { b.Connector = "" })), compat.RuleConnector, compat.Unknown, "check the plugs of pack k2s and board b14"},
		// A 14 A board on two cells needs no capacitor: nothing is said of one.
		{"14 A board on 2S without a capacitor", feed(packWith(nil), boardWith(nil)), compat.RuleConnector, compat.Fits, ""},

		// bay
		{"a pack that fits", inventory.Combination{Pack: packWith(nil), Frame: frameWith(nil)}, compat.RuleBay, compat.Fits,
			""},
		{"a pack on its side", inventory.Combination{Pack: packWith(func(p *inventory.Pack) {
			p.SizeMm = &[3]float64{60, 20,
				30}
		}), Frame: frameWith(nil)}, compat.RuleBay, compat.Fits, ""},
		{"a pack too long", inventory.Combination{Pack: packWith(func(p *inventory.Pack) {
			p.SizeMm = &[3]float64{74, 35,
				25}
		}), Frame: frameWith(nil)}, compat.RuleBay, compat.Remark, "pack k2s is 74 x 35 x 25 mm, frame f3 takes 70 x 36 x " +
			"25 mm: it overhangs"},
		{"a pack of unknown size", inventory.Combination{Pack: packWith(func(p *inventory.Pack) { p.SizeMm = nil }),
			Frame: frameWith(nil)}, compat.RuleBay, compat.Unknown, "check that pack k2s fits frame f3, which " +
			"takes 70 x 36 x 25 mm: pack size not given"},
		{"a bay of unknown size", inventory.Combination{Pack: packWith(nil),
			Frame: frameWith(func(f *inventory.Frame) { f.PackMaxMm = nil })}, compat.RuleBay, compat.Unknown, "check that pack k2s (56 x 18 x 15 mm) fits frame f3"},
		{"both sizes unknown", inventory.Combination{Pack: packWith(func(p *inventory.Pack) { p.SizeMm = nil }),
			Frame: frameWith(func(f *inventory.Frame) { f.PackMaxMm = nil })}, compat.RuleBay, compat.Unknown, "check that pack k2s fits frame f3: sizes not given"},
	}
}

func TestFitRules(t *testing.T) {
	seen := map[compat.Rule]map[compat.Severity]bool{}
	for _, c := range append(fitCases(), wearCases()...) {
		t.Run(c.name, func(t *testing.T) {
			checkFindings(t, &c.c)
			var got []compat.Finding
			for _, f := range compat.Findings(&c.c) {
				if f.Rule == c.rule {
					got = append(got, f)
				}
			}
			if c.severity == compat.Fits {
				if len(got) != 0 {
					t.Errorf("got %v, want nothing", got)
				}
			} else if len(got) != 1 || got[0].Severity != c.severity || !strings.Contains(Finding(&got[0]), c.want) {
				t.Errorf("got %v, want one %v with %q", got, c.severity, c.want)
			}
			if misfit := c.severity == compat.Misfit; misfit != (compat.FirstFault(&c.c) == c.rule) {
				t.Errorf("first fault is %v", compat.FirstFault(&c.c))
			}
		})
		if seen[c.rule] == nil {
			seen[c.rule] = map[compat.Severity]bool{}
		}
		seen[c.rule][c.severity] = true
	}
	for r := compat.RuleCount; r < compat.RuleEnd; r++ {
		if !seen[r][compat.Fits] || len(seen[r]) < 2 {
			t.Errorf("rule %v is not tried both ways: %v", r, seen[r])
		}
	}
}

// TestFirstFaultOrder: a combination that breaks every rule is counted under the first, and under
// the next one when that is mended.
func TestFirstFaultOrder(t *testing.T) {
	c := inventory.Combination{
		Motor: motorWith(func(m *inventory.Motor) { m.Count, m.ShaftMm = count(1), num(2) }),
		Prop:  propWith(func(p *inventory.Prop) { p.DiameterIn = 4 }),
		Pack:  packWith(func(p *inventory.Pack) { p.Cells, p.Note = 6, "puffed" }),
		Frame: frameWith(func(f *inventory.Frame) {
			f.HolePatternMm, f.StackMm, f.CameraWidthMm = inventory.Lengths{16}, inventory.Lengths{30.5}, num(14)
		}),
		Board:  boardWith(nil),
		Extras: cameraOf(num(19)),
	}
	for _, step := range []struct {
		want compat.Rule
		mend func()
	}{
		{compat.RuleCount, func() { c.Motor.Count = count(4) }},
		{compat.RuleWear, func() { c.Pack.Note = "" }},
		{compat.RuleCells, func() { c.Pack.Cells = 2 }},
		{compat.RuleHoles, func() { c.Frame.HolePatternMm = inventory.Lengths{9} }},
		{compat.RulePropMount, func() { c.Motor.ShaftMm = num(1.5) }},
		{compat.RulePropSize, func() { c.Prop.DiameterIn = 3 }},
		{compat.RuleStack, func() { c.Frame.StackMm = inventory.Lengths{25.5} }},
		{compat.RuleCamera, func() { c.Frame.CameraWidthMm = num(19) }},
		{compat.NoRule, func() {}},
	} {
		if got := compat.FirstFault(&c); got != step.want {
			t.Fatalf("first fault is %v, want %v", got, step.want)
		}
		checkFindings(t, &c)
		step.mend()
	}
}
