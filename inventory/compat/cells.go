package compat

import (
	"fmt"
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Use of motors that print no range of cells: label kV times full volts times stator width, which for like turns goes
// with the speed of the air gap (rpm mm). Of 37 combinations of motor and cells on flown crafts of 8 to 28 mm stators
// 36 stay under 1.13e6 and one reaches 1.48e6 (crafts weighed and timed by their owners).
const (
	notedGapSpeed   = 1.15e6 // beyond it the build says so
	refusedGapSpeed = 1.5e6  // beyond it they do not go together
	// Motors of 22 mm and more do not go together with a pack from here: pilots fly 1700 to 2150 kV on 6S, 1.19e6, and
	// keep 2300 kV and more to 4S and 5S (common practice, no source).
	refusedWideGapSpeed, wideStatorMm = 1.25e6, 22.0
	fullCellV                         = 4.2
)

// gapSpeed is kV times full volts times stator width of a motor on a number of cells, rpm mm.
func gapSpeed(m *inventory.Motor, n int) float64 {
	return m.KV * fullCellV * float64(n) * m.StatorDiameterMm
}

// MostCells is the most cells in series that parts are used on.
type MostCells int

// String writes the number of cells as pilots do: 1S, up to 4S.
func (n MostCells) String() string {
	if n == 1 {
		return "1S"
	}
	return fmt.Sprintf("up to %dS", int(n))
}

// UsualCells is the most cells that motors of this size and kV are used on, from 1 to 14.
func UsualCells(m *inventory.Motor) MostCells {
	return MostCells(math.Max(1, math.Min(14, notedGapSpeed/gapSpeed(m, 1))))
}

// cells judges a pack's cells against a part's range.
func cells(r *inventory.CellRange, n int) Severity {
	switch {
	case r == nil:
		return Unknown
	case r.Holds(n):
		return Fits
	}
	return Misfit
}

// motorCells judges a pack's cells against a motor's range, or against what motors of its size and kV are used on. A
// mixed set without a range is as its faster kind.
func motorCells(m *inventory.Motor, n int) Severity {
	if m.Cells != nil {
		return cells(m.Cells, n)
	}
	m = faster(m)
	refused := refusedGapSpeed
	if m.StatorDiameterMm >= wideStatorMm {
		refused = refusedWideGapSpeed
	}
	switch x := gapSpeed(m, n); {
	case x > refused:
		return Misfit
	case x > notedGapSpeed:
		return Remark
	}
	return Unknown
}

// faster is the kind of more kV of a mixed set, or the motor itself.
func faster(m *inventory.Motor) *inventory.Motor {
	switch {
	case m.Mixed == nil:
		return m
	case m.Mixed.A.KV > m.Mixed.B.KV:
		return m.Mixed.A
	}
	return m.Mixed.B
}

// outside is the finding for a pack outside the range of a part.
func outside(part, id string, r inventory.CellRange, p *inventory.Pack) []Finding {
	code := strict.Code("fit.few_cells")
	if p.Cells > r.Max {
		code = "fit.many_cells"
	}
	return []Finding{found(RuleCells, Misfit, code, strict.Values{"kind": part, "id": id, "cells": r, "pack": p.ID,
		"has": p.Cells})}
}

// MotorPack is what the rule on cells says of a motor and a pack.
func MotorPack(m *inventory.Motor, p *inventory.Pack) []Finding {
	severity := motorCells(m, p.Cells)
	var code strict.Code
	switch {
	case severity == Fits:
		return nil
	case m.Cells != nil:
		return outside("motor", m.ID, *m.Cells, p)
	case severity == Misfit:
		code = "fit.motor_cells_beyond"
	case severity == Remark:
		code = "fit.motor_cells_high"
	default:
		code = "fit.motor_cells_unknown"
	}
	kind := faster(m)
	fullV := float64(p.Cells) * p.Chemistry.SI().FullCellV()
	return []Finding{found(RuleCells, severity, code, strict.Values{"motor": m.ID, "pack": p.ID, "has": p.Cells,
		"kv": strict.Number(kind.KV), "stator": kind.Stator, "usual": UsualCells(kind),
		"volts": strict.Digits(fullV, 4), "rpm": strict.Number(math.Round(kind.KV * fullV))})}
}

// singleCellBoard is the most cells that boards are printed for which run on a single one; those for more mostly need
// two to start (common practice, no source).
const singleCellBoard = 2

// BoardPack is what the rule on cells says of a board and a pack.
func BoardPack(b *inventory.Board, p *inventory.Pack) []Finding {
	switch {
	case cells(b.Cells, p.Cells) == Misfit:
		return outside("board", b.ID, *b.Cells, p)
	case b.Cells != nil && b.Cells.UpTo && b.Cells.Max > singleCellBoard && p.Cells == 1:
		return []Finding{found(RuleCells, Remark, "fit.board_single_cell", strict.Values{"board": b.ID, "pack": p.ID,
			"most": b.Cells.Max})}
	}
	return nil
}

// extraPack is silent on an extra without a range: most hang on the board's own supply.
func extraPack(e *inventory.Extra, p *inventory.Pack) []Finding {
	if cells(e.Cells, p.Cells) == Misfit {
		return outside(string(e.Role), e.ID, *e.Cells, p)
	}
	return nil
}
