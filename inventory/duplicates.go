package inventory

import (
	"strings"
)

// twice remarks on entries that look like one part entered twice: what both say is the same, and
// what only one says would fit the other.
func (d *Drawer) twice(n *notes) {
	for _, kind := range Kinds() {
		d.capitals(n, kind)
	}
	pairs(d.Motors, func(a, b *Motor) bool {
		if !(a.Stator == b.Stator && a.KV == b.KV && agrees(a.MassG, b.MassG) && agrees(a.ResistanceMohm, b.ResistanceMohm) &&
			agrees(a.ShaftMm, b.ShaftMm) && (a.PropMount == b.PropMount || a.PropMount == "" || b.PropMount == "")) {
			return false
		}
		n.add(b.Origin, "id", "motor %s looks like motor %s entered twice (%s, %s rpm/V): if so, keep one and add the counts", b.ID, a.ID, b.Stator, number(b.KV))
		return true
	})
	pairs(d.Props, func(a, b *Prop) bool {
		if !(a.DiameterIn == b.DiameterIn && a.PitchIn == b.PitchIn && a.Blades == b.Blades && agrees(a.MassG, b.MassG) &&
			agrees(a.BoreMm, b.BoreMm) && a.Series == b.Series && a.Blade == b.Blade && a.Flex == b.Flex) {
			return false
		}
		n.add(b.Origin, "id", "prop %s looks like prop %s entered twice (%s x %s x %d): if so, keep one and add the counts", b.ID, a.ID, number(round(b.DiameterIn)), number(round(b.PitchIn)), b.Blades)
		return true
	})
	pairs(d.Packs, func(a, b *Pack) bool {
		if !(a.Cells == b.Cells && a.CapacityMAh == b.CapacityMAh && a.DischargeC == b.DischargeC && a.Chemistry == b.Chemistry &&
			agrees(a.MassG, b.MassG) && agrees(a.CellResistanceMohm, b.CellResistanceMohm) && a.cycleCount() == b.cycleCount() && a.Connector == b.Connector) {
			return false
		}
		n.add(b.Origin, "id", "pack %s looks like pack %s entered twice (%dS %s mAh %sC): if so, keep one and add the counts", b.ID, a.ID, b.Cells, number(b.CapacityMAh), number(b.DischargeC))
		return true
	})
	pairs(d.Frames, func(a, b *Frame) bool {
		if !(a.MassG == b.MassG && agrees(a.MaxPropIn, b.MaxPropIn) && agrees(a.MotorSpacingMm, b.MotorSpacingMm) && a.Ducted == b.Ducted) {
			return false
		}
		n.add(b.Origin, "id", "frame %s looks like frame %s entered twice (%s g): if so, keep one and add the counts", b.ID, a.ID, number(b.MassG))
		return true
	})
	pairs(d.Boards, func(a, b *Board) bool {
		if !(a.EscCurrentA == b.EscCurrentA && *a.Cells == *b.Cells && agrees(a.MassG, b.MassG) && agrees(a.EscBurstA, b.EscBurstA) && a.Connector == b.Connector) {
			return false
		}
		n.add(b.Origin, "id", "board %s looks like board %s entered twice (%s A, %s): if so, keep one and add the counts", b.ID, a.ID, number(b.EscCurrentA), *b.Cells)
		return true
	})
	pairs(d.Extras, func(a, b *Extra) bool {
		if !(a.Role == b.Role && a.MassG == b.MassG && agrees(a.WidthMm, b.WidthMm) && agrees(a.PowerW, b.PowerW) && (a.Bridges == nil) == (b.Bridges == nil) &&
			(a.Bridges == nil || a.Bridges.From == b.Bridges.From && a.Bridges.To == b.Bridges.To)) {
			return false
		}
		n.add(b.Origin, "id", "%s %s looks like %s entered twice (%s g): if so, keep one and add the counts", b.Role, b.ID, a.ID, number(b.MassG))
		return true
	})
}

// capitals remarks on ids of one kind that differ in capitals only.
func (d *Drawer) capitals(n *notes, kind Kind) {
	small := map[string]string{}
	for _, item := range d.Items(kind) {
		p := item.Base()
		if other, ok := small[strings.ToLower(p.ID)]; ok {
			n.add(p.Origin, "id", "%s %s differs from %s in capitals only: give it another id, for the two are easily taken for each other", kind, p.ID, other)
			continue
		}
		small[strings.ToLower(p.ID)] = p.ID
	}
}

// pairs visits every two entries of a list once, the earlier one first, until a later one has its match.
func pairs[T any](list []T, match func(a, b *T) bool) {
	for j := range list {
		for i := range list[:j] {
			if match(&list[i], &list[j]) {
				break
			}
		}
	}
}

// agrees says whether two optional numbers are equal, or one is not given.
func agrees(a, b *float64) bool { return a == nil || b == nil || *a == *b }
