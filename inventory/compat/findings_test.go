package compat

import (
	"strings"
	"testing"
)

func num(x float64) *float64 { return &x }

// fitCase is a combination of a few parts with what the rules say of it: severity and a piece of
// the sentence, "" for nothing at all.
type fitCase struct {
	name     string
	c        Combination
	rule     Rule
	severity Severity
	want     string
}

func motorWith(change func(*Motor)) *Motor {
	m := &Motor{Part: Part{ID: "m1204"}, Stator: "1204", StatorDiameterMm: 12, StatorHeightMm: 4, KV: 6700, HolePatternMm: Lengths{9}, PropMount: Screws, ShaftMm: num(1.5), Cells: &CellRange{2, 3}}
	if change != nil {
		change(m)
	}
	return m
}

func propWith(change func(*Prop)) *Prop {
	p := &Prop{Part: Part{ID: "p3"}, DiameterIn: 3, PitchIn: 2.3, Blades: 3, Mount: Screws, BoreMm: num(1.5)}
	if change != nil {
		change(p)
	}
	return p
}

func packWith(change func(*Pack)) *Pack {
	p := &Pack{Part: Part{ID: "k2s"}, Cells: 2, CapacityMAh: 560, DischargeC: 70, Chemistry: LiPo, Connector: "XT30", SizeMm: &[3]float64{56, 18, 15}}
	if change != nil {
		change(p)
	}
	return p
}

func frameWith(change func(*Frame)) *Frame {
	f := &Frame{Part: Part{ID: "f3"}, MassG: 20, MaxPropIn: num(3), HolePatternMm: Lengths{9, 12}, StackMm: Lengths{25.5}, CameraWidthMm: num(19), PackMaxMm: &[3]float64{70, 36, 25}}
	if change != nil {
		change(f)
	}
	return f
}

func boardWith(change func(*Board)) *Board {
	b := &Board{Part: Part{ID: "b14"}, EscCurrentA: 14, Cells: &CellRange{2, 3}, StackMm: Lengths{25.5}, Connector: "XT30"}
	if change != nil {
		change(b)
	}
	return b
}

func cameraOf(widthMm *float64) []*Extra {
	return []*Extra{{Part: Part{ID: "eye"}, Role: Camera, MassG: 2, WidthMm: widthMm}}
}

func plate(from, to float64) *Extra {
	return &Extra{Part: Part{ID: "plate"}, Role: Adapter, MassG: 1.9, Bridges: &Bridge{What: "stack_mm", From: number(from), To: number(to), FromMm: from, ToMm: to}}
}

func lead(from, to Plug) *Extra {
	return &Extra{Part: Part{ID: "lead"}, Role: Adapter, MassG: 3, Bridges: &Bridge{What: "connector", From: string(from), To: string(to)}}
}

func count(n int) *int { return &n }

