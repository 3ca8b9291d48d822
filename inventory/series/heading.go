package series

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// heading is a column's heading taken apart.
type heading struct {
	text   string
	words  []string // in lower case; letters and digits apart
	joined string   // the words without anything between
	unit   string   // in brackets, behind the last sign, in a row of units or behind the values
	factor float64  // what a note such as x100 or /100 says that a value is to be multiplied by
	number int      // of several that are named alike, 0 if there is none
}

// dissect takes a heading apart. A unit that is told elsewhere wins over one in the heading.
func dissect(text, unitRow string) heading {
	h := heading{text: text, factor: 1}
	plain := fold(text)
	for _, pair := range [...][2]string{{"(", ")"}, {"[", "]"}, {"{", "}"}, {"<", ">"}} {
		if from := strings.Index(plain, pair[0]); from >= 0 {
			if to := strings.Index(plain[from:], pair[1]); to > 0 {
				inner := strings.TrimSpace(plain[from+1 : from+to])
				if f, ok := multiplier(inner); ok {
					h.factor = f
				} else {
					h.unit = strings.ToLower(inner)
				}
				plain = plain[:from] + " " + plain[from+to+1:]
			}
		}
	}
	if at := strings.LastIndexAny(plain, "x×*/"); at > 0 {
		if f, ok := multiplier(plain[at:]); ok && (plain[at] != 'x' || !unicode.IsLetter(rune(plain[at-1]))) {
			h.factor, plain = f, plain[:at]
		}
	}
	h.words = words(plain)
	for _, w := range h.words {
		if k, err := strconv.Atoi(w); err == nil {
			h.number = k + 1
		}
	}
	if n := len(h.words); n > 1 && h.unit == "" && isUnit(h.words[n-1]) {
		h.unit, h.words = h.words[n-1], h.words[:n-1]
	} else if at := strings.LastIndexAny(plain, " _-,;:"); at > 0 && h.unit == "" {
		if u := strings.ToLower(strings.TrimSpace(plain[at+1:])); isUnit(u) {
			h.unit = u
		}
	}
	if u := strings.ToLower(strings.Trim(fold(unitRow), " ()[]{}")); u != "" {
		h.unit = u
	}
	h.joined = strings.Join(h.words, "")
	return h
}

// fold writes the signs of units as one: both micro signs, and what stands for them and for degrees in Latin-1.
func fold(s string) string {
	s = strings.ReplaceAll(s, "μ", "µ")
	if (strings.Contains(s, "\xb5") || strings.Contains(s, "\xb0")) && !validUTF8(s) {
		s = strings.ReplaceAll(strings.ReplaceAll(s, "\xb5", "µ"), "\xb0", "°")
		s = strings.ToValidUTF8(s, "?")
	}
	return strings.ToValidUTF8(strings.ReplaceAll(s, "²", "2"), "?")
}

func validUTF8(s string) bool { return strings.ToValidUTF8(s, "") == s }

// multiplier reads x100 (the values are a hundred times) and /100 (a hundredth).
func multiplier(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if len(s) < 2 {
		return 0, false
	}
	sign, rest := s[:1], strings.TrimSpace(s[1:])
	if strings.HasPrefix(s, "×") {
		sign, rest = "x", strings.TrimSpace(s[len("×"):])
	}
	n, err := strconv.Atoi(rest)
	if err != nil || n != 10 && n != 100 && n != 1000 {
		return 0, false
	}
	switch sign {
	case "x", "X", "*":
		return 1 / float64(n), true
	case "/":
		return float64(n), true
	}
	return 0, false
}

// words cuts a heading at signs, blanks, capitals inside words, and between letters and digits.
func words(s string) []string {
	var list []string
	var word []rune
	flush := func() {
		if len(word) > 0 {
			list = append(list, strings.ToLower(string(word)))
			word = word[:0]
		}
	}
	var before rune
	for _, r := range s {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%' && r != '°':
			flush()
			before = 0
			continue
		case unicode.IsDigit(r) != unicode.IsDigit(before), unicode.IsUpper(r) && unicode.IsLower(before):
			// eRPM, mAh and mV stay one word.
			if unicode.IsDigit(r) != unicode.IsDigit(before) || len(word) != 1 {
				flush()
			}
		}
		word = append(word, r)
		before = r
	}
	flush()
	return list
}

