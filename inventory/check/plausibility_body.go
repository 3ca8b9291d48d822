package check

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

// Bounds on packs, as factors on what the laws expect.
const (
	packMassFactor = 1.7
	cellOhmFactor  = 4.0
	// Frames differ more than other parts: bare ones for light crafts weigh a fifth of what their law says.
	lowFrameMass, highFrameMass = 1 / 4.5, 2.2
	// contactMohm is what tabs, plug and the meter's own contacts add to a cell, which counts in large packs.
	contactMohm = 2.0
)

// Usual label C by chemistry (common practice, no source): a soft pack for multirotors 18 to 160, large ones from
// 8, cylindrical cells 1.5 to 18.
const (
	largePackAh         = 5.0
	lowSoftC, highSoftC = 18.0, 160.0
	lowLargeC           = 8.0
	lowIonC, highIonC   = 1.5, 18.0
)

// usualC is the range of label C.
func usualC(p *inventory.Pack) usual {
	switch {
	case p.Chemistry == inventory.LiIon:
		return usual{lowIonC, highIonC, "", group("of.ion_cells")}
	case p.CapacityMAh/1000 >= largePackAh:
		return usual{lowLargeC, highSoftC, "", group("of.large_packs")}
	}
	return usual{lowSoftC, highSoftC, "", group("of.packs")}
}

// pack remarks on a pack.
func pack(n *notes, p *inventory.Pack) {
	whose := "pack " + p.ID
	law := physics.EstimatePackMass(p.Chemistry.SI(), p.Cells, p.CapacityMAh/1000).Value * 1000
	massIsUsual := true
	if p.MassG != nil && off(*p.MassG, law, packMassFactor) {
		massIsUsual = false
		n.add(p.Origin, "mass_g", "check.pack_mass", strict.Values{"id": p.ID, "got": strict.Number(*p.MassG),
			"cells": p.Cells, "mah": strict.Number(p.CapacityMAh), "usual": strict.Digits(law, 2)})
		if *p.MassG < law {
			n.burns() // it holds less than the label says, and bears less current
		}
	}
	if p.SizeMm != nil && massIsUsual {
		// Packs of cells, wires and foil have 1.6 to 2.6 g in a cubic centimetre (common practice, no source).
		cm3 := p.SizeMm[0] * p.SizeMm[1] * p.SizeMm[2] / 1000
		if density := law / cm3; density < 0.8 || density > 4.5 {
			n.add(p.Origin, "size_mm", "check.pack_volume", strict.Values{"id": p.ID, "got": strict.Digits(cm3, 2),
				"cells": p.Cells, "mah": strict.Number(p.CapacityMAh), "usual": strict.Digits(law/2, 2)})
		}
	}
	wear := p.Wear()
	if worn, ok := compat.Worn(p); ok {
		key := [...]string{
			inventory.GivenRetired: "condition", inventory.NotedDamage: "note", inventory.HighResistance: "cell_resistance_mohm", inventory.ManyCycles: "cycles",
		}[wear.Sign]
		n.problem(p.Origin, key, worn)
	}
	if p.CellResistanceMohm != nil && wear.Sign != inventory.HighResistance {
		mohm := physics.EstimatePackResistance(p.Chemistry.SI(), p.Cells, p.CapacityMAh/1000,
			p.CycleCount()).Value / float64(p.Cells) * 1000
		switch x := *p.CellResistanceMohm; {
		case x > cellOhmFactor*mohm+contactMohm:
			n.add(p.Origin, "cell_resistance_mohm", "check.cell_high", strict.Values{"id": p.ID, "got": strict.Number(x),
				"mah": strict.Number(p.CapacityMAh), "usual": strict.Digits(mohm, 2)})
		case x < mohm/cellOhmFactor:
			n.add(p.Origin, "cell_resistance_mohm", "check.cell_low", strict.Values{"id": p.ID, "got": strict.Number(x),
				"mah": strict.Number(p.CapacityMAh), "usual": strict.Digits(mohm, 2)})
			n.burns()
		}
	}
	ratings(n, p)
	if p.Connector != "" && !p.Connector.Known() {
		n.add(p.Origin, "connector", "check.plug", strict.Values{"whose": "pack " + p.ID, "plug": strict.Quoted(p.Connector)})
	}
	n.count(p.Origin, whose, p.Count, mostPacks)
}

