package inventory

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

// Note is a remark on a drawer that is no fault.
type Note struct {
	strict.Position
	Path string
	Text string
}

// notes collects remarks.
type notes []Note

func (n *notes) add(o strict.Origin, key, format string, args ...any) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	*n = append(*n, Note{o.Position, path, fmt.Sprintf(format, args...)})
}

// How far a value may be from what the laws of physics expect of such a part before it is called
// unlikely, as a factor either way: about three standard deviations of the law.
const (
	motorMassFactor  = 1.7
	resistanceFactor = 2.8
	propMassFactor   = 2.0
	packMassFactor   = 1.7
	cellOhmFactor    = 4.0
	frameMassFactor  = 3.0
	boardMassFactor  = 5.0
)

// usualBoardG is the middle of what boards weigh, ESCs on top (common practice, no source).
const usualBoardG = 10

// Winding resistance by the law that motors for these crafts stay within, in ohm: outside of it the
// kV is unusual for the stator (common practice, no source).
const lowWindingOhm, highWindingOhm = 0.03, 0.8

// Unlikely lists what is possible but unlikely, contradictory ratings with the reading that is
// used, parts that look entered twice, and ids that lead nowhere; by position in the file.
func Unlikely(d *Drawer) []Note {
	n := slices.Clone(d.remarks)
	for i := range d.Motors {
		d.Motors[i].unlikely(&n, d)
	}
	for i := range d.Props {
		d.Props[i].unlikely(&n)
	}
	for i := range d.Packs {
		d.Packs[i].unlikely(&n)
	}
	for i := range d.Frames {
		d.Frames[i].unlikely(&n)
	}
	for i := range d.Boards {
		d.Boards[i].unlikely(&n)
	}
	for i := range d.Extras {
		d.Extras[i].unlikely(&n)
	}
	d.unlikelyWhole(&n)
	d.twice(&n)
	slices.SortStableFunc(n, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Path, b.Path))
	})
	return n
}

// off says whether a value is further from an expected one than a factor either way.
func off(value, expected, factor float64) bool {
	return value > expected*factor || value < expected/factor
}

func (m *Motor) unlikely(n *notes, d *Drawer) {
	law := physics.EstimateMotorMass(m.StatorDiameterMm/1000, m.StatorHeightMm/1000)
	massKg := law.Value
	if m.MassG != nil {
		if off(*m.MassG/1000, law.Value, motorMassFactor) {
			n.add(m.Origin, "mass_g", "motor %s weighs %s g, a %s mostly about %s g: weigh it again", m.ID, number(*m.MassG), m.Stator, twoDigits(law.Value*1000))
		} else {
			massKg = *m.MassG / 1000
		}
	}
	winding := physics.EstimateWinding(physics.MotorTorqueConstant(m.KV).Value, massKg).Value
	if winding < lowWindingOhm || winding > highWindingOhm {
		low, high := m.KV*math.Sqrt(winding/highWindingOhm), m.KV*math.Sqrt(winding/lowWindingOhm)
		n.add(m.Origin, "kv", "motor %s has %s rpm/V, a %s mostly %s to %s: check the digits", m.ID, number(m.KV), m.Stator, twoDigits(low), twoDigits(high))
	} else if m.ResistanceMohm != nil && off(*m.ResistanceMohm/1000, winding, resistanceFactor) {
		n.add(m.Origin, "resistance_mohm", "motor %s has %s milliohm, a %s of %s rpm/V mostly about %s: check the digits and the unit", m.ID, number(*m.ResistanceMohm), m.Stator, number(m.KV), twoDigits(winding*1000))
	}
	if m.NoLoadA != nil && m.MaxCurrentA != nil && *m.NoLoadA > *m.MaxCurrentA/4 {
		n.add(m.Origin, "no_load_a", "motor %s draws %s A without load and bears at most %s A: check both", m.ID, number(*m.NoLoadA), number(*m.MaxCurrentA))
	}
	for _, b := range m.Bench {
		if d.Prop(b.Prop) == nil {
			n.add(b.Origin, "prop", "prop %s of this reading is not in the drawer, so the reading is not used%s", b.Prop, didYouMean(b.Prop, d.IDs(KindProp)))
		}
	}
}

