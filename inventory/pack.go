package inventory

import (
	"strings"
	"unicode"

	"partsaloft/physics"
)

// Chemistry is a pack's cell chemistry as a pilot writes it.
type Chemistry string

// The chemistries. A pack without one is read as LiPo.
const (
	LiPo  Chemistry = "lipo"
	LiHV  Chemistry = "lihv"
	LiIon Chemistry = "liion"
)

// Pack is a kind of battery pack in the drawer.
type Pack struct {
	Part `yaml:",inline"`

	Cells              int           `yaml:"cells" check:"also=s|cell_count,min=1,max=14"`
	CapacityMAh        float64       `yaml:"capacity_mah" check:"also=mah|cap|cap_mah,min=50,max=50000,unit=mAh"`
	DischargeC         float64       `yaml:"discharge_c" check:"also=c|c_rating|crating|rating|c_rate|max_c|continuous_c,min=0.5,max=300,unit=C"`
	DischargeA         *float64      `yaml:"discharge_a" check:"also=continuous_a|max_current_a|amps|current_a,min=0.5,max=1000,unit=A"`
	Size               string        `yaml:"size"`
	BurstC             *float64      `yaml:"burst_c" check:"also=burst|peak_c,min=0.5,max=600,unit=C"`
	Chemistry          Chemistry     `yaml:"chemistry" check:"oneof=lipo|lihv|liion,also=type|kind|hv:lihv|lipo hv:lihv|hv lipo:lihv|lipohv:lihv|li-hv:lihv|high voltage:lihv|li-ion:liion|li ion:liion|lithium ion:liion|li-po:lipo|18650:liion|21700:liion"`
	MassG              *float64      `yaml:"mass_g" check:"min=1,max=5000,unit=g,also=weight_g|weight|wt|grams"`
	Connector          Plug          `yaml:"connector" check:"also=plug|plug_type|connector_type,len=40"`
	CellResistanceMohm *float64      `yaml:"cell_resistance_mohm" check:"also=ir|ir_mohm|resistance_mohm|internal_resistance,min=0.2,max=500,unit=milliohm"`
	Cycles             *int          `yaml:"cycles" check:"min=0,max=2000"`
	Condition          PackCondition `yaml:"condition" check:"oneof=sound|retired,also=good:sound|ok:sound|new:sound|used:sound|fine:sound|puffed:retired|swollen:retired|bad:retired|dead:retired|damaged:retired"`
	// AssumedC says that no rating is given, so that DischargeC is the one assumed.
	AssumedC bool        `yaml:"-"`
	SizeMm   *[3]float64 `yaml:"size_mm" check:"min=2,max=400,unit=mm"`
}

// Ratings of a pack that gives none, in C: what cells of the chemistry stand whatever their label would say, so that it
// errs to the safe side (common practice, no source).
const assumedLipoC, assumedIonC = 25, 5

// assumeC gives a pack without a rating the one that is assumed.
func (p *Pack) assumeC() {
	p.AssumedC, p.DischargeC = true, assumedLipoC
	if p.Chemistry == LiIon {
		p.DischargeC = assumedIonC
	}
}

// CycleCount is how many flights the pack has behind it, 0 if it is not given.
func (p *Pack) CycleCount() int {
	if p.Cycles == nil {
		return 0
	}
	return *p.Cycles
}

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
	damageWords = [...]string{"puff", "swoll", "swell", "bloat", "bulg", "balloon", "damag", "crush", "punctur",
		"pierc", "leak", "scorch", "retire", "scrap"}
	wholeDamageWords = [...]string{"dent", "dents", "dented", "burnt", "burned", "dead"}
	negations        = [...]string{"not", "no", "never", "without", "isn't", "wasn't", "aren't", "hasn't", "free"}
)

