package check

import (
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// duplicates remarks on entries that look like one part entered twice: what both say is the same, and
// what only one says would fit the other.
func duplicates(n *notes, d *inventory.Drawer) {
	for _, kind := range inventory.Kinds() {
		capitals(n, d, kind)
	}
	pairs(d.Motors, func(a, b *inventory.Motor) bool {
		if !(a.Stator == b.Stator && a.KV == b.KV && agrees(a.MassG, b.MassG) && agrees(a.ResistanceMohm, b.ResistanceMohm) &&
			agrees(a.ShaftMm, b.ShaftMm) && (a.PropMount == b.PropMount || a.PropMount == "" || b.PropMount == "")) {
			return false
		}
		n.add(b.Origin, "id", "twice.motor", strict.Values{"id": b.ID, "other": a.ID, "stator": b.Stator,
			"kv": strict.Number(b.KV)})
		return true
	})
	pairs(d.Props, func(a, b *inventory.Prop) bool {
		if !(a.DiameterIn == b.DiameterIn && a.PitchIn == b.PitchIn && a.Blades == b.Blades && agrees(a.MassG, b.MassG) &&
			agrees(a.BoreMm, b.BoreMm) && a.Series == b.Series && a.Blade == b.Blade && a.Flex == b.Flex &&
			a.MadeFor == b.MadeFor) {
			return false
		}
		n.add(b.Origin, "id", "twice.prop", strict.Values{"id": b.ID, "other": a.ID,
			"diameter": strict.Digits(b.DiameterIn, 4), "pitch": strict.Digits(b.PitchIn, 4), "blades": b.Blades})
		return true
	})
	pairs(d.Packs, func(a, b *inventory.Pack) bool {
		if !(a.Cells == b.Cells && a.CapacityMAh == b.CapacityMAh && a.DischargeC == b.DischargeC &&
			a.Chemistry == b.Chemistry &&
			agrees(a.MassG, b.MassG) && agrees(a.CellResistanceMohm, b.CellResistanceMohm) &&
			a.CycleCount() == b.CycleCount() && a.Connector == b.Connector) {
			return false
		}
		n.add(b.Origin, "id", "twice.pack", strict.Values{"id": b.ID, "other": a.ID, "cells": b.Cells,
			"mah": strict.Number(b.CapacityMAh), "c": strict.Number(b.DischargeC)})
		return true
	})
	pairs(d.Frames, func(a, b *inventory.Frame) bool {
		if !(agrees(a.MassG, b.MassG) && agrees(a.MaxPropIn, b.MaxPropIn) && agrees(a.MotorSpacingMm, b.MotorSpacingMm) &&
			a.Ducted == b.Ducted) {
			return false
		}
		n.add(b.Origin, "id", "twice.frame", strict.Values{"id": b.ID, "other": a.ID,
			"grams": strict.Digits(b.Mass().Value*1000, 2)})
		return true
	})
	pairs(d.Boards, func(a, b *inventory.Board) bool {
		if !(a.EscCurrentA == b.EscCurrentA && *a.Cells == *b.Cells && agrees(a.MassG, b.MassG) &&
			agrees(a.EscBurstA, b.EscBurstA) && a.Connector == b.Connector) {
			return false
		}
		n.add(b.Origin, "id", "twice.board", strict.Values{"id": b.ID, "other": a.ID, "amps": strict.Number(b.EscCurrentA),
			"cells": *b.Cells})
		return true
	})
	pairs(d.Extras, func(a, b *inventory.Extra) bool {
		if !(a.Role == b.Role && a.MassG == b.MassG && agrees(a.WidthMm, b.WidthMm) && agrees(a.PowerW, b.PowerW) &&
			(a.Bridges == nil) == (b.Bridges == nil) &&
			(a.Bridges == nil || a.Bridges.From == b.Bridges.From && a.Bridges.To == b.Bridges.To)) {
			return false
		}
		n.add(b.Origin, "id", "twice.extra", strict.Values{"role": string(b.Role), "id": b.ID, "other": a.ID,
			"grams": strict.Number(b.MassG)})
		return true
	})
}

// capitals remarks on ids of one kind that differ in capitals only.
func capitals(n *notes, d *inventory.Drawer, kind inventory.Kind) {
	small := map[string]string{}
	for _, item := range d.Items(kind) {
		p := item.Base()
		if other, ok := small[strings.ToLower(p.ID)]; ok {
			n.add(p.Origin, "id", "twice.capitals", strict.Values{"kind": string(kind), "id": p.ID, "other": other})
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

// agrees reports whether two optional numbers are equal, or one is not given.
func agrees(a, b *float64) bool { return a == nil || b == nil || *a == *b }