// twoDigits prints a positive number with two significant digits and no exponent.
func twoDigits(x float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(x))-1)
	return number(round(math.Round(x/unit) * unit))
}

func (p *Prop) unlikely(n *notes) {
	if p.MassG != nil {
		law := physics.EstimatePropMass(p.DiameterIn*mmPerInch/1000, p.PitchIn*mmPerInch/1000, p.Blades).Value * 1000
		if off(*p.MassG, law, propMassFactor) {
			n.add(p.Origin, "mass_g", "prop %s weighs %s g, one of its size mostly about %s g: weigh it again, one piece", p.ID, number(*p.MassG), twoDigits(law))
		}
	}
	switch ratio := p.PitchIn / p.DiameterIn; {
	case ratio > 1.4:
		n.add(p.Origin, "", "prop %s has %.2g in of pitch on %.2g in of diameter, unusually steep: check their order", p.ID, p.PitchIn, p.DiameterIn)
	case ratio < 0.3:
		n.add(p.Origin, "", "prop %s has %.2g in of pitch on %.2g in of diameter, unusually flat: check the unit", p.ID, p.PitchIn, p.DiameterIn)
	}
	if p.Mount != "" && p.BoreMm != nil && (p.Mount == Nut) != (*p.BoreMm >= 3) {
		n.add(p.Origin, "mount", "prop %s has a %s mm bore and is held by %s, an unusual pair: check both", p.ID, number(*p.BoreMm), p.Mount)
	}
}

func (p *Pack) unlikely(n *notes) {
	law := physics.EstimatePackMass(p.Chemistry.si(), p.Cells, p.CapacityMAh/1000).Value * 1000
	if p.MassG != nil && off(*p.MassG, law, packMassFactor) {
		n.add(p.Origin, "mass_g", "pack %s weighs %s g, %dS of %s mAh mostly about %s g: weigh it again", p.ID, number(*p.MassG), p.Cells, number(p.CapacityMAh), twoDigits(law))
	}
	if w := p.Wear(); w.Sign != NoWear {
		key := [...]string{GivenRetired: "condition", NotedDamage: "note", HighResistance: "cell_resistance_mohm", ManyCycles: "cycles"}[w.Sign]
		n.add(p.Origin, key, "%s", w.text(p))
	}
	if p.CellResistanceMohm != nil && p.Wear().Sign != HighResistance {
		ohm := physics.EstimatePackResistance(p.Chemistry.si(), p.Cells, p.CapacityMAh/1000, p.cycleCount()).Value / float64(p.Cells)
		if off(*p.CellResistanceMohm/1000, ohm, cellOhmFactor) {
			n.add(p.Origin, "cell_resistance_mohm", "pack %s has %s milliohm a cell, one of %s mAh mostly about %s: is it the whole pack's, or is the pack worn?", p.ID, number(*p.CellResistanceMohm), number(p.CapacityMAh), twoDigits(ohm*1000))
		}
	}
	if p.BurstC != nil && *p.BurstC < p.DischargeC {
		n.add(p.Origin, "burst_c", "pack %s claims %sC for a burst and %sC for good, which contradict each other: reckoned with the lower", p.ID, number(*p.BurstC), number(p.DischargeC))
	}
	if p.Chemistry == LiIon && p.DischargeC > 20 {
		n.add(p.Origin, "chemistry", "pack %s is Li-ion and claims %sC, cylindrical cells mostly bear 3 to 15C: check the chemistry", p.ID, number(p.DischargeC))
	}
	if p.Connector != "" && !p.Connector.Known() {
		n.add(p.Origin, "connector", "pack %s has the plug %q, which is not known: no rating is checked", p.ID, string(p.Connector))
	}
}

func (p *Pack) cycleCount() int {
	if p.Cycles == nil {
		return 0
	}
	return *p.Cycles
}

