package strict

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	comma     = regexp.MustCompile(`^[+-]?\d+,\d+$`)
	thousands = regexp.MustCompile(`^[1-9]\d{0,2}(?:[ '_’]\d{3})+(?:\.\d+)?$`)
	withUnit  = regexp.MustCompile(`^([+-]?\d+(?:[.,]\d+)?) *([^\d\s.,+-][^\d]*[2²]?)$`)
	bracketed = regexp.MustCompile(`^([+-]?\d+(?:[.,]\d+)?) *([^\d\s.,+()-][^\d()]*)?\([^()]*\)$`)
	spread    = regexp.MustCompile(`^(\d+(?:[.,]\d+)?) *(?:±|\+ ?/? ?-) *\d`)
	interval  = regexp.MustCompile(`^\d+(?:[.,]\d+)? *(?:-|\.\.|/|to|or|bis) *\d+(?:[.,]\d+)?`)
	clock     = regexp.MustCompile(`^(\d{1,3})(?::| ?m(?:in)?\.? ?|' ?)([0-5]?\d)(?: ?s(?:ec)?\.?|")?$`)
	leading   = regexp.MustCompile(`^(~|≈|≃|<|>|±|ca\.?|circa|about|approx\.?|x|×) *`)
	thread    = regexp.MustCompile(`^[Mm](\d(?:\.\d)?)$`)
	magnets   = regexp.MustCompile(`^(?i:\d{1,2}N ?(\d{1,2})P)$`)
)

// notKnown are words for a value that the pilot does not have.
var notKnown = wordSet("- -- – — n/a na n.a. tbd todo unknown none nil no x xxx ? ?? ??? unbekannt .")

// inWords are small numbers of pieces.
var inWords = map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6",
	"seven": "7", "eight": "8", "nine": "9", "ten": "10", "twelve": "12", "pair": "2", "a pair": "2"}

func wordSet(words string) map[string]bool {
	set := map[string]bool{}
	for _, word := range strings.Fields(words) {
		set[word] = true
	}
	return set
}

// ordinary turns signs that only look like those of a plain number into these: spaces that are none,
// dashes for minus, digits and points of other scripts.
func ordinary(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune("\u00a0\u202f\u2009\u2007\u3000", r):
			return ' '
		case strings.ContainsRune("−–", r):
			return '-'
		case strings.ContainsRune("·٫．", r):
			return '.'
		case r == '，':
			return ','
		case r >= '０' && r <= '９':
			return '0' + r - '０'
		}
		return r
	}, s))
}

// write is the way out of writing something else in place of what stands there.
func write(way Code, to string) Problem { return Problem{Way: way, Write: to} }

// writeAs is a way out that names what to write where more than one thing may be meant.
func writeAs(way Code, as any) Problem { return Problem{Way: way, Values: Values{"as": as}} }

// doubt is the way out of a number that is not known well.
func doubt(number string) Problem { return Problem{Way: "write.doubt", Write: number, Doubt: true} }

// numberHelp is the way out for a number that was written some other way: a problem without a code.
func numberHelp(written string, r rule, whole bool) Problem {
	generic := Problem{Way: "write.number"}
	switch {
	case whole:
		generic = Problem{Way: "write.whole"}
	case r.unit != "":
		generic = Problem{Way: "write.number_in", Values: Values{"unit": r.unit}}
	}
	s := ordinary(written)
	if s == "" {
		return Problem{Way: "write.number_or_leave"}
	}
	if notKnown[strings.ToLower(s)] {
		if r.required {
			return Problem{Way: "find_out"}
		}
		return Problem{Way: "leave_out.unknown"}
	}
	if word, ok := inWords[strings.ToLower(s)]; ok && whole {
		return write("write.it", word)
	}
	if t := strings.TrimRight(s, ",; "); t != s && plainNumber.MatchString(t) {
		return write("write.it", t)
	}
	if plainNumber.MatchString(s) {
		return write("write.it", s)
	}
	if first := []rune(s)[0]; isQuote(first) {
		if t := strings.TrimFunc(s, func(r rune) bool { return isQuote(r) || r == ' ' }); plainNumber.MatchString(t) {
			return write("write.no_quotes", t)
		}
	}
	if comma.MatchString(s) {
		return commaHelp(s, r)
	}
	if thousands.MatchString(s) {
		return write("write.it", strings.NewReplacer(" ", "", "'", "", "_", "", "’", "").Replace(s))
	}
	if m := leading.FindString(s); m != "" {
		if rest := strings.Replace(s[len(m):], ",", ".", 1); plainNumber.MatchString(rest) {
			if m[0] == 'x' || strings.HasPrefix(m, "×") {
				return write("write.it", rest)
			}
			return doubt(rest)
		}
	}
	if m := clock.FindStringSubmatch(s); m != nil && r.unit == "min" {
		minutes, _ := strconv.Atoi(m[1])
		seconds, _ := strconv.Atoi(m[2])
		return write("write.it", strconv.FormatFloat(float64(minutes)+float64(seconds)/60, 'g', 4, 64))
	}
	if m := thread.FindStringSubmatch(s); m != nil && r.unit == "mm" {
		if x, err := strconv.ParseFloat(m[1], 64); err == nil && x >= r.low && x <= r.high {
			return writeAs("write.thread", m[1])
		}
	}
	if m := magnets.FindStringSubmatch(s); m != nil && whole {
		return write("write.it", m[1])
	}
	if x, err := strconv.ParseInt(s, 0, 32); err == nil {
		return writeAs("write.decimal", Number(x))
	}
	if m := spread.FindStringSubmatch(s); m != nil {
		return doubt(strings.Replace(m[1], ",", ".", 1))
	}
	if interval.MatchString(s) {
		if r.unit == "A" || r.unit == "C" {
			return Problem{Way: "write.one_lower"}
		}
		return Problem{Way: "write.one_likeliest"}
	}
	if m := bracketed.FindStringSubmatch(s); m != nil {
		if m[2] == "" || inUnit(m[2], r.unit) {
			return writeAs("write.rest", strings.Replace(m[1], ",", ".", 1))
		}
		return generic
	}
	if m := withUnit.FindStringSubmatch(s); m != nil {
		if help := unitHelp(strings.Replace(m[1], ",", ".", 1), m[2], r.unit); help.Way != "" {
			return help
		}
	}
	return generic
}