// Common practice, no source: the rules of fit as pilots state them.
func fitCases() []fitCase {
	with := func(m *Motor, f *Frame) Combination { return Combination{Motor: m, Frame: f} }
	spin := func(m *Motor, p *Prop) Combination { return Combination{Motor: m, Prop: p} }
	wide := func(p *Prop, f *Frame) Combination { return Combination{Prop: p, Frame: f} }
	sit := func(b *Board, f *Frame, e ...*Extra) Combination { return Combination{Board: b, Frame: f, Extras: e} }
	feed := func(k *Pack, b *Board, e ...*Extra) Combination { return Combination{Pack: k, Board: b, Extras: e} }
	none := func(m *Motor) { m.HolePatternMm = nil }
	return []fitCase{
		// count
		{"three motors", with(motorWith(func(m *Motor) { m.Count = count(3) }), frameWith(nil)), RuleCount, Misfit, "frame f3 takes 4 motors, of m1204 there are 3: 1 more mends it"},
		{"four motors", with(motorWith(func(m *Motor) { m.Count = count(4) }), frameWith(nil)), RuleCount, Fits, ""},
		{"four motors for six rotors", with(motorWith(func(m *Motor) { m.Count = count(4) }), frameWith(func(f *Frame) { f.Rotors = count(6) })), RuleCount, Misfit, "frame f3 takes 6 motors, of m1204 there are 4: 2 more mend it"},
		{"two props", wide(propWith(func(p *Prop) { p.Count = count(2) }), frameWith(nil)), RuleCount, Misfit, "frame f3 takes 4 props, of p3 there are 2: 2 more mend it"},
		{"three cw and one ccw", wide(propWith(func(p *Prop) { p.Count, p.Directions = count(4), &Directions{3, 1} }), frameWith(nil)), RuleCount, Misfit, "frame f3 takes 2 props of each direction, of p3 there are 1 ccw: 1 more mends it"},
		{"nine cw and eleven ccw", wide(propWith(func(p *Prop) { p.Count, p.Directions = count(20), &Directions{9, 11} }), frameWith(nil)), RuleCount, Fits, ""},
		{"directions on three rotors", wide(propWith(func(p *Prop) { p.Count, p.Directions = count(3), &Directions{3, 0} }), frameWith(func(f *Frame) { f.Rotors = count(3) })), RuleCount, Fits, ""},
		{"no pack left", Combination{Pack: packWith(func(p *Pack) { p.Count = count(0) })}, RuleCount, Misfit, "of pack k2s there are 0, a craft takes 1"},
		{"no board left", Combination{Board: boardWith(func(b *Board) { b.Count = count(0) })}, RuleCount, Misfit, "of board b14 there are 0"},
		{"no frame left", Combination{Frame: frameWith(func(f *Frame) { f.Count = count(0) })}, RuleCount, Misfit, "of frame f3 there are 0"},
		{"no camera left", Combination{Extras: []*Extra{{Part: Part{ID: "eye", Count: count(0)}, Role: Camera}}}, RuleCount, Misfit, "of camera eye there are 0"},

		// cells
		{"four cells on a board for two to three", feed(packWith(func(p *Pack) { p.ID, p.Cells = "k4s", 4 }), boardWith(nil)), RuleCells, Misfit, "board b14 takes 2 to 3 cells, pack k4s has 4: too many cells burn parts the moment they are plugged in; take a pack of 2 to 3 cells"},
		{"one cell on a board for two to three", feed(packWith(func(p *Pack) { p.Cells = 1 }), boardWith(nil)), RuleCells, Misfit, "with too few cells it may not start, or give up in flight and burn parts"},
		{"four cells on a motor for two to three", Combination{Motor: motorWith(nil), Pack: packWith(func(p *Pack) { p.Cells = 4 })}, RuleCells, Misfit, "motor m1204 takes 2 to 3 cells, pack k2s has 4"},
		{"a motor without cells", Combination{Motor: motorWith(func(m *Motor) { m.Cells = nil }), Pack: packWith(nil)}, RuleCells, Unknown, "motor m1204 does not say its cells, pack k2s has 2: 6700 rpm/V times 8.4 V is 56280 rpm without load"},
		{"cells of a video transmitter", Combination{Pack: packWith(nil), Extras: []*Extra{{Part: Part{ID: "vtx"}, Role: Video, Cells: &CellRange{3, 6}}}}, RuleCells, Misfit, "video vtx takes 3 to 6 cells, pack k2s has 2"},
		{"cells that suit", Combination{Motor: motorWith(nil), Pack: packWith(nil), Board: boardWith(nil)}, RuleCells, Fits, ""},
		{"one cell only", feed(packWith(nil), boardWith(func(b *Board) { b.Cells = &CellRange{1, 1} })), RuleCells, Misfit, "board b14 takes 1 cell, pack k2s has 2"},

		// holes
		{"9 mm on 12 mm", with(motorWith(nil), frameWith(func(f *Frame) { f.HolePatternMm = Lengths{12} })), RuleHoles, Misfit, "motor m1204 has a 9 mm hole pattern, frame f3 takes 12 mm: they do not bolt together; a frame with 9 mm mends it"},
		{"9 mm on 9 or 12 mm", with(motorWith(nil), frameWith(nil)), RuleHoles, Fits, ""},
		{"8.5 mm on 9 mm", with(motorWith(func(m *Motor) { m.HolePatternMm = Lengths{8.5} }), frameWith(func(f *Frame) { f.HolePatternMm = Lengths{9} })), RuleHoles, Misfit, "8.5 mm hole pattern, frame f3 takes 9 mm"},
		{"unknown holes of a 12 mm motor", with(motorWith(none), frameWith(nil)), RuleHoles, Unknown, "motor m1204 gives no hole pattern (its size mostly has 9 mm), frame f3 takes 9 or 12 mm: measure before building"},
		{"unknown holes of an 1104", with(motorWith(func(m *Motor) { m.HolePatternMm, m.StatorDiameterMm, m.StatorHeightMm = nil, 11, 4 }), frameWith(nil)), RuleHoles, Unknown, "(its size mostly has 8.5 or 9 mm)"},
		{"unknown holes of a 22 mm motor", with(motorWith(func(m *Motor) { m.HolePatternMm, m.StatorDiameterMm = nil, 22 }), frameWith(nil)), RuleHoles, Unknown, "(its size mostly has 16 mm)"},
		{"unknown holes of an 8 mm motor", with(motorWith(func(m *Motor) { m.HolePatternMm, m.StatorDiameterMm = nil, 8 }), frameWith(nil)), RuleHoles, Unknown, "(its size mostly has 6.6 mm)"},
		{"unknown holes of a 14 mm motor", with(motorWith(func(m *Motor) { m.HolePatternMm, m.StatorDiameterMm = nil, 14 }), frameWith(nil)), RuleHoles, Unknown, "(its size mostly has 9 or 12 mm)"},
		{"unknown holes of a frame", with(motorWith(nil), frameWith(func(f *Frame) { f.HolePatternMm = nil })), RuleHoles, Unknown, "motor m1204 has a 9 mm hole pattern, frame f3 gives none"},
		{"unknown holes of both", with(motorWith(none), frameWith(func(f *Frame) { f.HolePatternMm = nil })), RuleHoles, Unknown, "frame f3 gives none either"},

		// prop mount
		{"5 mm bore on a 1.5 mm shaft with screws", spin(motorWith(nil), propWith(func(p *Prop) { p.BoreMm = num(5) })), RulePropMount, Remark, "prop p3 has a 5 mm bore, motor m1204 a 1.5 mm shaft: the two screws alone keep it in the middle"},
		{"1.5 mm bore on a 2 mm shaft", spin(motorWith(func(m *Motor) { m.ShaftMm = num(2) }), propWith(nil)), RulePropMount, Misfit, "prop p3 has a 1.5 mm bore, motor m1204 a 2 mm shaft: it does not go on; a prop with a 2 mm bore mends it"},
		{"1 mm press bore on a 0.98 mm shaft", spin(motorWith(func(m *Motor) { m.PropMount, m.ShaftMm = Press, num(0.98) }), propWith(func(p *Prop) { p.Mount, p.BoreMm = Press, num(1) })), RulePropMount, Fits, ""},
		{"1.5 mm press bore on a 1 mm shaft", spin(motorWith(func(m *Motor) { m.PropMount, m.ShaftMm = Press, num(1) }), propWith(func(p *Prop) { p.Mount = Press })), RulePropMount, Misfit, "a press fit does not hold"},
		{"6 mm bore under a nut on 5 mm", spin(motorWith(func(m *Motor) { m.PropMount, m.ShaftMm = Nut, num(5) }), propWith(func(p *Prop) { p.Mount, p.BoreMm = Nut, num(6) })), RulePropMount, Remark, "it needs a ring to sit in the middle"},
		{"screws on a nut", spin(motorWith(func(m *Motor) { m.PropMount, m.ShaftMm = Nut, num(5) }), propWith(nil)), RulePropMount, Misfit, "prop p3 is held by screws on a 1.5 mm bore, motor m1204 by nut on a 5 mm shaft: it cannot be fastened; a prop for nut mends it"},
		{"same mount, same bore", spin(motorWith(nil), propWith(nil)), RulePropMount, Fits, ""},
		{"motor without mount", spin(motorWith(func(m *Motor) { m.PropMount = "" }), propWith(nil)), RulePropMount, Unknown, "motor m1204 does not say (its size mostly has screws): try one on"},
		{"22 mm motor without mount", spin(motorWith(func(m *Motor) { m.PropMount, m.StatorDiameterMm = "", 22 }), propWith(nil)), RulePropMount, Unknown, "(its size mostly has nut)"},
		{"prop without mount", spin(motorWith(nil), propWith(func(p *Prop) { p.Mount = "" })), RulePropMount, Unknown, "prop p3 does not say how it is held (its size mostly has screws)"},
		{"neither has a mount", spin(motorWith(func(m *Motor) { m.PropMount, m.StatorDiameterMm = "", 8 }), propWith(func(p *Prop) { p.Mount, p.DiameterIn = "", 1.2 })), RulePropMount, Unknown, "prop p3 (its size mostly has press) and motor m1204 (mostly press)"},
		{"prop without bore", spin(motorWith(nil), propWith(func(p *Prop) { p.BoreMm = nil })), RulePropMount, Unknown, "prop p3 gives no bore, motor m1204 has a 1.5 mm shaft"},
		{"motor without shaft", spin(motorWith(func(m *Motor) { m.ShaftMm = nil }), propWith(nil)), RulePropMount, Unknown, "prop p3 has a 1.5 mm bore, motor m1204 gives no shaft"},

		// prop size
		{"3 inch in 3 inch", wide(propWith(nil), frameWith(nil)), RulePropSize, Fits, ""},
		{"76.2 mm in 3 inch", wide(propWith(func(p *Prop) { p.DiameterIn = 76.2 / 25.4 }), frameWith(nil)), RulePropSize, Fits, ""},
		{"77 mm in 3 inch", wide(propWith(func(p *Prop) { p.DiameterIn = 77 / 25.4 }), frameWith(nil)), RulePropSize, Misfit, "prop p3 is 3.03 in (77.0 mm) wide, frame f3 takes at most 3 in (76.2 mm): it strikes the frame"},
		{"as wide as the duct", wide(propWith(nil), frameWith(func(f *Frame) { f.Ducted = true })), RulePropSize, Misfit, "the ducts of frame f3 3 in (76.2 mm): it strikes the duct"},
		{"narrower than the duct", wide(propWith(func(p *Prop) { p.DiameterIn = 2.9 }), frameWith(func(f *Frame) { f.Ducted = true })), RulePropSize, Fits, ""},
		{"as wide as motors are apart", wide(propWith(nil), frameWith(func(f *Frame) { f.MaxPropIn, f.MotorSpacingMm = nil, num(76.2) })), RulePropSize, Misfit, "the motors of frame f3 stand 76.2 mm apart: the blades strike each other"},
		{"2 mm between blades", wide(propWith(nil), frameWith(func(f *Frame) { f.MotorSpacingMm = num(78.2) })), RulePropSize, Remark, "2 mm are left for the arms to flex, 3 are better"},
		{"4 mm between blades", wide(propWith(nil), frameWith(func(f *Frame) { f.MotorSpacingMm = num(80.2) })), RulePropSize, Fits, ""},

		// stack
		{"25.5 mm on 20 mm", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = Lengths{20} })), RuleStack, Misfit, "board b14 has a 25.5 mm stack pattern, frame f3 takes 20 mm: they do not bolt together; an adapter that joins the two mends it"},
		{"25.5 mm on 20 mm with a plate", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = Lengths{20} }), plate(25.5, 20)), RuleStack, Remark, "adapter plate joins them"},
		{"25.5 mm on 20 mm with the plate turned over", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = Lengths{20} }), plate(20, 25.5)), RuleStack, Remark, "adapter plate joins them"},
		{"25.5 mm on 30.5 mm with a plate for 20", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = Lengths{30.5} }), plate(25.5, 20)), RuleStack, Misfit, "frame f3 takes 30.5 mm"},
		{"25.5 mm on 20 and 25.5 mm", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = Lengths{20, 25.5} })), RuleStack, Fits, ""},
		{"board without pattern", sit(boardWith(func(b *Board) { b.StackMm = nil }), frameWith(nil)), RuleStack, Unknown, "board b14 gives no stack pattern, frame f3 takes 25.5 mm"},
		{"frame without pattern", sit(boardWith(nil), frameWith(func(f *Frame) { f.StackMm = nil })), RuleStack, Unknown, "board b14 has a 25.5 mm stack pattern, frame f3 gives none"},
		{"neither has a pattern", sit(boardWith(func(b *Board) { b.StackMm = nil }), frameWith(func(f *Frame) { f.StackMm = nil })), RuleStack, Unknown, "measure both"},

		// camera
		{"21 mm camera in 19 mm", Combination{Frame: frameWith(nil), Extras: cameraOf(num(21))}, RuleCamera, Misfit, "camera eye is 21 mm wide, frame f3 takes 19 mm: it does not go in; a camera of at most 19 mm mends it"},
		{"19 mm camera in 19 mm", Combination{Frame: frameWith(nil), Extras: cameraOf(num(19))}, RuleCamera, Fits, ""},
		{"camera of unknown width", Combination{Frame: frameWith(nil), Extras: cameraOf(nil)}, RuleCamera, Unknown, "camera eye does not say how wide it is, frame f3 takes 19 mm"},
		{"frame of unknown width", Combination{Frame: frameWith(func(f *Frame) { f.CameraWidthMm = nil }), Extras: cameraOf(num(19))}, RuleCamera, Unknown, "frame f3 does not say what it takes"},
		{"both unknown", Combination{Frame: frameWith(func(f *Frame) { f.CameraWidthMm = nil }), Extras: cameraOf(nil)}, RuleCamera, Unknown, "do not say how wide"},
		{"a wide antenna is no camera", Combination{Frame: frameWith(nil), Extras: []*Extra{{Part: Part{ID: "a"}, Role: Antenna, WidthMm: num(40)}}}, RuleCamera, Fits, ""},

		// connector
		{"same plug", feed(packWith(nil), boardWith(nil)), RuleConnector, Fits, ""},
		{"other plug", feed(packWith(nil), boardWith(func(b *Board) { b.Connector = "XT60" })), RuleConnector, Remark, "pack k2s has XT30, board b14 has XT60: use an adapter lead, or solder the board's plug to the pack's kind"},
		{"other plug with a lead", feed(packWith(nil), boardWith(func(b *Board) { b.Connector = "XT60" }), lead("XT30", "XT60")), RuleConnector, Remark, "adapter lead joins them, the weaker plug counts"},
		{"unknown type", feed(packWith(func(p *Pack) { p.Connector = "blue\x1bone" }), boardWith(func(b *Board) { b.Connector = "blue\x1bone" })), RuleConnector, Remark, `pack k2s and board b14 have "blue\x1bone": no rating is known`},
		{"pack without plug", feed(packWith(func(p *Pack) { p.Connector = "" }), boardWith(nil)), RuleConnector, Unknown, "pack k2s does not name its plug, board b14 has XT30"},
		{"board without plug", feed(packWith(nil), boardWith(func(b *Board) { b.Connector = "" })), RuleConnector, Unknown, "pack k2s has XT30, board b14 does not name its plug"},
		{"neither names its plug", feed(packWith(func(p *Pack) { p.Connector = "" }), boardWith(func(b *Board) { b.Connector = "" })), RuleConnector, Unknown, "do not name their plugs"},
		// A 14 A board on two cells needs no capacitor: nothing is said of one.
		{"14 A board on 2S without a capacitor", feed(packWith(nil), boardWith(nil)), RuleConnector, Fits, ""},

		// bay
		{"a pack that fits", Combination{Pack: packWith(nil), Frame: frameWith(nil)}, RuleBay, Fits, ""},
		{"a pack on its side", Combination{Pack: packWith(func(p *Pack) { p.SizeMm = &[3]float64{60, 20, 30} }), Frame: frameWith(nil)}, RuleBay, Fits, ""},
		{"a pack too long", Combination{Pack: packWith(func(p *Pack) { p.SizeMm = &[3]float64{74, 35, 25} }), Frame: frameWith(nil)}, RuleBay, Remark, "pack k2s is 74 x 35 x 25 mm, frame f3 takes 70 x 36 x 25 mm: it sticks out"},
		{"a pack of unknown size", Combination{Pack: packWith(func(p *Pack) { p.SizeMm = nil }), Frame: frameWith(nil)}, RuleBay, Unknown, "pack k2s does not say its size, frame f3 takes 70 x 36 x 25 mm"},
		{"a bay of unknown size", Combination{Pack: packWith(nil), Frame: frameWith(func(f *Frame) { f.PackMaxMm = nil })}, RuleBay, Unknown, "pack k2s is 56 x 18 x 15 mm, frame f3 does not say what it takes"},
		{"both sizes unknown", Combination{Pack: packWith(func(p *Pack) { p.SizeMm = nil }), Frame: frameWith(func(f *Frame) { f.PackMaxMm = nil })}, RuleBay, Unknown, "do not say their pack sizes"},
	}
}