func (f *Frame) unlikely(n *notes) {
	if f.MaxPropIn != nil {
		usual := 2.3 * math.Pow(*f.MaxPropIn, 2.2) // g; common practice, no source
		if off(f.MassG, usual, frameMassFactor) {
			n.add(f.Origin, "mass_g", "frame %s weighs %s g, one for %s in props mostly about %s g: weigh it again without electronics", f.ID, number(f.MassG), number(*f.MaxPropIn), twoDigits(usual))
		}
		if f.MotorSpacingMm != nil && *f.MaxPropIn*mmPerInch >= *f.MotorSpacingMm {
			n.add(f.Origin, "max_prop_in", "frame %s takes props of %s and has motors %s mm apart, which contradict each other: both are kept to", f.ID, inches(*f.MaxPropIn), number(*f.MotorSpacingMm))
		}
		if f.MotorSpacingMm != nil && *f.MotorSpacingMm > 2.5**f.MaxPropIn*mmPerInch {
			n.add(f.Origin, "motor_spacing_mm", "frame %s has motors %s mm apart and takes props of %s only: is it the distance of neighbours, in mm?", f.ID, number(*f.MotorSpacingMm), inches(*f.MaxPropIn))
		}
	}
}

func (b *Board) unlikely(n *notes) {
	if b.EscBurstA != nil && *b.EscBurstA < b.EscCurrentA {
		n.add(b.Origin, "esc_burst_a", "board %s claims %s A for a burst and %s A for good, which contradict each other: reckoned with the lower", b.ID, number(*b.EscBurstA), number(b.EscCurrentA))
	}
	if b.MassG != nil && off(*b.MassG, usualBoardG, boardMassFactor) {
		n.add(b.Origin, "mass_g", "board %s weighs %s g, most 2 to 45 g: weigh it again, without frame and motors", b.ID, number(*b.MassG))
	}
	if b.Connector != "" && !b.Connector.Known() {
		n.add(b.Origin, "connector", "board %s has the plug %q, which is not known: no rating is checked", b.ID, string(b.Connector))
	}
}

// unlikely of an extra: what the pilot's unit may have been mistaken for (common practice, no source).
func (x *Extra) unlikely(n *notes) {
	const usualW = 12 // more than a video transmitter at full power takes
	if x.PowerW != nil && *x.PowerW > usualW {
		n.add(x.Origin, "power_w", "%s %s takes %s W, most up to %d W: check the unit", x.Role, x.ID, number(*x.PowerW), usualW)
	}
}

// few lists words, not more than fit a few lines.
func few(words []string) string {
	const most = 25
	if len(words) <= most {
		return strings.Join(words, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:most-1], ", "), len(words)-most+1)
}

// unlikelyWhole remarks on the drawer as a whole.
func (d *Drawer) unlikelyWhole(n *notes) {
	var labelled []string
	for i := range d.Packs {
		if d.Packs[i].DischargeC > 75 {
			labelled = append(labelled, d.Packs[i].ID)
		}
	}
	if labelled != nil {
		n.add(strict.Origin{Path: "packs", Position: d.Packs[0].Position}, "", "labels over 75C are mostly a wish (%s): sag is reckoned as well, and measured cell resistances say more", few(labelled))
	}
	if without := d.withoutCount(); without != nil {
		n.add(strict.Origin{Position: strict.Position{Line: 1, Column: 1}}, "", "no count is given for %s: reckoned as enough for one craft", few(without))
	}
	for i := range d.Log {
		for _, m := range d.Missing(&d.Log[i].Parts) {
			n.add(d.Log[i].Parts.Origin, m.Key, "%s; learn refuses the log until that is mended", m)
		}
	}
}

func (d *Drawer) withoutCount() []string {
	var without []string
	note := func(id string, count *int) {
		if count == nil && id != "" {
			without = append(without, id)
		}
	}
	for i := range d.Motors {
		note(d.Motors[i].ID, d.Motors[i].Count)
	}
	for i := range d.Props {
		note(d.Props[i].ID, d.Props[i].Count)
	}
	for i := range d.Packs {
		note(d.Packs[i].ID, d.Packs[i].Count)
	}
	for i := range d.Frames {
		note(d.Frames[i].ID, d.Frames[i].Count)
	}
	for i := range d.Boards {
		note(d.Boards[i].ID, d.Boards[i].Count)
	}
	for i := range d.Extras {
		note(d.Extras[i].ID, d.Extras[i].Count)
	}
	return without
}
