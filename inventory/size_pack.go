package inventory

import (
	"errors"
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

// parsePackSize reads cells, capacity and label C in any order: 4S 1300 100C, 1300mAh 4S.
func parsePackSize(text string) (packSize, error) {
	var size packSize
	rest := strings.ToLower(strings.Join(strings.Fields(oddSpace.Replace(text)), " "))
	if strings.Contains(rest, ",") {
		return size, fmt.Errorf("must have decimal points and no commas, got %s; write %s", strict.Show(text), strings.ReplaceAll(text, ",", "."))
	}
	if m := twoRatings.FindStringSubmatch(rest); m != nil {
		return size, fmt.Errorf("must name one C rating, got %s; write %sC and burst_c: %s", strict.Show(text), m[1], m[2])
	}
	for rest != "" {
		m := packToken.FindStringSubmatch(splitUnit(rest))
		if m == nil {
			return size, fmt.Errorf("must hold cells, mAh and C and nothing else, got %s; %s", strict.Show(text), packSizeHelp(text))
		}
		x, unit := mustParse(m[1]), m[2]
		rest = strings.TrimSpace(splitUnit(rest)[len(m[0]):])
		if err := size.take(x, unit); err != nil {
			return size, fmt.Errorf("%w, got %s; %s", err, strict.Show(text), packSizeHelp(text))
		}
	}
	if size == (packSize{}) {
		return size, fmt.Errorf("must not be empty; %s", packSizeForm)
	}
	return size, nil
}

var twoRatings = regexp.MustCompile(`(?:^|[^\d.])(\d{1,3})c? ?[/-] ?(\d{1,3})c`)

const packSizeForm = "write cells, mAh and C, such as 4S 1300 100C"

var (
	packPiece   = regexp.MustCompile(`(\d+(?:[.,]\d+)?)(?:[ -]?(mah|ah|cells?|zellen|s|c|v|p)\b)?`)
	packBetween = regexp.MustCompile(`^[\s,;/x-]*(?:li-?po|lihv|li-?ion|pack|battery)?[\s,;/x-]*$`)
)

// packSizeHelp is the way out for the size of a pack: the usual form of what is meant, if that is plain.
func packSizeHelp(text string) string {
	s := splitUnits(strings.ToLower(oddSpace.Replace(text)))
	var cells int
	var capacityMAh, dischargeC float64
	end := 0
	for _, at := range packPiece.FindAllStringSubmatchIndex(s, -1) {
		if !packBetween.MatchString(s[end:at[0]]) {
			return packSizeForm
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
			return packSizeForm
		}
	}
	var sound packSize
	if !packBetween.MatchString(s[end:]) || errors.Join(sound.take(float64(cells), "s"), sound.take(capacityMAh, "mah"), sound.take(dischargeC, "c")) != nil {
		return packSizeForm
	}
	return fmt.Sprintf("write %dS %s %sC if that is meant", cells, number(capacityMAh), number(dischargeC))
}

// splitUnits is splitUnit for a whole text.
func splitUnits(s string) string { return anyTogether.ReplaceAllString(s, "$1 $2") }

var anyTogether = regexp.MustCompile(`(\d(?:mah|ah|s|c|p))(\d)`)

// splitUnit puts a space after a unit that runs into the next number, as in 4s1300.
func splitUnit(s string) string { return runTogether.ReplaceAllString(s, "$1 $2") }

var runTogether = regexp.MustCompile(`^(\d+(?:\.\d+)?(?:mah|ah|s|c|p))(\d)`)

func (p *packSize) take(x float64, unit string) error {
	switch unit {
	case "s":
		if p.cells != 0 {
			return errors.New("must name the cells once")
		}
		if x != float64(int(x)) || x < 1 || x > 14 {
			return errors.New("must have 1S to 14S")
		}
		p.cells = int(x)
	case "c":
		if p.dischargeC != 0 {
			return errors.New("must name one C rating, the continuous one (burst_c holds the other)")
		}
		if x < 0.5 || x > 300 {
			return errors.New("must have 0.5C to 300C")
		}
		p.dischargeC = x
	case "p":
		if x != 1 {
			return errors.New("must name the capacity of the whole pack and leave the P out")
		}
	default:
		if unit == "ah" {
			x *= 1000
		}
		if p.capacityMAh != 0 {
			return errors.New("must name one capacity")
		}
		if x < 50 || x > 50000 {
			return errors.New("must have a capacity from 50 to 50000 mAh")
		}
		p.capacityMAh = x
	}
	return nil
}
