package space

import (
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// levels are the rules of fit with one more for what breaks none: the level of a pair or a body is
// the first rule it breaks, and that of a candidate the least of its parts' levels.
const levels = int(compat.RuleEnd) + 1

func levelOf(r compat.Rule) int {
	if r == compat.NoRule {
		return int(compat.RuleEnd)
	}
	return int(r)
}

// Compatibility says which parts go together. Sets of props hang on a motor or a frame, sets of packs on a
// motor or a frame, and what is in both fits.
type Compatibility struct {
	Motors  []Bitset // by frame
	Props   []Bitset // by motor
	PropsOf []Bitset // by frame: enough pieces, size
	Packs   []Bitset // by motor
	PacksOf []Bitset // by frame: some body takes the pack

	// For the counts: the level of each pair.
	motorFrame [][]uint8         // by frame; 0: too few pieces, no candidate
	propFrame  [][]uint8         // by frame; 0: too few pieces, no candidate
	propMotor  [][]uint8         // by motor
	motorCells [][]uint8         // by supply
	bodies     [][][levels]int64 // by frame and supply: bodies of each level
}

// tryPairs applies the rules of fit to the pairs that hang on no extras.
func (s *Space) tryPairs() {
	nm, np := len(s.Motors), len(s.Props)
	fit := &s.Compatible
	fit.Motors, fit.PropsOf = make([]Bitset, len(s.Frames)), make([]Bitset, len(s.Frames))
	fit.motorFrame, fit.propFrame = make([][]uint8, len(s.Frames)), make([][]uint8, len(s.Frames))
	for f, frame := range s.Frames {
		if like := s.frameLike[f]; like < f {
			fit.Motors[f], fit.PropsOf[f] = fit.Motors[like], fit.PropsOf[like]
			fit.motorFrame[f], fit.propFrame[f] = fit.motorFrame[like], fit.propFrame[like]
			continue
		}
		fit.Motors[f], fit.PropsOf[f] = NewBitset(nm), NewBitset(np)
		fit.motorFrame[f], fit.propFrame[f] = make([]uint8, nm), make([]uint8, np)
		for m, motor := range s.Motors {
			rule := compat.FirstFault(&inventory.Combination{Frame: frame, Motor: motor})
			if rule == compat.RuleCount {
				continue // too few, or no set
			}
			fit.motorFrame[f][m] = uint8(levelOf(rule))
			if rule == compat.NoRule {
				fit.Motors[f].Add(m)
			}
		}
		for p, prop := range s.Props {
			if prop.Count != nil && *prop.Count < frame.RotorCount() {
				continue
			}
			rule := compat.FirstFault(&inventory.Combination{Frame: frame, Prop: prop})
			fit.propFrame[f][p] = uint8(levelOf(rule))
			if rule == compat.NoRule {
				fit.PropsOf[f].Add(p)
			}
		}
	}
	fit.Props, fit.propMotor = make([]Bitset, nm), table(nm, np)
	for m, motor := range s.Motors {
		fit.Props[m] = NewBitset(np)
		for p, prop := range s.Props {
			rule := compat.FirstFault(&inventory.Combination{Motor: motor, Prop: prop})
			fit.propMotor[m][p] = uint8(levelOf(rule))
			if rule == compat.NoRule {
				fit.Props[m].Add(p)
			}
		}
	}
	fit.Packs, fit.motorCells = make([]Bitset, nm), table(len(s.Supplies), nm)
	for m, motor := range s.Motors {
		fit.Packs[m] = NewBitset(len(s.Packs))
		for k, pack := range s.Packs {
			rule := compat.FirstFault(&inventory.Combination{Motor: motor, Pack: pack})
			fit.motorCells[s.SupplyOf[k]][m] = uint8(levelOf(rule))
			if rule == compat.NoRule {
				fit.Packs[m].Add(k)
			}
		}
	}
}

func table(rows, columns int) [][]uint8 {
	all := make([]uint8, rows*columns)
	t := make([][]uint8, rows)
	for i := range t {
		t[i] = all[i*columns : (i+1)*columns]
	}
	return t
}