func TestFitRules(t *testing.T) {
	seen := map[Rule]map[Severity]bool{}
	for _, c := range append(fitCases(), wearCases()...) {
		t.Run(c.name, func(t *testing.T) {
			checkFindings(t, &c.c)
			var got []Finding
			for _, f := range c.c.Findings() {
				if f.Rule == c.rule {
					got = append(got, f)
				}
			}
			if c.severity == Fits {
				if len(got) != 0 {
					t.Errorf("got %v, want nothing", got)
				}
			} else if len(got) != 1 || got[0].Severity != c.severity || !strings.Contains(got[0].Text, c.want) {
				t.Errorf("got %v, want one %v with %q", got, c.severity, c.want)
			}
			if misfit := c.severity == Misfit; misfit != (c.c.FirstFault() == c.rule) {
				t.Errorf("first fault is %v", c.c.FirstFault())
			}
		})
		if seen[c.rule] == nil {
			seen[c.rule] = map[Severity]bool{}
		}
		seen[c.rule][c.severity] = true
	}
	for r := RuleCount; r < RuleEnd; r++ {
		if !seen[r][Fits] || len(seen[r]) < 2 {
			t.Errorf("rule %v is not tried both ways: %v", r, seen[r])
		}
	}
}

// TestFirstFaultOrder: a combination that breaks every rule is counted under the first, and under
// the next one when that is mended.
func TestFirstFaultOrder(t *testing.T) {
	c := Combination{
		Motor:  motorWith(func(m *Motor) { m.Count, m.ShaftMm = count(1), num(2) }),
		Prop:   propWith(func(p *Prop) { p.DiameterIn = 4 }),
		Pack:   packWith(func(p *Pack) { p.Cells, p.Note = 6, "puffed" }),
		Frame:  frameWith(func(f *Frame) { f.HolePatternMm, f.StackMm, f.CameraWidthMm = Lengths{16}, Lengths{30.5}, num(14) }),
		Board:  boardWith(nil),
		Extras: cameraOf(num(19)),
	}
	for _, step := range []struct {
		want Rule
		mend func()
	}{
		{RuleCount, func() { c.Motor.Count = count(4) }},
		{RuleWear, func() { c.Pack.Note = "" }},
		{RuleCells, func() { c.Pack.Cells = 2 }},
		{RuleHoles, func() { c.Frame.HolePatternMm = Lengths{9} }},
		{RulePropMount, func() { c.Motor.ShaftMm = num(1.5) }},
		{RulePropSize, func() { c.Prop.DiameterIn = 3 }},
		{RuleStack, func() { c.Frame.StackMm = Lengths{25.5} }},
		{RuleCamera, func() { c.Frame.CameraWidthMm = num(19) }},
		{NoRule, func() {}},
	} {
		if got := c.FirstFault(); got != step.want {
			t.Fatalf("first fault is %v, want %v", got, step.want)
		}
		checkFindings(t, &c)
		step.mend()
	}
}