// commaHelp is the way out for a number with a comma.
func commaHelp(s string, r rule) Problem {
	before, part, _ := strings.Cut(s, ",")
	point := before + "." + part
	if x, err := strconv.ParseFloat(point, 64); err == nil && len(part) == 3 && x < r.low && 1000*x <= r.high {
		return write("write.it", before+part) // it can be nothing but thousands
	}
	if len(part) == 3 && strings.Trim(before, "+-0") != "" && len(before) <= 3 {
		return Problem{Way: "write.thousands", Values: Values{"whole": before + part, "point": point}}
	}
	p := write("write.point", point)
	p.Values = Values{"comma": s}
	return p
}

// unitHelp is the way out for a number with something behind it, none if what stands there is not known.
func unitHelp(number, written, unit string) Problem {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return Problem{}
	}
	word := unitWord(written)
	switch {
	case word == "?" || word == "??":
		return doubt(formatNumber(x))
	case word == "k" && unit != "°C", word == "kv" && unit == "rpm per volt" && x < 100:
		return write("write.it", formatNumber(x*1000))
	case pieceWords[word] && unit == "":
		return write("write.it", formatNumber(x))
	}
	if unit == "" {
		for _, units := range pilotUnits {
			for one := range strings.FieldsSeq(units[0].words) {
				if one == word {
					return writeAs("write.if_unit", Number(x))
				}
			}
		}
	}
	u, ok := unitNamed(word, unit)
	switch {
	case word == "mw" && unit == "W":
		return Problem{Way: "write.not_radio", Values: Values{"milliwatts": Number(x)}}
	case !ok:
		return Problem{}
	case u.factor == 1 && u.offset == 0:
		return write("write.unit_in_key", formatNumber(x))
	}
	p := write("write.converted", strconv.FormatFloat(u.of(x), 'g', 5, 64))
	p.Values = Values{"unit": unit}
	return p
}

// rangeHelp is the way out for a number beyond its bounds: the unit that would bring it inside, or the digits.
func rangeHelp(x float64, r rule, path string) Problem {
	if r.unit == "V" && strings.HasSuffix(path, "cell_v") && x > r.high && x <= 14*r.high {
		return Problem{Way: "divide_by_cells"}
	}
	for _, u := range pilotUnits[r.unit] {
		if y := u.of(x); u.slip != "" && y >= r.low && y <= r.high {
			if u.slip == "Ah" && x != math.Trunc(x) { // in Ah or with a point between thousands, it is the same
				to := strconv.FormatFloat(y, 'f', -1, 64)
				return Problem{Way: "write.if_ah", Values: Values{"as": to, "unit": u.slip}, Write: to, Doubt: true}
			}
			p := writeAs("write.if_in", strconv.FormatFloat(y, 'g', 4, 64))
			switch u.slip {
			case "share":
				p.Way = "write.if_share"
			case "Ah":
				p.Way = "write.if_ah"
			}
			return p.With("unit", u.slip)
		}
	}
	if r.unit == "" {
		return Problem{Way: "check.digits"}
	}
	return Problem{Way: "check.digits_unit"}
}

func isQuote(r rune) bool { return strings.ContainsRune("\"'“”„‟«»‘’‚`´″′", r) }
