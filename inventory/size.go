package inventory

import (
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
		if m := looseStator.FindStringSubmatch(strings.TrimSpace(s)); m != nil {
			t := m[1] + withZero(strings.Replace(m[2]+m[3], ",", ".", 1))
			if _, _, err := parseStator(t); err == nil {
				return 0, 0, fmt.Errorf("must be width and height of the stator, two digits each, got %s; write %s", strict.Show(s), t)
			}
		}
		if t := "0" + strings.TrimSpace(s); threeDigits.MatchString(t) {
			if _, _, err := parseStator(t); err == nil {
				return 0, 0, fmt.Errorf("must be width and height of the stator, two digits each, got %s; write %s if that is meant: a spreadsheet drops the zero", strict.Show(s), t)
			}
		}
		return 0, 0, fmt.Errorf("must be width and height of the stator, two digits each, got %s; write 1404 for 14 mm wide and 4 mm high", strict.Show(s))
	}
	diameterMm, heightMm = mustParse(m[1]), mustParse(m[2])
	if diameterMm < 4 || diameterMm > 60 || heightMm < 1 || heightMm > 40 {
		return 0, 0, fmt.Errorf("must be 4 to 60 mm wide and 1 to 40 mm high, got %s; write 1404 for 14 mm wide and 4 mm high", strict.Show(s))
	}
	return diameterMm, heightMm, nil
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
	length   = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,4})?|\.\d{1,4}) ?(mm|in|inch|"|″|”)?$`)
	code     = regexp.MustCompile(`^(?:[a-z] ?)?(\d)(\d)(\d)(\d)(?: ?[x×*/-]? ?(\d))?$`)
	loose    = regexp.MustCompile(`^(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d{1,2}(?:\.\d{1,2})?)["″”]? ?[x×*/ -] ?(\d)(?: ?-?blades?)?$`)
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
	if m := loose.FindStringSubmatch(s); m != nil && strings.ContainsAny(s, "-/ b") && strings.Count(s, "x") < 2 {
		return propSize{}, fmt.Errorf("must be three numbers with x between, got %s; write %sx%sx%s if that is meant", strict.Show(text), m[1], m[2], m[3])
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
