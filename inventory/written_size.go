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

// DuctWallsMm is what two ducts need between the discs of neighbouring props, in mm: their walls and the air at the
// tips (common practice, no source: 9 to 13 mm on 75 and 85 mm frames; 40 mm props do not go into a 65 mm frame, which
// would leave 6).
const DuctWallsMm = 8.0

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
	// withUnit is a length that can be nothing but a diameter.
	withUnit = regexp.MustCompile(`^\d{1,3}(?:\.\d{1,4})? ?(?:mm|in|inch|"|″|”)$`)
	code     = regexp.MustCompile(`^(?:[a-z] ?)?(\d)(\d)(\d)(\d)(?: ?[x×*/-]? ?(\d))?$`)
	loose    = regexp.MustCompile(`^(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d)(?: ?-?blades?)?$`)
)

// PropSizeProblem is what is wrong with the written size of a prop, nil if it is sound.
func PropSizeProblem(text string) *strict.Problem {
	_, problem := parsePropSize(text)
	return problem
}

// bladesBehind is a number of blades with the word for them.
var bladesBehind = regexp.MustCompile(`([2-8])[- ]?(?:blades?|bladed|bl|b)$`)

// parsePropSize reads diameter x pitch x blades: 5.1x4.3x3, or 65mm x 1.2 x 3, where mm goes with
// the number that it follows; lengths without a unit are inches. A diameter alone has its unit: 31mm.
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
	alone := len(parts) == 1 && withUnit.MatchString(s)
	if len(parts) != 2 && len(parts) != 3 && !alone {
		return bad("prop_size.form", strict.Raw(text), "prop_size.such")
	}
	var size propSize
	for i, into := range []*float64{&size.diameterIn, &size.pitchIn}[:min(len(parts), 2)] {
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
		if m := bladesBehind.FindStringSubmatch(parts[2]); m != nil {
			_, p := bad("prop_size.blades", strict.Raw(strings.TrimSpace(parts[2])), "write.it")
			p.Write = strings.TrimSuffix(s, m[0]) + m[1]
			return propSize{}, p
		}
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
	case !alone && (size.pitchIn < 0.2 || size.pitchIn > 20):
		return bad("prop_size.pitch", strings.TrimSpace(parts[1]), "prop_size.such")
	}
	return size, nil
}

type packSize struct {
	cells                   int
	capacityMAh, dischargeC float64
}

var packToken = regexp.MustCompile(`^(\d{1,6}(?:\.\d{1,4})?) ?(mah|ah|s|c|p)?(?: |$|\b)`)

// PackSizeProblem is what is wrong with the written size of a pack, nil if it is sound.
func PackSizeProblem(text string) *strict.Problem {
	_, problem := parsePackSize(text)
	return problem
}

// parsePackSize reads cells, capacity and label C in any order: 4S 1300 100C, 1300mAh 4S.
func parsePackSize(text string) (packSize, *strict.Problem) {
	var size packSize
	rest := strings.ToLower(strings.Join(strings.Fields(strict.PlainSpaces(text)), " "))
	if strings.Contains(rest, ",") {
		return size, &strict.Problem{Code: "pack_size.comma", Values: strict.Values{"got": strict.Raw(text),
			"as": strings.ReplaceAll(text, ",", ".")}, Way: "write.as"}
	}
	if m := twoRatings.FindStringSubmatch(rest); m != nil {
		return size, &strict.Problem{Code: "pack_size.two_ratings", Values: strict.Values{"got": strict.Raw(text),
			"continuous": m[1], "burst": m[2]}}
	}
	for rest != "" {
		m := packToken.FindStringSubmatch(splitUnit(rest))
		if m == nil {
			return size, packSizeProblem("pack_size.form", text)
		}
		x, unit := mustParse(m[1]), m[2]
		rest = strings.TrimSpace(splitUnit(rest)[len(m[0]):])
		if code := size.take(x, unit); code != "" {
			return size, packSizeProblem(code, text)
		}
	}
	if size == (packSize{}) {
		return size, &strict.Problem{Code: "text.empty", Way: "pack_size.such"}
	}
	return size, nil
}

var twoRatings = regexp.MustCompile(`(?:^|[^\d.])(\d{1,3})c? ?[/-] ?(\d{1,3})c`)