// damageIn is the first word of a note that tells of damage, "" if there is none. A word up to two
// places after a negation does not count, unless a mark that parts sentences stands between, as in "do not fly, puffed".
func damageIn(note string) string {
	sinceNegation := 3
	for start := 0; start < len(note); {
		end := start
		for end < len(note) && isWordByte(note[end]) {
			end++
		}
		if end == start {
			if strings.IndexByte(",;:.!(", note[start]) >= 0 {
				sinceNegation = 3
			}
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

// Plug is the type of a connector, in the spelling of this package if the type is known; "" if
// it is not given.
type Plug string

// rated is what a plug type carries in A: for the mean of a flight and for seconds as pilots draw it, and what its
// datasheet or maker says of both, 0 where unknown.
func rated(flight, seconds, sheet, sheetSeconds float64) physics.Connector {
	return physics.Connector{ContinuousA: flight, PeakA: seconds, SheetContinuousA: sheet, SheetPeakA: sheetSeconds}
}

// plugs are the plug types with their ratings. Datasheets: PH 2.0, XH 2.5 and XT60 as quoted by sellers; BT 2.0 a
// maker's claim; XT30, XT90, RCY and A30 from memory; the others have none here. What pilots draw: PH 2.0 was read
// at 9 A for seconds, whoops of 19000 kV take 12 A in a punch (common practice, no source), and 450 mAh that a 28 g
// whoop flew in 2:45 outdoors (published build thread) are 8 A; XT60 60 A and 100 A for half a minute (hobby
// write-ups of 2013 and later); the others common practice, no source, in proportion to contacts of their size.
var plugs = [...]struct {
	name     Plug
	forms    []string // letters and digits, lower case
	rating   physics.Connector
	ratingOf string // where the datasheet's figures come from, "" if there are none
}{
	{"PH 2.0", []string{"ph20", "ph2", "ph", "jstph", "jstph20", "jstph2", "jst20"}, rated(8, 12, 2, 0), "datasheet"},
	{"BT 2.0", []string{"bt20", "bt2", "bt"}, rated(10, 15, 0, 15), "maker's claim"},
	{"XH 2.5", []string{"xh25", "xh", "jstxh", "jstxh25", "xh254", "jstxh254"}, rated(9, 15, 3, 0), "datasheet"},
	{"RCY", []string{"rcy", "jstrcy", "jstsyp", "syp", "jstbec"}, rated(9, 15, 3, 0), "from memory"},
	{"A30", []string{"a30"}, rated(15, 30, 0, 30), "from memory"},
	{"XT30", []string{"xt30", "xt30u", "xt30upb", "xt30pw"}, rated(25, 45, 15, 30), "from memory"},
	{"XT60", []string{"xt60", "xt60h", "xt60e", "xt60pw"}, rated(60, 100, 30, 60), "datasheet"},
	{"XT90", []string{"xt90", "xt90h", "xt90s", "xt90e"}, rated(90, 150, 45, 90), "from memory"},
	{"EC3", []string{"ec3"}, rated(50, 90, 0, 0), ""},
	{"EC5", []string{"ec5"}, rated(90, 150, 0, 0), ""},
	{"T plug", []string{"tplug", "deans", "ultraplug"}, rated(50, 80, 0, 0), ""},
}

// NamePlug brings free text to the name of a known plug type; text that names none is kept, outer
// spaces off.
func NamePlug(text string) Plug {
	form := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return -1
	}, text)
	for i := range plugs {
		for _, f := range plugs[i].forms {
			if f == form {
				return plugs[i].name
			}
		}
	}
	return Plug(strings.TrimSpace(text))
}

// Rating is what a plug carries in A, 0 where unknown, with where its datasheet's figures come from, "" if there are
// none; false for a plug that is not known.
func (p Plug) Rating() (rating physics.Connector, from string, ok bool) {
	for i := range plugs {
		if plugs[i].name == p {
			return plugs[i].rating, plugs[i].ratingOf, true
		}
	}
	return physics.Connector{}, "", false
}

// Known says whether the plug is of a known type.
func (p Plug) Known() bool {
	for i := range plugs {
		if plugs[i].name == p {
			return true
		}
	}
	return false
}

// JoinsPlugs reports whether an adapter lead joins the plugs of a pack and a board, either way round:
// which end is the socket is not written down.
func (e *Extra) JoinsPlugs(p *Pack, b *Board) bool {
	r := e.Bridges
	if r == nil || r.What != "connector" {
		return false
	}
	from, to := Plug(r.From), Plug(r.To)
	return from == p.Connector && to == b.Connector || to == p.Connector && from == b.Connector
}

// PlugAdapter is the first extra that joins the plugs of a pack and a board, nil if there is none.
func PlugAdapter(p *Pack, b *Board, extras []*Extra) *Extra {
	for _, e := range extras {
		if e.JoinsPlugs(p, b) {
			return e
		}
	}
	return nil
}
