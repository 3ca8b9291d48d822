package strict

import (
	"fmt"
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
var inWords = map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "twelve": "12", "pair": "2", "a pair": "2"}

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

// numberHelp says how to write a number that was written some other way.
func numberHelp(written string, r rule, whole bool) string {
	generic := "write a bare number such as 12.5"
	switch {
	case whole:
		generic = "write a bare number such as 4"
	case r.unit != "":
		generic = fmt.Sprintf("write the bare number in %s, such as 12.5", r.unit)
	}
	s := ordinary(written)
	if s == "" {
		return "write a number, or leave the key out"
	}
	if notKnown[strings.ToLower(s)] {
		if r.required {
			return "find it out: it must be given"
		}
		return "leave the key out where it is not known"
	}
	if word, ok := inWords[strings.ToLower(s)]; ok && whole {
		return "write " + word
	}
	if t := strings.TrimRight(s, ",; "); t != s && plainNumber.MatchString(t) {
		return "write " + t
	}
	if plainNumber.MatchString(s) {
		return "write " + s
	}
	if first := []rune(s)[0]; isQuote(first) {
		if t := strings.TrimFunc(s, func(r rune) bool { return isQuote(r) || r == ' ' }); plainNumber.MatchString(t) {
			return "write " + t + " without quotes"
		}
	}
	if comma.MatchString(s) {
		before, part, _ := strings.Cut(s, ",")
		point := before + "." + part
		if len(part) == 3 && strings.Trim(before, "+-0") != "" && len(before) <= 3 {
			return fmt.Sprintf("write %s%s or %s, without a comma", before, part, point)
		}
		return fmt.Sprintf("write %s, not %s", point, s)
	}
	if thousands.MatchString(s) {
		return "write " + strings.NewReplacer(" ", "", "'", "", "_", "", "’", "").Replace(s)
	}
	if m := leading.FindString(s); m != "" {
		if rest := strings.Replace(s[len(m):], ",", ".", 1); plainNumber.MatchString(rest) {
			if m[0] == 'x' || strings.HasPrefix(m, "×") {
				return "write " + rest
			}
			return fmt.Sprintf("write %s, and the doubt in note", rest)
		}
	}
	if m := clock.FindStringSubmatch(s); m != nil && r.unit == "min" {
		minutes, _ := strconv.Atoi(m[1])
		seconds, _ := strconv.Atoi(m[2])
		return "write " + strconv.FormatFloat(float64(minutes)+float64(seconds)/60, 'g', 4, 64)
	}
	if m := thread.FindStringSubmatch(s); m != nil && r.unit == "mm" {
		if x, err := strconv.ParseFloat(m[1], 64); err == nil && x >= r.low && x <= r.high {
			return fmt.Sprintf("write %s if the thread's diameter is meant", m[1])
		}
	}
	if m := magnets.FindStringSubmatch(s); m != nil && whole {
		return "write " + m[1]
	}
	if x, err := strconv.ParseInt(s, 0, 32); err == nil {
		return fmt.Sprintf("write the decimal number %d", x)
	}
	if m := spread.FindStringSubmatch(s); m != nil {
		return fmt.Sprintf("write %s, and the doubt in note", strings.Replace(m[1], ",", ".", 1))
	}
	if interval.MatchString(s) {
		if r.unit == "A" || r.unit == "C" {
			return "write one number, the lower if in doubt"
		}
		return "write one number, the likeliest"
	}
	if m := bracketed.FindStringSubmatch(s); m != nil {
		number := strings.Replace(m[1], ",", ".", 1)
		if m[2] == "" || inUnit(m[2], r.unit) {
			return fmt.Sprintf("write %s, and the rest in note", number)
		}
		return generic
	}
	if m := withUnit.FindStringSubmatch(s); m != nil {
		if help := unitHelp(strings.Replace(m[1], ",", ".", 1), m[2], r.unit); help != "" {
			return help
		}
	}
	return generic
}

// unitHelp is the way out for a number with something behind it, "" if what stands there is not known.
func unitHelp(number, written, unit string) string {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return ""
	}
	word := unitWord(written)
	switch {
	case word == "?" || word == "??":
		return fmt.Sprintf("write %s, and the doubt in note", formatNumber(x))
	case word == "k" && unit != "°C", word == "kv" && unit == "rpm per volt" && x < 100:
		return "write " + formatNumber(x*1000)
	case pieceWords[word] && unit == "":
		return "write " + formatNumber(x)
	}
	if unit == "" {
		for _, units := range pilotUnits {
			for one := range strings.FieldsSeq(units[0].words) {
				if one == word {
					return fmt.Sprintf("write %s if that is the key's unit", formatNumber(x))
				}
			}
		}
	}
	u, ok := unitNamed(word, unit)
	switch {
	case word == "mw" && unit == "W":
		return fmt.Sprintf("write what it takes from the pack in W; %s mW may be radio power, which is less", formatNumber(x))
	case !ok:
		return ""
	case u.factor == 1 && u.offset == 0:
		return fmt.Sprintf("write %s, the unit is in the key", formatNumber(x))
	}
	return fmt.Sprintf("write %s (%s)", strconv.FormatFloat(u.of(x), 'g', 5, 64), unit)
}

// rangeHelp is the way out for a number beyond its bounds that another unit would bring inside, "" if
// none does.
func rangeHelp(x float64, r rule, path string) string {
	if r.unit == "V" && strings.HasSuffix(path, "cell_v") && x > r.high && x <= 14*r.high {
		return "divide by the number of cells if it is the whole pack's"
	}
	for _, u := range pilotUnits[r.unit] {
		if y := u.of(x); u.slip != "" && y >= r.low && y <= r.high {
			return fmt.Sprintf("write %s if %s", strconv.FormatFloat(y, 'g', 4, 64), u.slip)
		}
	}
	return ""
}

func isQuote(r rune) bool { return strings.ContainsRune("\"'“”„‟«»‘’‚`´″′", r) }