// cue is a word that speaks for a quantity, or against it.
type cue struct {
	word   string
	inside bool // also inside other words
	for_   Quantity
	points int
}

// enough are the points from which a heading is taken for a quantity.
const enough = 4

var cues = []cue{
	{"time", false, Time, 6}, {"timestamp", false, Time, 6}, {"clock", false, Time, 5}, {"zeit", false, Time, 6},
	{"elapsed", false, Time, 5}, {"uptime", false, Time, 5}, {"timer", false, Time, 4}, {"t", false, Time, 4},
	{"seconds", false, Time, 5}, {"sec", false, Time, 4}, {"secs", false, Time, 4}, {"millis", false, Time, 5},
	{"micros", false, Time, 5}, {"tiempo", false, Time, 6}, {"temps", false, Time, 5},
	{"ms", false, Time, 4}, {"us", false, Time, 4}, {"µs", false, Time, 4}, {"s", false, Time, 4},

	{"volt", true, Volts, 6}, {"spannung", true, Volts, 6}, {"tension", false, Volts, 5}, {"vbat", true, Volts, 6},
	{"vpack", false, Volts, 6}, {"ubat", true, Volts, 6}, {"v", false, Volts, 4}, {"u", false, Volts, 4},
	{"battery", false, Volts, 2}, {"batt", false, Volts, 2}, {"bat", false, Volts, 2}, {"pack", false, Volts, 2},
	{"akku", false, Volts, 2}, {"lipo", false, Volts, 2},

	{"amper", true, Amps, 6}, {"current", true, Amps, 6}, {"curr", false, Amps, 6}, {"strom", true, Amps, 6},
	{"amps", false, Amps, 6}, {"amp", false, Amps, 5}, {"i", false, Amps, 4}, {"ibat", true, Amps, 6},
	{"corriente", false, Amps, 6}, {"courant", false, Amps, 6}, {"battery", false, Amps, 1}, {"pack", false, Amps, 1},

	{"throttle", true, Throttle, 6}, {"thr", false, Throttle, 5}, {"gas", false, Throttle, 5},
	{"stick", false, Throttle, 1}, {"drossel", true, Throttle, 5}, {"throt", false, Throttle, 5},

	{"rpm", true, RPM, 6}, {"drehzahl", true, RPM, 6}, {"revs", false, RPM, 5}, {"rev", false, RPM, 4},
	{"erpm", true, ERPM, 9}, {"electrical", false, ERPM, 2},

	{"speed", true, Speed, 6}, {"velocity", true, Speed, 6}, {"spd", true, Speed, 5}, {"vel", false, Speed, 4},
	{"geschwindigkeit", true, Speed, 6}, {"ground", false, Speed, 1},

	{"altitude", true, Height, 6}, {"height", true, Height, 6}, {"alt", false, Height, 5}, {"höhe", true, Height, 6},
	{"hoehe", true, Height, 6}, {"agl", false, Height, 4},

	{"tilt", true, Tilt, 6}, {"inclination", false, Tilt, 6}, {"lean", false, Tilt, 5}, {"neigung", false, Tilt, 6},
	{"roll", false, Roll, 3}, {"pitch", false, Pitch, 3}, {"angle", false, Roll, 2}, {"angle", false, Pitch, 2},
	{"attitude", false, Roll, 2}, {"attitude", false, Pitch, 2}, {"angle", false, Tilt, 1},

	{"mah", true, Used, 6}, {"consumed", true, Used, 4}, {"used", false, Used, 4}, {"drawn", false, Used, 4},
	{"capacity", false, Used, 2}, {"charge", false, Used, 2}, {"verbrauch", true, Used, 5}, {"fuel", false, Used, 2},
}