// ratings remarks on a pack's label C.
func ratings(n *notes, p *inventory.Pack) {
	switch u := usualC(p); {
	case p.AssumedC:
	case p.Chemistry == inventory.LiIon && p.DischargeC > u.high:
		n.add(p.Origin, "chemistry", "check.ion_c", strict.Values{"id": p.ID, "got": strict.Number(p.DischargeC)})
		n.burns()
	case n.outside(p.Origin, "discharge_c", "pack "+p.ID, p.DischargeC, u) && p.DischargeC > u.high:
		n.burns()
	}
	switch {
	case p.BurstC == nil:
	case *p.BurstC < p.DischargeC:
		n.add(p.Origin, "burst_c", "check.pack_burst_low", strict.Values{"id": p.ID, "burst": strict.Number(*p.BurstC),
			"continuous": strict.Number(p.DischargeC)})
	case *p.BurstC > 2.5*p.DischargeC:
		n.add(p.Origin, "burst_c", "check.pack_burst_high", strict.Values{"id": p.ID, "burst": strict.Number(*p.BurstC),
			"continuous": strict.Number(p.DischargeC)})
		n.burns()
	}
}

// frame remarks on a frame.
func frame(n *notes, f *inventory.Frame) {
	whose := "frame " + f.ID
	if f.MaxPropIn != nil {
		expected := physics.EstimateFrameMass(*f.MaxPropIn*inventory.MmPerInch/1000, f.Ducted).Value * 1000
		if f.MassG != nil && (*f.MassG < lowFrameMass*expected || *f.MassG > highFrameMass*expected) {
			n.add(f.Origin, "mass_g", "check.frame_mass", strict.Values{"id": f.ID, "got": strict.Number(*f.MassG),
				"inches": strict.Number(*f.MaxPropIn), "usual": strict.Digits(expected, 2)})
		}
		if f.MotorSpacingMm != nil && *f.MaxPropIn*inventory.MmPerInch >= *f.MotorSpacingMm {
			n.add(f.Origin, "max_prop_in", "check.spacing_small", strict.Values{"id": f.ID,
				"takes": compat.Inches(*f.MaxPropIn), "spacing": strict.Number(*f.MotorSpacingMm)})
		}
		if f.MotorSpacingMm != nil && *f.MotorSpacingMm > 2.5**f.MaxPropIn*inventory.MmPerInch {
			n.add(f.Origin, "motor_spacing_mm", "check.spacing_large", strict.Values{"id": f.ID,
				"takes": compat.Inches(*f.MaxPropIn), "spacing": strict.Number(*f.MotorSpacingMm)})
		}
	}
	room(n, f, whose)
	n.count(f.Origin, whose, f.Count, mostFrames)
}

// stackPatterns are those of boards and frames in mm (common practice, no source).
var stackPatterns = []float64{16, 20, 25.5, 26.5, 30.5}

// stack remarks on hole patterns that no board has.
func stack(n *notes, o strict.Origin, key, whose string, patterns inventory.Lengths) {
	for _, x := range patterns {
		near := false
		for _, usual := range stackPatterns {
			near = near || math.Abs(x-usual) < 1
		}
		if !near {
			n.add(o, key, "check.stack", strict.Values{"whose": whose, "got": strict.Number(x),
				"usual": inventory.Lengths(stackPatterns)})
		}
	}
}

