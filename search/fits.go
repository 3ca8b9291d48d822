package search

import (
	"partsaloft/inventory"
)

// levels are the rules of fit with one more for what breaks none: the level of a pair or a body is
// the first rule it breaks, and that of a candidate the least of its parts' levels.
const levels = int(inventory.RuleEnd) + 1

func levelOf(r inventory.Rule) int {
	if r == inventory.NoRule {
		return int(inventory.RuleEnd)
	}
	return int(r)
}

// fits says which parts go together. Sets of props hang on a motor or a frame, sets of packs on a
// motor or a frame, and what is in both fits.
type fits struct {
	motors  []set // by frame
	props   []set // by motor
	propsOf []set // by frame: enough pieces, size
	packs   []set // by motor
	packsOf []set // by frame: some body takes the pack

	// For the counts: the level of each pair.
	motorFrame [][]uint8         // by frame; 0: too few pieces, no candidate
	propFrame  [][]uint8         // by frame; 0: too few pieces, no candidate
	propMotor  [][]uint8         // by motor
	motorCells [][]uint8         // by supply
	bodies     [][][levels]int64 // by frame and supply: bodies of each level
}

// tryPairs applies the rules of fit to the pairs that hang on no extras.
func (s *Space) tryPairs() {
	nm, np := len(s.motors), len(s.props)
	fit := &s.fit
	fit.motors, fit.propsOf = make([]set, len(s.frames)), make([]set, len(s.frames))
	fit.motorFrame, fit.propFrame = table(len(s.frames), nm), table(len(s.frames), np)
	for f, frame := range s.frames {
		fit.motors[f], fit.propsOf[f] = newSet(nm), newSet(np)
		for m, motor := range s.motors {
			rule := (&inventory.Combination{Frame: frame, Motor: motor}).FirstFault()
			if rule == inventory.RuleCount {
				continue // too few, or no set
			}
			fit.motorFrame[f][m] = uint8(levelOf(rule))
			if rule == inventory.NoRule {
				fit.motors[f].add(m)
			}
		}
		for p, prop := range s.props {
			if prop.Count != nil && *prop.Count < frame.RotorCount() {
				continue
			}
			rule := (&inventory.Combination{Frame: frame, Prop: prop}).FirstFault()
			fit.propFrame[f][p] = uint8(levelOf(rule))
			if rule == inventory.NoRule {
				fit.propsOf[f].add(p)
			}
		}
	}
	fit.props, fit.propMotor = make([]set, nm), table(nm, np)
	for m, motor := range s.motors {
		fit.props[m] = newSet(np)
		for p, prop := range s.props {
			rule := (&inventory.Combination{Motor: motor, Prop: prop}).FirstFault()
			fit.propMotor[m][p] = uint8(levelOf(rule))
			if rule == inventory.NoRule {
				fit.props[m].add(p)
			}
		}
	}
	fit.packs, fit.motorCells = make([]set, nm), table(len(s.supplies), nm)
	for m, motor := range s.motors {
		fit.packs[m] = newSet(len(s.packs))
		for k, pack := range s.packs {
			rule := (&inventory.Combination{Motor: motor, Pack: pack}).FirstFault()
			fit.motorCells[s.supplyOf[k]][m] = uint8(levelOf(rule))
			if rule == inventory.NoRule {
				fit.packs[m].add(k)
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

// count counts candidates, those that fall to each rule, and those that fit, without visiting
// them: the number whose level is at least l is, summed over frames and supplies, bodies of that
// level times packs times motors with props of that level.
func (s *Space) count() {
	fit := &s.fit
	packs := make([]int64, len(s.supplies))
	for _, v := range s.supplyOf {
		packs[v]++
	}
	np := len(s.props)
	var atLeast [levels + 1]int64
	for l := int(inventory.RuleCount); l < levels; l++ {
		mounted := make([]set, len(s.motors))
		for m := range mounted {
			mounted[m] = atLevel(fit.propMotor[m], l, np)
		}
		for f := range s.frames {
			sized := atLevel(fit.propFrame[f], l, np)
			props := make([]int64, len(s.motors))
			for m := range props {
				if int(fit.motorFrame[f][m]) >= l {
					props[m] = mounted[m].meet(sized)
				}
			}
			for v := range s.supplies {
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
				atLeast[l] += bodies * packs[v] * rotors
			}
		}
	}
	s.candidates, s.fitted = atLeast[inventory.RuleCount], atLeast[inventory.RuleEnd]
	for r := inventory.RuleCount; r < inventory.RuleEnd; r++ {
		s.fallen[r] = atLeast[r] - atLeast[r+1]
	}
	s.countPowertrains()
}

func atLevel(row []uint8, level, n int) set {
	out := newSet(n)
	for i, l := range row {
		if int(l) >= level {
			out.add(i)
		}
	}
	return out
}

// countPowertrains counts motors, props and packs that go together in some body, up to the bound
// of exact search, and notes which packs each frame takes.
func (s *Space) countPowertrains() {
	fit := &s.fit
	fit.packsOf = make([]set, len(s.frames))
	for f := range s.frames {
		fit.packsOf[f] = newSet(len(s.packs))
		for k, v := range s.supplyOf {
			if fit.bodies[f][v][levelOf(inventory.NoRule)] > 0 {
				fit.packsOf[f].add(k)
			}
		}
	}
	taken := newSet(len(s.packs))
	for m := range s.motors {
		for p := range s.props {
			if !fit.props[m].has(p) {
				continue
			}
			clear(taken)
			for f := range s.frames {
				if fit.motors[f].has(m) && fit.propsOf[f].has(p) {
					taken.join(fit.packsOf[f])
				}
			}
			s.powertrain += taken.meet(fit.packs[m])
			if s.powertrain > exactPowertrains {
				return
			}
		}
	}
}

// exactPowertrains is the number of fitted powertrains up to which a search is exact by itself.
const exactPowertrains = 2_000_000
