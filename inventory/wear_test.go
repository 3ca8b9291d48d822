package inventory

import (
	"strings"
	"testing"
)

// wearCases are packs as a careful pilot would judge them; the limits are common practice, no source.
func wearCases() []fitCase {
	on := func(change func(*Pack)) Combination { return Combination{Pack: packWith(change)} }
	noted := func(note string) Combination { return on(func(p *Pack) { p.Note = note }) }
	// A new cell of 560 mAh has 13.4 milliohm by the law.
	reads := func(mohm float64) Combination { return on(func(p *Pack) { p.CellResistanceMohm = num(mohm) }) }
	flown := func(cycles int) Combination { return on(func(p *Pack) { p.Cycles = count(cycles) }) }
	return []fitCase{
		{"a puffed pack", noted("slightly PUFFED, for practice"), RuleWear, Misfit, `pack k2s: noted as "PUFFED": retire it`},
		{"a swollen pack", noted("cell 2 swollen"), RuleWear, Misfit, `"swollen"`},
		{"a bloated pack", noted("bloated"), RuleWear, Misfit, "can burn"},
		{"a damaged pack", noted("damaged in the May crash"), RuleWear, Misfit, "retire it"},
		{"a dented pack", noted("one corner has a dent"), RuleWear, Misfit, `"dent"`},
		{"a pack to retire", noted("retire after this season"), RuleWear, Misfit, `"retire"`},
		{"a pack that is not puffed", noted("not puffed, no dents"), RuleWear, Fits, ""},
		{"a pack of an indentation's name", noted("identical to the other, dental floss strap"), RuleWear, Fits, ""},
		{"no damage", noted("crashed once without any damage"), RuleWear, Fits, ""},
		{"new cells", reads(13.4), RuleWear, Fits, ""},
		{"twice the resistance", reads(2 * 13.4), RuleWear, Fits, ""},
		{"three times and more", reads(3.2 * 13.4), RuleWear, Remark, "3.2 times the 13 of a new cell of 560 mAh: it is wearing out"},
		{"six times and more", reads(6.2 * 13.4), RuleWear, Misfit, "retire it, it is worn out; if the reading is of the whole pack or was taken cold, correct it"},
		{"six times what a large cell should have, under what a charger can tell", on(func(p *Pack) { p.CapacityMAh, p.CellResistanceMohm = 22000, num(2.3) }), RuleWear, Fits, ""},
		{"200 cycles", flown(200), RuleWear, Fits, ""},
		{"400 cycles", flown(400), RuleWear, Remark, "400 cycles, where such packs mostly last some 300: it is wearing out"},
		{"700 cycles", flown(700), RuleWear, Misfit, "retire it"},
		{"700 cycles on Li-ion", on(func(p *Pack) { p.Chemistry, p.Cycles = LiIon, count(700) }), RuleWear, Remark, "some 500"},
		{"given as retired", on(func(p *Pack) { p.Condition = ConditionRetired }), RuleWear, Misfit, "is left out"},
		{"puffed and given as sound", on(func(p *Pack) { p.Note, p.Condition = "puffed?", ConditionSound }), RuleWear, Remark, "can burn in flight or on the charger, and is flown only because its condition is given as sound"},
		{"worn and given as sound", on(func(p *Pack) { p.CellResistanceMohm, p.Condition = num(120), ConditionSound }), RuleWear, Remark, "only because"},
	}
}

// Property: a worn pack is noted in the drawer at the key that shows it.
func TestWornPacksAreNotedWhereTheyStand(t *testing.T) {
	for key, line := range map[string]string{
		"note": "note: puffed", "cell_resistance_mohm": "cell_resistance_mohm: 190", "cycles": "cycles: 900", "condition": "condition: retired",
	} {
		d := mustRead(t, strings.Replace(smallCraft, "packs: [", "packs: [{id: k-worn, size: 2S 560 70C, "+line+"}, ", 1))
		found := false
		for _, n := range Unlikely(d) {
			found = found || n.Path == "packs[0]."+key && strings.Contains(n.Text, "pack k-worn")
		}
		if !found || !d.Packs[0].Retired() {
			t.Errorf("%s: retired %v, noted %v", line, d.Packs[0].Retired(), found)
		}
	}
}
