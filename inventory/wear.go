package inventory

import (
	"unicode"

	"partsaloft/physics"
)

// PackCondition is what a pilot says of a pack's state, over what its note and its readings say.
type PackCondition string

// The conditions. A pack without one is judged by its note, its resistance and its cycles.
const (
	ConditionSound   PackCondition = "sound"
	ConditionRetired PackCondition = "retired"
)

// WearSign is what shows that a pack is worn or damaged, the gravest first.
type WearSign uint8

// The signs; NoWear is the zero value.
const (
	NoWear         WearSign = iota
	GivenRetired            // its condition is given as retired
	NotedDamage             // its note speaks of puffing or damage
	HighResistance          // its cells' resistance is a multiple of what their capacity has when new
	ManyCycles              // it has flown far more often than such packs last
)

// Wear is the gravest sign of wear on a pack.
type Wear struct {
	Sign WearSign
	// Retire says that the sign is beyond the limit, so that the pack is not to be flown; else it is an
	// early note. Overruled says that the drawer gives the pack's condition as sound nevertheless.
	Retire, Overruled bool
	Word              string  // of the note, for NotedDamage
	Value, Usual      float64 // milliohm a cell, for HighResistance; cycles, for ManyCycles
}

// Limits of wear. Resistance is held against that of a new pack of the same capacity, whose law scatters
// by a factor of 1.5 (one standard deviation): three times is 2.7 and six times 4.5 standard deviations
// away from new, and beyond what the law of ageing reaches in 300 cycles (a factor of two). How long
// packs last is common practice, no source.
const (
	agingRatio, RetireRatio           = 3.0, 6.0
	lipoAgingCycles, lipoRetireCycles = 300, 600
	ionAgingCycles, ionRetireCycles   = 500, 1000

	// Under this a charger reads leads and plug as much as the cell: packs over some 8 Ah read about as
	// much whatever their capacity.
	leastJudgedMohm = 4.0
)

// Wear is the gravest sign of wear that the drawer holds on the pack.
func (p *Pack) Wear() Wear {
	if p.Condition == ConditionRetired {
		return Wear{Sign: GivenRetired, Retire: true}
	}
	sound := p.Condition == ConditionSound
	if word := damageIn(p.Note); word != "" {
		return Wear{Sign: NotedDamage, Retire: true, Overruled: sound, Word: word}
	}
	var early Wear
	if p.CellResistanceMohm != nil && *p.CellResistanceMohm >= leastJudgedMohm {
		usual := 1000 * physics.EstimatePackResistance(p.Chemistry.SI(), 1, p.CapacityMAh/1000, 0).Value
		w := Wear{Sign: HighResistance, Overruled: sound, Value: *p.CellResistanceMohm, Usual: usual}
		switch ratio := w.Value / usual; {
		case ratio >= RetireRatio:
			w.Retire = true
			return w
		case ratio >= agingRatio:
			early = w
		}
	}
	aging, retire := lipoAgingCycles, lipoRetireCycles
	if p.Chemistry == LiIon {
		aging, retire = ionAgingCycles, ionRetireCycles
	}
	w := Wear{Sign: ManyCycles, Overruled: sound, Value: float64(p.CycleCount()), Usual: float64(aging)}
	switch n := p.CycleCount(); {
	case n >= retire:
		w.Retire = true
		return w
	case n >= aging && early.Sign == NoWear:
		early = w
	}
	return early
}

// Retired reports whether the pack is to be retired, so that it is not flown.
func (p *Pack) Retired() bool {
	w := p.Wear()
	return w.Retire && !w.Overruled
}

// damageWords are beginnings of words that tell of a damaged pack, and whole words where the beginning
// says too little.
var (
	damageWords      = [...]string{"puff", "swoll", "swell", "bloat", "bulg", "balloon", "damag", "crush", "punctur", "pierc", "leak", "scorch", "retire", "scrap"}
	wholeDamageWords = [...]string{"dent", "dents", "dented", "burnt", "burned", "dead"}
	negations        = [...]string{"not", "no", "never", "without", "isn't", "wasn't", "aren't", "hasn't", "free"}
)

// damageIn is the first word of a note that tells of damage, "" if there is none. A word up to two
// places after a negation does not count.
func damageIn(note string) string {
	sinceNegation := 3
	for start := 0; start < len(note); {
		end := start
		for end < len(note) && isWordByte(note[end]) {
			end++
		}
		if end == start {
			start++
			continue
		}
		word := note[start:end]
		start = end
		switch {
		case isAny(word, negations[:], false):
			sinceNegation = 0
		case sinceNegation >= 2 && (isAny(word, damageWords[:], true) || isAny(word, wholeDamageWords[:], false)):
			return word
		default:
			sinceNegation++
		}
	}
	return ""
}

func isWordByte(b byte) bool {
	return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b == '\'' || b >= 0x80
}

// isAny reports whether a word is one of a list, or begins like one, in small or capital letters.
func isAny(word string, list []string, begins bool) bool {
	for _, one := range list {
		if len(word) == len(one) || begins && len(word) > len(one) {
			alike := true
			for i := range one {
				alike = alike && unicode.ToLower(rune(word[i])) == rune(one[i])
			}
			if alike {
				return true
			}
		}
	}
	return false
}