// room remarks on what the frame has room for, against the props that it is made for.
func room(n *notes, f *inventory.Frame, whose string) {
	propMm := f.LargestPropM() * 1000
	of := group("of.frames_for", "inches", strict.Number(math.Round(propMm/inventory.MmPerInch*10)/10))
	if f.DragAreaCm2 != nil {
		n.outside(f.Origin, "drag_area_cm2", whose, *f.DragAreaCm2,
			about(physics.EstimateDragArea(propMm/1000, f.Body == inventory.StreamlinedBody).Value*1e4,
				3.1, "cm²", of))
	}
	if b := f.PackMaxMm; b != nil {
		for i, x := range b {
			u := usual{0.12 * propMm, 1.1 * propMm, "mm", of}
			if i == 0 {
				u.low, u.high = 0.35*propMm, 2.6*propMm
			}
			n.outside(f.Origin, "pack_max_mm", whose, x, u)
		}
	}
	if f.ArmThicknessMm != nil {
		inch := propMm / inventory.MmPerInch
		n.outside(f.Origin, "arm_thickness_mm", whose, *f.ArmThicknessMm, usual{0.4 * inch, 2.4 * inch, "mm", of})
	}
	if f.CameraWidthMm != nil {
		n.outside(f.Origin, "camera_width_mm", whose, *f.CameraWidthMm, usual{8, 40, "mm", group("of.frames")})
	}
	stack(n, f.Origin, "stack_mm", whose, f.StackMm)
}

// Usual boards (common practice, no source): one ESC's continuous amperes to each gram of board with its ESCs from
// 1.1 on a whoop's to 4.4 on one-board stacks.
const lowAmpsPerGram, highAmpsPerGram = 0.6, 6.0

// board remarks on a board.
func board(n *notes, b *inventory.Board) {
	whose := "board " + b.ID
	switch {
	case b.MassG != nil:
		u := usual{lowAmpsPerGram * *b.MassG, highAmpsPerGram * *b.MassG, "A",
			group("of.grams", "grams", strict.Number(*b.MassG))}
		if *b.MassG < 1.5 || *b.MassG > 70 {
			n.add(b.Origin, "mass_g", "check.board_mass", strict.Values{"id": b.ID, "got": strict.Number(*b.MassG)})
		} else if n.outside(b.Origin, "esc_current_a", whose, b.EscCurrentA, u) && b.EscCurrentA > u.high {
			n.burns()
		}
	case b.Cells != nil:
		// Without a mass: ESCs for many cells are large, those for one or two are small.
		u := usual{3, 100, "A", group("of.cells", "cells", *b.Cells)}
		switch {
		case b.Cells.Max <= 2:
			u.high = 25
		case b.Cells.Max >= 6:
			u.low = 12
		}
		if n.outside(b.Origin, "esc_current_a", whose, b.EscCurrentA, u) && b.EscCurrentA > u.high {
			n.burns()
		}
	}
	switch {
	case b.EscBurstA == nil:
	case *b.EscBurstA < b.EscCurrentA:
		n.add(b.Origin, "esc_burst_a", "check.board_burst_low", strict.Values{"id": b.ID,
			"burst": strict.Number(*b.EscBurstA), "continuous": strict.Number(b.EscCurrentA)})
	case *b.EscBurstA > 2.5*b.EscCurrentA:
		n.add(b.Origin, "esc_burst_a", "check.board_burst_high", strict.Values{"id": b.ID,
			"burst": strict.Number(*b.EscBurstA), "continuous": strict.Number(b.EscCurrentA)})
		n.burns()
	}
	if b.PowerW != nil && *b.PowerW > 0 {
		n.outside(b.Origin, "power_w", whose, *b.PowerW, usual{0.3, 6, "W", group("of.boards")})
	}
	stack(n, b.Origin, "stack_mm", whose, b.StackMm)
	if b.Connector != "" && !b.Connector.Known() {
		n.add(b.Origin, "connector", "check.plug", strict.Values{"whose": "board " + b.ID,
			"plug": strict.Quoted(b.Connector)})
	}
	n.count(b.Origin, whose, b.Count, mostFrames)
}
