package strict

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

var (
	plainNumber = regexp.MustCompile(`^[+-]?(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?$`)
	octal       = regexp.MustCompile(`^([+-]?)0+([0-9]+(?:\.[0-9]*)?)$`)
	notFinite   = regexp.MustCompile(`^[+-]?\.?(?i:nan|inf|infinity)$`)
)

// Number reads a bare, finite number inside the rule's bounds.
func (n Node) Number() (float64, bool) {
	x, ok := n.bare()
	if !ok || !n.inBounds(x) {
		return 0, false
	}
	return x, true
}

// Int reads a bare whole number inside the rule's bounds.
func (n Node) Int() (int, bool) {
	x, ok := n.bare()
	switch {
	case !ok:
		return 0, false
	case math.Abs(x) > 1e9:
		n.Fault("must be a whole number of at most nine digits, got %s; check the digits", Show(n.yaml.Value))
		return 0, false
	case x != math.Trunc(x):
		n.Fault("must be a whole number, got %s; write %s or %s", Show(n.yaml.Value), formatNumber(math.Floor(x)), formatNumber(math.Ceil(x)))
		return 0, false
	case !n.inBounds(x):
		return 0, false
	}
	return int(x), true
}

func (n Node) bare() (float64, bool) {
	if n.yaml.Kind != yaml.ScalarNode {
		n.Fault("must be one number, got %s", n.kind())
		return 0, false
	}
	s := n.yaml.Value
	if plainNumber.MatchString(s) {
		if n.yaml.Style&quoted != 0 {
			n.Fault("must be a bare number, got %s; write %s without quotes", strconv.Quote(s), s)
			return 0, false
		}
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			n.Fault("must be a finite number, got %s; check the digits", Show(s))
			return 0, false
		}
		return x, true
	}
	if m := octal.FindStringSubmatch(s); m != nil {
		n.Fault("must be a plain number, got %s; write %s%s, a leading zero can mean an octal number", Show(s), m[1], m[2])
		return 0, false
	}
	if notFinite.MatchString(s) {
		n.Fault("must be a finite number, got %s; write a number, or leave the key out", Show(s))
		return 0, false
	}
	n.Fault("must be a plain number, got %s; %s", Show(s), numberHelp(s, n.rule.unit))
	return 0, false
}

func (n Node) inBounds(x float64) bool {
	r := n.rule
	if x <= r.high && (x > r.low || x == r.low && !r.lowOpen) {
		return true
	}
	got := Show(n.yaml.Value)
	switch allowed := r.bounds(); {
	case x <= 0 && (r.low > 0 || r.low == 0 && r.lowOpen):
		n.Fault("must be over 0, got %s; allowed is %s", got, allowed)
	case x < 0 && r.low == 0:
		n.Fault("must not be under 0, got %s; allowed is %s", got, allowed)
	default:
		check := "check the digits and the unit in the key"
		if r.unit == "" {
			check = "check the digits"
		}
		n.Fault("must be %s, got %s; %s", allowed, got, check)
	}
	return false
}

// bounds says the allowed range with its unit.
func (r rule) bounds() string {
	unit := ""
	if r.unit != "" {
		unit = " " + r.unit
	}
	low, high := formatNumber(r.low), formatNumber(r.high)
	switch {
	case math.IsInf(r.high, 1) && r.lowOpen:
		return "over " + low + unit
	case math.IsInf(r.high, 1):
		return "at least " + low + unit
	case math.IsInf(r.low, -1):
		return "at most " + high + unit
	case r.lowOpen:
		return fmt.Sprintf("over %s and at most %s%s", low, high, unit)
	}
	return fmt.Sprintf("from %s to %s%s", low, high, unit)
}

func formatNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// factors turn a number with a unit that a pilot wrote into the unit of the key.
var factors = map[string]map[string]float64{
	"g":            {"kg": 1000, "mg": 0.001, "oz": 28.349523},
	"mm":           {"cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "\"": 25.4},
	"in":           {"mm": 1 / 25.4, "cm": 1 / 2.54},
	"mAh":          {"ah": 1000},
	"milliohm":     {"ohm": 1000, "ω": 1000},
	"A":            {"ma": 0.001},
	"W":            {"mw": 0.001},
	"V":            {"mv": 0.001},
	"rpm per volt": {"k": 1000},
}

var (
	spaced    = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "−", "-", "–", "-")
	comma     = regexp.MustCompile(`^[+-]?\d+,\d+$`)
	thousands = regexp.MustCompile(`^[1-9]\d{0,2}(?:[ '_’]\d{3})+(?:\.\d+)?$`)
	withUnit  = regexp.MustCompile(`^([+-]?\d+(?:[.,]\d+)?) *([^\d\s.,+-][^\d]*)$`)
	interval  = regexp.MustCompile(`^\d+(?:[.,]\d+)? *(?:-|\.\.|/|to) *\d+(?:[.,]\d+)?`)
	clock     = regexp.MustCompile(`^(\d{1,3}):([0-5]\d)$`)
	leading   = regexp.MustCompile(`^(~|≈|≃|<|>|±|ca\.?|circa|about|approx\.?|x|×) *`)
)

// numberHelp says how to write a number that was written some other way.
func numberHelp(written, unit string) string {
	const generic = "write a bare number such as 12.5"
	s := strings.TrimSpace(spaced.Replace(written))
	if s == "" {
		return "write a number, or leave the key out"
	}
	if plainNumber.MatchString(s) {
		return "write " + s
	}
	if t := strings.TrimFunc(s, func(r rune) bool { return isQuote(r) || r == ' ' }); t != s && plainNumber.MatchString(t) {
		return "write " + t + " without quotes"
	}
	if comma.MatchString(s) {
		whole, part, _ := strings.Cut(s, ",")
		point := whole + "." + part
		if len(part) == 3 && strings.Trim(whole, "+-0") != "" && len(whole) <= 3 {
			return fmt.Sprintf("write %s%s or %s, without a comma", whole, part, point)
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
	if m := clock.FindStringSubmatch(s); m != nil && unit == "min" {
		minutes, _ := strconv.Atoi(m[1])
		seconds, _ := strconv.Atoi(m[2])
		return "write " + strconv.FormatFloat(float64(minutes)+float64(seconds)/60, 'g', 4, 64)
	}
	if x, err := strconv.ParseInt(s, 0, 32); err == nil {
		return fmt.Sprintf("write the decimal number %d", x)
	}
	if interval.MatchString(s) {
		return "write one number, the likeliest"
	}
	if m := withUnit.FindStringSubmatch(s); m != nil {
		return unitHelp(strings.Replace(m[1], ",", ".", 1), strings.TrimSpace(m[2]), unit)
	}
	return generic
}

// unitHelp is the way out for a number with something behind it.
func unitHelp(number, written, unit string) string {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return "write a bare number such as 12.5"
	}
	lower := strings.ToLower(strings.TrimRight(written, "."))
	if lower == "k" || lower == "kv" && x < 100 {
		return "write " + formatNumber(x*1000)
	}
	if lower == "?" || lower == "??" {
		return fmt.Sprintf("write %s, and the doubt in note", formatNumber(x))
	}
	if f, ok := factors[unit][lower]; ok {
		return fmt.Sprintf("write %s (%s)", strconv.FormatFloat(x*f, 'g', 5, 64), unit)
	}
	if lower == "x" || lower == "×" || lower == "pcs" || lower == "pieces" || lower == "off" {
		return "write " + formatNumber(x)
	}
	return fmt.Sprintf("write %s, the unit is in the key", formatNumber(x))
}

func isQuote(r rune) bool { return strings.ContainsRune("\"'“”„‟«»‘’‚`´″′", r) }