func TestBridges(t *testing.T) {
	d := mustRead(t, smallCraft+`
  - {id: plate-heavy, role: adapter, mass_g: 3, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: plate-b, role: adapter, mass_g: 1.9, bridges: {what: stack_mm, from: 20, to: 25.5}}
  - {id: plate-a, role: adapter, mass_g: 1.9, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: plate-used-up, count: 0, role: adapter, mass_g: 1, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: lead, role: adapter, mass_g: 5, bridges: {what: connector, from: xt-60, to: XT 30}}
`)
	c := whole(d)
	names := func() string {
		adapters, ok := d.Bridges(&c)
		var list []string
		for _, e := range adapters {
			list = append(list, e.ID)
		}
		if !ok {
			list = append(list, "and no way")
		}
		return strings.Join(list, " ")
	}
	if got := names(); got != "" {
		t.Errorf("what fits needs no %s", got)
	}
	frame, pack := *c.Frame, *c.Pack
	frame.StackMm, pack.Connector = Lengths{20}, "XT60"
	c.Frame, c.Pack = &frame, &pack
	if got := names(); got != "plate-a lead" {
		t.Errorf("bridges are %q, want the lightest plate, first by id, and the lead", got)
	}
	c.Extras = append(c.Extras, d.Extra("plate-heavy"))
	if got := names(); got != "lead" {
		t.Errorf("with a plate on board bridges are %q", got)
	}
	frame.StackMm = Lengths{30.5}
	if got := names(); got != "lead and no way" {
		t.Errorf("for 30.5 mm bridges are %q", got)
	}
	pack.Connector = "PH 2.0"
	frame.StackMm = Lengths{25.5}
	if got := names(); got != "" {
		t.Errorf("plugs without a lead are soldered, got %q", got)
	}
}
