package compat

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

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
	switch cells(m.Cells, p.Cells) {
	case Misfit:
		return outside("motor", m.ID, *m.Cells, p)
	case Unknown:
		fullV := float64(p.Cells) * p.Chemistry.SI().FullCellV()
		return []Finding{found(RuleCells, Unknown, "fit.motor_cells_unknown",
			strict.Values{"motor": m.ID, "pack": p.ID, "has": p.Cells,
				"kv": strict.Number(m.KV), "volts": strict.Digits(fullV, 4), "rpm": strict.Number(math.Round(m.KV * fullV))})}
	}
	return nil
}

// BoardPack is what the rule on cells says of a board and a pack.
func BoardPack(b *inventory.Board, p *inventory.Pack) []Finding {
	if cells(b.Cells, p.Cells) == Misfit {
		return outside("board", b.ID, *b.Cells, p)
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
