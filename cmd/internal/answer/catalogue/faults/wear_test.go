package faults

import (
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
)

func TestBridges(t *testing.T) {
	d := mustRead(t, smallCraft+`
  - {id: plate-heavy, role: adapter, mass_g: 3, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: plate-b, role: adapter, mass_g: 1.9, bridges: {what: stack_mm, from: 20, to: 25.5}}
  - {id: plate-a, role: adapter, mass_g: 1.9, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: plate-used-up, count: 0, role: adapter, mass_g: 1, bridges: {what: stack_mm, from: 25.5, to: 20}}
  - {id: lead, role: adapter, mass_g: 5, bridges: {what: connector, from: xt-60, to: XT 30}}
`)
	c := wholeCraft(d)
	names := func() string {
		adapters, ok := compat.Bridges(d, &c)
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
	frame.StackMm, pack.Connector = inventory.Lengths{20}, "XT60"
	c.Frame, c.Pack = &frame, &pack
	if got := names(); got != "plate-a lead" {
		t.Errorf("bridges are %q, want the lightest plate, first by id, and the lead", got)
	}
	c.Extras = append(c.Extras, d.Extra("plate-heavy"))
	if got := names(); got != "lead" {
		t.Errorf("with a plate on board bridges are %q", got)
	}
	frame.StackMm = inventory.Lengths{30.5}
	if got := names(); got != "lead and no way" {
		t.Errorf("for 30.5 mm bridges are %q", got)
	}
	pack.Connector = "PH 2.0"
	frame.StackMm = inventory.Lengths{25.5}
	if got := names(); got != "" {
		t.Errorf("plugs without a lead are soldered, got %q", got)
	}
}

// wearCases are packs as a careful pilot would judge them; the limits are common practice, no source.
func wearCases() []fitCase {
	on := func(change func(*inventory.Pack)) inventory.Combination {
		return inventory.Combination{Pack: packWith(change)}
	}
	noted := func(note string) inventory.Combination { return on(func(p *inventory.Pack) { p.Note = note }) }
	// A new cell of 560 mAh has 13.4 milliohm by the law.
	reads := func(mohm float64) inventory.Combination {
		return on(func(p *inventory.Pack) { p.CellResistanceMohm = num(mohm) })
	}
	flown := func(cycles int) inventory.Combination {
		return on(func(p *inventory.Pack) { p.Cycles = count(cycles) })
	}
	return []fitCase{
		{"a puffed pack", noted("slightly PUFFED, for practice"), compat.RuleWear, compat.Misfit,
			`pack k2s: noted as "PUFFED": retire it`},
		{"a swollen pack", noted("cell 2 swollen"), compat.RuleWear, compat.Misfit, `"swollen"`},
		{"a bloated pack", noted("bloated"), compat.RuleWear, compat.Misfit, "can burn"},
		{"a damaged pack", noted("damaged in the May crash"), compat.RuleWear, compat.Misfit, "retire it"},
		{"a dented pack", noted("one corner has a dent"), compat.RuleWear, compat.Misfit, `"dent"`},
		{"a pack to retire", noted("retire after this season"), compat.RuleWear, compat.Misfit, `"retire"`},
		{"a pack that is not puffed", noted("not puffed, no dents"), compat.RuleWear, compat.Fits, ""},
		{"a pack of an indentation's name", noted("identical to the other, dental floss strap"), compat.RuleWear,
			compat.Fits, ""},
		{"no damage", noted("crashed once without any damage"), compat.RuleWear, compat.Fits, ""},
		{"new cells", reads(13.4), compat.RuleWear, compat.Fits, ""},
		{"twice the resistance", reads(2 * 13.4), compat.RuleWear, compat.Fits, ""},
		{"three times and more", reads(3.2 * 13.4), compat.RuleWear, compat.Remark,
			"3.2 times the 13 mΩ of a new 560 mAh cell: it is wearing out"},
		{"six times and more", reads(6.2 * 13.4), compat.RuleWear, compat.Misfit,
			"retire it, it is worn out (correct the reading if it was of the whole pack or taken cold"},
		{"six times what a large cell should have, under what a charger can tell",
			on(func(p *inventory.Pack) {
				p.CapacityMAh, p.CellResistanceMohm = 22000,
					num(2.3)
			}), compat.RuleWear, compat.Fits, ""},
		{"200 cycles", flown(200), compat.RuleWear, compat.Fits, ""},
		{"400 cycles", flown(400), compat.RuleWear, compat.Remark,
			"400 cycles, such packs last about 300: it is wearing out"},
		{"700 cycles", flown(700), compat.RuleWear, compat.Misfit, "retire it"},
		{"700 cycles on Li-ion", on(func(p *inventory.Pack) { p.Chemistry, p.Cycles = inventory.LiIon, count(700) }),
			compat.RuleWear, compat.Remark, "about 500"},
		{"given as retired", on(func(p *inventory.Pack) { p.Condition = inventory.ConditionRetired }), compat.RuleWear,
			compat.Misfit, "is left out"},
		{"puffed and given as sound", on(func(p *inventory.Pack) {
			p.Note, p.Condition = "puffed?",
				inventory.ConditionSound
		}), compat.RuleWear, compat.Remark, "can burn in flight or on the charger, and is used only because you " +
			"set condition: sound"},
		{"worn and given as sound", on(func(p *inventory.Pack) {
			p.CellResistanceMohm, p.Condition = num(120),
				inventory.ConditionSound
		}), compat.RuleWear, compat.Remark, "only because"},
	}
}

// Property: a worn pack is noted in the drawer at the key that shows it.
func TestWornPacksAreNotedWhereTheyStand(t *testing.T) {
	for key, line := range map[string]string{
		"note": "note: puffed", "cell_resistance_mohm": "cell_resistance_mohm: 190", "cycles": "cycles: 900", "condition": "condition: retired",
	} {
		d := mustRead(t, strings.Replace(smallCraft, "packs: [", "packs: [{id: k-worn, size: 2S 560 70C, "+line+"}, ", 1))
		found := false
		for _, n := range check.Plausibility(d) {
			found = found || n.Path == "packs[0]."+key && strings.Contains(Note(&n), "pack k-worn")
		}
		if !found || !d.Packs[0].Retired() {
			t.Errorf("%s: retired %v, noted %v", line, d.Packs[0].Retired(), found)
		}
	}
}
