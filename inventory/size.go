package inventory

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

const mmPerInch = 25.4

// stator is width and height in mm, two digits each, the height with a decimal if need be.
var stator = regexp.MustCompile(`^(\d\d)(\d\d(?:\.\d)?)$`)

// parseStator reads 1404 or 2207.5: diameter and height of the stator in mm.
func parseStator(s string) (diameterMm, heightMm float64, err error) {
	m := stator.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		if t := strings.Replace(s, ",", ".", 1); t != s && stator.MatchString(t) {
			return 0, 0, fmt.Errorf("must be width and height of the stator, got %s; write %s", strict.Show(s), t)
		}
		return 0, 0, fmt.Errorf("must be width and height of the stator, two digits each, got %s; write 1404 for 14 mm wide and 4 mm high", strict.Show(s))
	}
	diameterMm, heightMm = mustParse(m[1]), mustParse(m[2])
	if diameterMm < 4 || diameterMm > 60 || heightMm < 1 || heightMm > 40 {
		return 0, 0, fmt.Errorf("must be 4 to 60 mm wide and 1 to 40 mm high, got %s; write 1404 for 14 mm wide and 4 mm high", strict.Show(s))
	}
	return diameterMm, heightMm, nil
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
	length   = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,4})?|\.\d{1,4}) ?(mm|in|inch|"|″|”)?$`)
	code     = regexp.MustCompile(`^(\d)(\d)(\d)(\d)(?:x?(\d))?$`)
	oddSpace = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ")
)

// parsePropSize reads diameter x pitch x blades: 5.1x4.3x3, or 65mm x 1.2 x 3, where mm goes with
// the number that it follows; lengths without a unit are inches.
func parsePropSize(text string) (propSize, error) {
	const form = "write diameter x pitch x blades, such as 5.1x4.3x3 or 65mm x 1.2 x 3"
	s := strings.ToLower(strings.TrimSpace(oddSpace.Replace(text)))
	if m := code.FindStringSubmatch(s); m != nil {
		blades := m[5]
		if blades == "" {
			blades = "2"
		}
		return propSize{}, fmt.Errorf("must be three numbers with x between, got %s; write %s.%sx%s.%sx%s if that is meant", strict.Show(text), m[1], m[2], m[3], m[4], blades)
	}
	if strings.Contains(s, ",") {
		return propSize{}, fmt.Errorf("must have decimal points, got %s; write %s", strict.Show(text), strings.ReplaceAll(s, ",", "."))
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(parts) != 2 && len(parts) != 3 {
		return propSize{}, fmt.Errorf("must be three numbers with x between, got %s; %s", strict.Show(text), form)
	}
	var size propSize
	for i, into := range []*float64{&size.diameterIn, &size.pitchIn} {
		m := length.FindStringSubmatch(strings.TrimSpace(parts[i]))
		if m == nil {
			return propSize{}, fmt.Errorf("has no length in %s; %s", strict.Show(strings.TrimSpace(parts[i])), form)
		}
		*into = mustParse(m[1])
		if m[2] == "mm" {
			*into /= mmPerInch
		}
	}
	if len(parts) == 3 {
		n, err := strconv.Atoi(strings.TrimSpace(parts[2]))
		if err != nil || n < 2 || n > 8 {
			return propSize{}, fmt.Errorf("must end in 2 to 8 blades, got %s; %s", strict.Show(strings.TrimSpace(parts[2])), form)
		}
		size.blades = n
	}
	switch {
	case size.diameterIn > 20 && !strings.Contains(parts[0], "mm"):
		return propSize{}, fmt.Errorf("must have a diameter from 0.8 to 20 in, got %s; if these are mm write %smm x %s", number(size.diameterIn), number(size.diameterIn), strings.Join(parts[1:], " x "))
	case size.diameterIn < 0.8 || size.diameterIn > 20:
		return propSize{}, fmt.Errorf("must have a diameter from 0.8 to 20 in (20 to 508 mm), got %s; %s", strings.TrimSpace(parts[0]), form)
	case size.pitchIn < 0.2 || size.pitchIn > 20:
		return propSize{}, fmt.Errorf("must have a pitch from 0.2 to 20 in, got %s; %s", strings.TrimSpace(parts[1]), form)
	}
	return size, nil
}

type packSize struct {
	cells                   int
	capacityMAh, dischargeC float64
}

var packToken = regexp.MustCompile(`^(\d{1,6}(?:\.\d{1,4})?) ?(mah|ah|s|c|p)?(?: |$|\b)`)

// parsePackSize reads cells, capacity and label C in any order: 4S 1300 100C, 1300mAh 4S.
func parsePackSize(text string) (packSize, error) {
	const form = "write cells, mAh and C, such as 4S 1300 100C"
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
			return size, fmt.Errorf("has something else in %s; %s", strict.Show(rest), form)
		}
		x, unit := mustParse(m[1]), m[2]
		rest = strings.TrimSpace(splitUnit(rest)[len(m[0]):])
		if err := size.take(x, unit); err != nil {
			return size, fmt.Errorf("%w, got %s; %s", err, strict.Show(text), form)
		}
	}
	if size == (packSize{}) {
		return size, fmt.Errorf("must not be empty; %s", form)
	}
	return size, nil
}

var twoRatings = regexp.MustCompile(`(\d+)c? ?[/-] ?(\d+)c`)

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