var (
	packPiece   = regexp.MustCompile(`(\d+(?:[.,]\d+)?)(?:[ -]?(mah|ah|cells?|zellen|s|c|v|p)\b)?`)
	packBetween = regexp.MustCompile(`^[\s,;/x-]*(?:li-?po|lihv|li-?ion|pack|battery)?[\s,;/x-]*$`)
)

// packSizeProblem is the problem of a pack's size, with the usual form of what is meant, if that is plain.
func packSizeProblem(code strict.Code, text string) *strict.Problem {
	p := &strict.Problem{Code: code, Values: strict.Values{"got": strict.Raw(text)}, Way: "pack_size.such"}
	if meant := PackSizeMeant(text); meant != "" {
		p.Way, p.Values["as"] = "write.if_meant", meant
	}
	return p
}

// PackSizeMeant is the usual form of a size that was written some other way, "" if what is meant is not plain.
func PackSizeMeant(text string) string {
	s := splitUnits(strings.ToLower(strict.PlainSpaces(text)))
	var cells int
	var capacityMAh, dischargeC float64
	end := 0
	for _, at := range packPiece.FindAllStringSubmatchIndex(s, -1) {
		if !packBetween.MatchString(s[end:at[0]]) {
			return ""
		}
		x, unit := mustParse(strings.Replace(s[at[2]:at[3]], ",", ".", 1)), ""
		if end = at[3]; at[4] >= 0 {
			unit, end = s[at[4]:at[5]], at[5]
		}
		whole := x == float64(int(x))
		switch {
		case unit == "p" && x == 1:
		case (unit == "s" || unit == "cell" || unit == "cells" || unit == "zellen" || unit == "" && x <= 14 && whole) &&
			cells == 0 && whole:
			cells = int(x)
		case unit == "v" && cells == 0:
			for n := 1; n <= 14; n++ { // 3.6 V a cell for Li-ion, 3.7 for LiPo, 3.8 for LiHV
				if perCell := x / float64(n); perCell > 3.55 && perCell < 3.9 {
					cells = n
					break
				}
			}
		case (unit == "mah" || unit == "" && x >= 50) && capacityMAh == 0:
			capacityMAh = x
		case (unit == "ah" || unit == "" && x < 50 && !whole) && capacityMAh == 0:
			capacityMAh = 1000 * x
		case (unit == "c" || unit == "") && dischargeC == 0:
			dischargeC = x
		default:
			return ""
		}
	}
	var sound packSize
	if !packBetween.MatchString(s[end:]) || sound.take(float64(cells), "s")+sound.take(capacityMAh,
		"mah")+sound.take(dischargeC, "c") != "" {
		return ""
	}
	return fmt.Sprintf("%dS %s %sC", cells, number(capacityMAh), number(dischargeC))
}

// splitUnits is splitUnit for a whole text.
func splitUnits(s string) string { return anyTogether.ReplaceAllString(s, "$1 $2") }

var anyTogether = regexp.MustCompile(`(\d(?:mah|ah|s|c|p))(\d)`)

// splitUnit puts a space after a unit that runs into the next number, as in 4s1300.
func splitUnit(s string) string { return runTogether.ReplaceAllString(s, "$1 $2") }

var runTogether = regexp.MustCompile(`^(\d+(?:\.\d+)?(?:mah|ah|s|c|p))(\d)`)

// take notes a number with its unit; the code says what is wrong with it, "" if nothing is.
func (p *packSize) take(x float64, unit string) strict.Code {
	switch unit {
	case "s":
		if p.cells != 0 {
			return "pack_size.cells_twice"
		}
		if x != float64(int(x)) || x < 1 || x > 14 {
			return "pack_size.cells"
		}
		p.cells = int(x)
	case "c":
		if p.dischargeC != 0 {
			return "pack_size.c_twice"
		}
		if x < 0.5 || x > 300 {
			return "pack_size.c"
		}
		p.dischargeC = x
	case "p":
		if x != 1 {
			return "pack_size.parallel"
		}
	default:
		if unit == "ah" {
			x *= 1000
		}
		if p.capacityMAh != 0 {
			return "pack_size.capacity_twice"
		}
		if x < 50 || x > 50000 {
			return "pack_size.capacity"
		}
		p.capacityMAh = x
	}
	return ""
}
