package inventory

import "fmt"

// cells says whether a pack's cells are inside a part's range.
func cells(r *CellRange, n int) Severity {
	switch {
	case r == nil:
		return Unknown
	case r.Holds(n):
		return Fits
	}
	return Misfit
}

// cellsText is the sentence for a pack outside the range of a part.
func cellsText(part, id string, r CellRange, p *Pack) string {
	if p.Cells > r.Max {
		return fmt.Sprintf("%s %s takes %s, pack %s has %d: too many cells burn parts the moment they are plugged in; take a pack of %s", part, id, r, p.ID, p.Cells, r)
	}
	return fmt.Sprintf("%s %s takes %s, pack %s has %d: with too few cells it may not start, or give up in flight and burn parts in the crash; take a pack of %s", part, id, r, p.ID, p.Cells, r)
}

// MotorPack is what the rule on cells says of a motor and a pack.
func MotorPack(m *Motor, p *Pack) []Finding { return motorCells(m, p) }

func motorCells(m *Motor, p *Pack) []Finding {
	switch cells(m.Cells, p.Cells) {
	case Misfit:
		return []Finding{{RuleCells, Misfit, cellsText("motor", m.ID, *m.Cells, p)}}
	case Unknown:
		fullV := float64(p.Cells) * p.Chemistry.si().FullCellV()
		return []Finding{{RuleCells, Unknown, fmt.Sprintf("motor %s does not say its cells, pack %s has %d: %s rpm/V times %.4g V is %.0f rpm without load; ask before flying", m.ID, p.ID, p.Cells, number(m.KV), fullV, m.KV*fullV)}}
	}
	return nil
}

// BoardPack is what the rule on cells says of a board and a pack.
func BoardPack(b *Board, p *Pack) []Finding { return boardCells(b, p) }

func boardCells(b *Board, p *Pack) []Finding {
	if cells(b.Cells, p.Cells) == Misfit {
		return []Finding{{RuleCells, Misfit, cellsText("board", b.ID, *b.Cells, p)}}
	}
	return nil
}

// extraCells is silent on an extra without a range: most hang on the board's own supply.
func extraCells(e *Extra, p *Pack) []Finding {
	if cells(e.Cells, p.Cells) == Misfit {
		return []Finding{{RuleCells, Misfit, cellsText(string(e.Role), e.ID, *e.Cells, p)}}
	}
	return nil
}