// against are words that speak against a quantity, "" against all but time.
var against = []cue{
	{"setpoint", true, "", 8}, {"target", false, "", 8}, {"desired", false, "", 8}, {"limit", false, "", 8},
	{"min", false, "", 6}, {"max", false, "", 6}, {"warn", true, "", 8}, {"alarm", false, "", 8}, {"error", false, "", 8},
	{"gyro", true, "", 8}, {"rate", false, "", 6}, {"acc", false, "", 8}, {"accel", true, "", 8}, {"temp", false, "", 8},
	{"temperature", true, "", 8}, {"rssi", true, "", 8}, {"status", false, "", 5}, {"count", false, "", 6},
	{"receiver", false, Volts, 8}, {"rx", false, Volts, 8}, {"bec", false, Volts, 8}, {"servo", false, Volts, 8},
	{"ref", false, Volts, 6}, {"5v", true, Volts, 6}, {"3v3", true, Volts, 6}, {"rail", false, Volts, 8},
	{"cell", true, Volts, 6}, {"zelle", true, Volts, 6},
	{"vertical", false, Speed, 8}, {"climb", false, Speed, 8}, {"vario", false, Speed, 8}, {"wind", true, Speed, 8},
	{"motor", false, Speed, 8}, {"rotor", false, Speed, 8}, {"vz", false, Speed, 8},
	{"remaining", true, Used, 8}, {"left", false, Used, 6}, {"used", false, Time, 4}, {"date", false, Time, 4},
	{"dt", false, Time, 6}, {"delta", false, Time, 6}, {"gps", false, Time, 2}, {"remaining", true, Time, 8},
	{"power", false, Used, 6}, {"energy", false, Used, 6}, {"mah", true, Amps, 6}, {"consumed", true, Amps, 6},
	{"used", false, Amps, 6}, {"stick", false, Roll, 6}, {"stick", false, Pitch, 6},
	{"rc", false, Roll, 6}, {"rc", false, Pitch, 6}, {"command", false, Roll, 6}, {"command", false, Pitch, 6},
	{"trim", false, "", 6}, {"idle", false, "", 6},
}

// points are how much a heading speaks for a quantity.
func (h *heading) points(q Quantity) int {
	switch q {
	case CellV:
		if !h.has("cell", true) && !h.has("zelle", true) {
			return 0
		}
		return h.sum(Volts) + 7
	case ESCAmps:
		if h.number == 0 || !h.has("esc", true) && !h.has("motor", false) {
			return 0
		}
		return h.sum(Amps) + 2
	case Outputs:
		if h.number == 0 || h.sum(RPM) >= enough || h.sum(Volts) >= enough || h.sum(Amps) >= enough || h.has("erpm", true) ||
			h.has("temp", true) {
			return 0
		}
		p := 0
		for _, w := range [...]string{"motor", "mot", "m", "output", "out", "duty"} {
			if h.has(w, false) {
				p += 4
			}
		}
		return p + h.resent(q)
	}
	p := h.sum(q)
	if q == RPM && (h.has("motor", false) || h.has("rotor", false)) && h.has("speed", false) {
		p += 5
	}
	return p
}

func (h *heading) sum(q Quantity) int {
	p := 0
	for _, c := range cues {
		if c.for_ == q && h.has(c.word, c.inside) {
			if c.points >= enough {
				p = max(p, c.points)
			}
		}
	}
	for _, c := range cues {
		if c.for_ == q && c.points < enough && h.has(c.word, c.inside) {
			p += c.points
		}
	}
	if _, ok := unitOf(h.unit, q); ok {
		switch q {
		case Time, Height:
			p++
		case Used:
			p += 6
		case RPM:
			p += enough
		case Roll, Pitch, Tilt:
			if p > 0 {
				p += 2
			}
		default:
			p += 3
		}
	}
	return p + h.resent(q)
}

func (h *heading) resent(q Quantity) int {
	p := 0
	for _, c := range against {
		if (c.for_ == q || c.for_ == "" && q != Time) && h.has(c.word, c.inside) {
			p -= c.points
		}
	}
	return p
}

func (h *heading) has(word string, inside bool) bool {
	return slices.Contains(h.words, word) || inside && strings.Contains(h.joined, word)
}

// meaning is the quantity that a heading speaks for most, "" if for none.
func (h *heading) meaning() (Quantity, int) {
	best, most := Quantity(""), enough-1
	for _, q := range Quantities() {
		if p := h.points(q); p > most || p == most && best == Amps && p >= enough {
			// "current" is an adjective beside another noun.
			best, most = q, p
		}
	}
	return best, most
}
