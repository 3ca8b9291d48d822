package space

import (
	"partsaloft/inventory/compat"
)

// count counts candidates, those that fall to each rule, and those that fit, without visiting
// them: the number whose level is at least l is, summed over frames and supplies, bodies of that
// level times packs times motors with props of that level.
func (s *Space) count() {
	fit := &s.Compatible
	packs := make([]int64, len(s.Supplies))
	for _, v := range s.SupplyOf {
		packs[v]++
	}
	alike := make([]int64, len(s.Frames)) // frames that count as this one; 0 if it counts as another
	for _, like := range s.frameLike {
		alike[like]++
	}
	np := len(s.Props)
	var atLeast [levels + 1]int64
	for l := int(compat.RuleCount); l < levels; l++ {
		mounted := make([]Bitset, len(s.Motors))
		for m := range mounted {
			mounted[m] = atLevel(fit.propMotor[m], l, np)
		}
		for f := range s.Frames {
			if alike[f] == 0 {
				continue
			}
			sized := atLevel(fit.propFrame[f], l, np)
			props := make([]int64, len(s.Motors))
			for m := range props {
				if int(fit.motorFrame[f][m]) >= l {
					props[m] = mounted[m].meet(sized)
				}
			}
			for v := range s.Supplies {
				var bodies, rotors int64
				for level := l; level < levels; level++ {
					bodies += fit.bodies[f][v][level]
				}
				if bodies == 0 {
					continue
				}
				for m, n := range props {
					if int(fit.motorCells[v][m]) >= l {
						rotors += n
					}
				}
				atLeast[l] += alike[f] * bodies * packs[v] * rotors
			}
		}
	}
	s.Candidates, s.Fitted = atLeast[compat.RuleCount], atLeast[compat.RuleEnd]
	for r := compat.RuleCount; r < compat.RuleEnd; r++ {
		s.Excluded[r] = atLeast[r] - atLeast[r+1]
	}
	s.countPowertrains()
}

func atLevel(row []uint8, level, n int) Bitset {
	out := NewBitset(n)
	for i, l := range row {
		if int(l) >= level {
			out.Add(i)
		}
	}
	return out
}

// countPowertrains counts motors, props and packs that go together in some body, up to the bound
// of exact search, and notes which packs each frame takes.
func (s *Space) countPowertrains() {
	fit := &s.Compatible
	fit.PacksOf = make([]Bitset, len(s.Frames))
	for f := range s.Frames {
		if like := s.frameLike[f]; like < f {
			fit.PacksOf[f] = fit.PacksOf[like]
			continue
		}
		fit.PacksOf[f] = NewBitset(len(s.Packs))
		for k, v := range s.SupplyOf {
			if fit.bodies[f][v][levelOf(compat.NoRule)] > 0 {
				fit.PacksOf[f].Add(k)
			}
		}
	}
	taken := NewBitset(len(s.Packs))
	for m := range s.Motors {
		for p := range s.Props {
			if !fit.Props[m].Has(p) {
				continue
			}
			clear(taken)
			for f := range s.Frames {
				if s.frameLike[f] == f && fit.Motors[f].Has(m) && fit.PropsOf[f].Has(p) {
					taken.join(fit.PacksOf[f])
				}
			}
			s.Powertrains += taken.meet(fit.Packs[m])
			if s.Powertrains > MaxPowertrains {
				return
			}
		}
	}
}

// MaxPowertrains is the number of fitted powertrains up to which a search is exact by itself.
const MaxPowertrains = 2_000_000
