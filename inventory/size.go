package inventory

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

// MmPerInch is an inch in mm, exact by definition.
const MmPerInch = 25.4

// ArmFlexMm is kept free between neighbouring props, in mm (common practice, no source).
const ArmFlexMm = 3.0

// stator is width and height in mm, two digits each, the height with a decimal if need be.
var stator = regexp.MustCompile(`^(\d\d)(\d\d(?:\.\d)?)$`)

// StatorProblem is what is wrong with the written size of a stator, nil if it is sound.
func StatorProblem(text string) *strict.Problem {
	_, _, problem := parseStator(text)
	return problem
}

// parseStator reads 1404 or 2207.5: diameter and height of the stator in mm.
func parseStator(s string) (diameterMm, heightMm float64, problem *strict.Problem) {
	m := stator.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, 0, notAStator(s)
	}
	diameterMm, heightMm = mustParse(m[1]), mustParse(m[2])
	if diameterMm < 4 || diameterMm > 60 || heightMm < 1 || heightMm > 40 {
		return 0, 0, &strict.Problem{Code: "stator.range", Values: strict.Values{"got": strict.Raw(s)}, Way: "stator.such"}
	}
	return diameterMm, heightMm, nil
}

// notAStator is the problem of a text that is no stator size, with the size that was meant if that is plain.
func notAStator(s string) *strict.Problem {
	p := &strict.Problem{Code: "stator.digits", Values: strict.Values{"got": strict.Raw(s)}, Way: "write.it"}
	sound := func(t string) bool { _, _, problem := parseStator(t); return problem == nil }
	if t := strings.Replace(s, ",", ".", 1); t != s && stator.MatchString(t) {
		p.Code, p.Write = "stator.form", t
		return p
	}
	if m := looseStator.FindStringSubmatch(strings.TrimSpace(s)); m != nil {
		if t := m[1] + withZero(strings.Replace(m[2]+m[3], ",", ".", 1)); stator.MatchString(t) && sound(t) {
			p.Write = t
			return p
		}
	}
	if t := "0" + strings.TrimSpace(s); threeDigits.MatchString(t) && sound(t) {
		p.Way, p.Values["as"] = "stator.zero", t
		return p
	}
	p.Way = "stator.such"
	return p
}

// looseStator is width and height with something around or between them: 14x04, 14 04, "1404,".
var looseStator = regexp.MustCompile(`^["'“”„‘’]?(\d\d)(?: ?[x×*/ -] ?(\d{1,2}(?:[.,]\d)?)|(\d\d(?:[.,]\d)?))(?: ?mm)?["'“”’,;]?$`)

var threeDigits = regexp.MustCompile(`^0\d{3}$`)

func withZero(s string) string {
	if whole, _, _ := strings.Cut(s, "."); len(whole) == 1 {
		return "0" + s
	}
	return s
}

// mustParse parses digits that a pattern has let through.
func mustParse(digits string) float64 {
	x, _ := strconv.ParseFloat(digits, 64)
	return x
}

// positive reads a plain number over 0.
func positive(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if !plain.MatchString(s) {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil && x > 0
}

var plain = regexp.MustCompile(`^(?:\d{1,6}(?:\.\d{1,6})?|\.\d{1,6})$`)

type propSize struct {
	diameterIn, pitchIn float64
	blades              int // 0: not said
}

var (
	length = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,4})?|\.\d{1,4}) ?(mm|in|inch|"|″|”)?$`)
	code   = regexp.MustCompile(`^(?:[a-z] ?)?(\d)(\d)(\d)(\d)(?: ?[x×*/-]? ?(\d))?$`)
	loose  = regexp.MustCompile(`^(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d)(?: ?-?blades?)?$`)
)

// PropSizeProblem is what is wrong with the written size of a prop, nil if it is sound.
func PropSizeProblem(text string) *strict.Problem {
	_, problem := parsePropSize(text)
	return problem
}

// parsePropSize reads diameter x pitch x blades: 5.1x4.3x3, or 65mm x 1.2 x 3, where mm goes with
// the number that it follows; lengths without a unit are inches.
func parsePropSize(text string) (propSize, *strict.Problem) {
	bad := func(code strict.Code, got any, way strict.Code) (propSize, *strict.Problem) {
		return propSize{}, &strict.Problem{Code: code, Values: strict.Values{"got": got}, Way: way}
	}
	s := strings.ToLower(strings.TrimSpace(strict.PlainSpaces(text)))
	if m := code.FindStringSubmatch(s); m != nil {
		blades := m[5]
		if blades == "" {
			blades = "2"
		}
		_, p := bad("prop_size.form", strict.Raw(text), "write.if_meant")
		p.Values["as"] = fmt.Sprintf("%s.%sx%s.%sx%s", m[1], m[2], m[3], m[4], blades)
		return propSize{}, p
	}
	if strings.Contains(s, ",") {
		_, p := bad("prop_size.comma", strict.Raw(text), "write.it")
		p.Write = strings.ReplaceAll(s, ",", ".")
		return propSize{}, p
	}
	if m := loose.FindStringSubmatch(s); m != nil && strings.ContainsAny(s, "-/ b") && strings.Count(s, "x") < 2 {
		_, p := bad("prop_size.form", strict.Raw(text), "write.if_meant")
		p.Values["as"] = m[1] + "x" + m[2] + "x" + m[3]
		return propSize{}, p
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(parts) != 2 && len(parts) != 3 {
		return bad("prop_size.form", strict.Raw(text), "prop_size.such")
	}
	var size propSize
	for i, into := range []*float64{&size.diameterIn, &size.pitchIn} {
		m := length.FindStringSubmatch(strings.TrimSpace(parts[i]))
		if m == nil {
			return bad("prop_size.length", strict.Raw(strings.TrimSpace(parts[i])), "prop_size.such")
		}
		*into = mustParse(m[1])
		if m[2] == "mm" {
			*into /= MmPerInch
		}
	}
	if len(parts) == 3 {
		n, err := strconv.Atoi(strings.TrimSpace(parts[2]))
		if err != nil || n < 2 || n > 8 {
			return bad("prop_size.blades", strict.Raw(strings.TrimSpace(parts[2])), "prop_size.such")
		}
		size.blades = n
	}
	switch {
	case size.diameterIn > 20 && !strings.Contains(parts[0], "mm"):
		_, p := bad("prop_size.diameter_in", strict.Number(size.diameterIn), "prop_size.if_mm")
		p.Values["rest"] = strings.Join(parts[1:], " x ")
		return propSize{}, p
	case size.diameterIn < 0.8 || size.diameterIn > 20:
		return bad("prop_size.diameter", strings.TrimSpace(parts[0]), "prop_size.such")
	case size.pitchIn < 0.2 || size.pitchIn > 20:
		return bad("prop_size.pitch", strings.TrimSpace(parts[1]), "prop_size.such")
	}
	return size, nil
}
