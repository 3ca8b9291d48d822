package inventory

import (
	"fmt"
	"regexp"
	"strings"

	"partsaloft/inventory/strict"
)

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
		return size, &strict.Problem{Code: "pack_size.comma", Values: strict.Values{"got": strict.Raw(text), "as": strings.ReplaceAll(text, ",", ".")}, Way: "write.as"}
	}
	if m := twoRatings.FindStringSubmatch(rest); m != nil {
		return size, &strict.Problem{Code: "pack_size.two_ratings", Values: strict.Values{"got": strict.Raw(text), "continuous": m[1], "burst": m[2]}}
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
		case (unit == "s" || unit == "cell" || unit == "cells" || unit == "zellen" || unit == "" && x <= 14 && whole) && cells == 0 && whole:
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
	if !packBetween.MatchString(s[end:]) || sound.take(float64(cells), "s")+sound.take(capacityMAh, "mah")+sound.take(dischargeC, "c") != "" {
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
