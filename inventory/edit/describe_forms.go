package edit

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
)

// form is a way in which pilots write the values of some keys. In its pattern a space parts words, N
// is a number, and letters stand for both cases.
type form struct {
	keys    []string
	pattern string
	// read turns the pattern's groups into values, one a key; "" leaves a key out, nil means that it is
	// something else.
	read func(m []string) []string
}

// numberForm is a number with a decimal point, or with a decimal comma that can be nothing else.
const numberForm = `(\d+(?:\.\d+)?|\d+,\d{1,2}|0,\d+|\.\d+)`

func (f form) compiled() *regexp.Regexp {
	return regexp.MustCompile(`(?i) (?:` + strings.ReplaceAll(f.pattern, "N", numberForm) + `) `)
}

// first is the first number that a pattern found, its groups being alternatives.
func first(m []string) []string {
	for _, s := range m {
		if s != "" {
			return []string{decimal(s, 1)}
		}
	}
	return nil
}

func all(m []string) []string {
	values := make([]string, len(m))
	for i := range m {
		values[i] = decimal(m[i], 1)
	}
	return values
}

// times is first, times a factor.
func times(factor float64) func([]string) []string {
	return func(m []string) []string { return []string{decimal(first(m)[0], factor)} }
}

// word gives one value whatever was found.
func word(value string) func([]string) []string {
	return func([]string) []string { return []string{value} }
}

// decimal writes a number times a factor with a point.
func decimal(s string, factor float64) string {
	x, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(x*factor, 'f', -1, 64)
}

// holeSquare reads a square: both sides must be the same.
func holeSquare(m []string) []string {
	a, b := decimal(m[0], 1), decimal(m[1], 1)
	if a == "" || a != b {
		return nil
	}
	return []string{a}
}

// bounded reads a square of a size that can be nothing else: it tells those of a frame apart that
// have no word beside them.
func bounded(low, high float64) func([]string) []string {
	return func(m []string) []string {
		v := holeSquare(m)
		if v == nil {
			return nil
		}
		if x, err := strconv.ParseFloat(v[0], 64); err != nil || x < low || x > high {
			return nil
		}
		return v
	}
}

func cellsForm(m []string) []string {
	low, high := m[0], m[1]
	if high == "" {
		return []string{decimal(low, 1) + "S"}
	}
	return []string{"[" + decimal(low, 1) + ", " + decimal(high, 1) + "]"}
}

var commonForms = []form{
	{[]string{"count"}, `(?:x|×) ?(\d+)|(\d+) ?(?:x|×)|(\d+)(?:pcs?|pieces|stk|off)|(?:count|qty|quantity|amount)[.:=]* ?(\d+)|(\d+) of them`, first},
	{[]string{"mass_g"}, massWord + `N(?:g|gr|grams?|grammes?)`, first},
	{[]string{"mass_g"}, massWord + `N(?:kg)`, times(1000)},
	{[]string{"mass_g"}, massWord + `N(?:oz)`, ounces},
}

const (
	squareForm = `N(?:mm)? ?[x×*] ?N(?:mm)?`
	boxForm    = `N(?:mm)? ?[x×*] ?N(?:mm)? ?[x×*] ?N(?:mm)?`
	massWord   = `(?:(?:mass|weight|weighs?|wt)\.?[:=]? )?`
	// twoSquares are two patterns of holes.
	twoSquares = squareForm + `(?: m\d)?(?:,? and |,? or |, | ?[&+/] ?| )` + squareForm + `(?: m\d)?`
	// joinedSquares are two patterns with a word or sign between them.
	joinedSquares = squareForm + `(?: m\d)?(?:,? and |,? or | ?[&+/] ?)` + squareForm + `(?: m\d)?`
	rangeForm     = `(\d{1,2})(?:s|cells?)?(?: ?(?:-|–|~|\.\.|/) ?| to )(\d{1,2})(?:s|cells?)|` +
		`(?:up to |max )?(\d{1,2})(?:s|cells?)(?: max)?`
)

// ranged reads rangeForm.
func ranged(m []string) []string {
	if m[0] == "" {
		return cellsForm([]string{m[2], ""})
	}
	return cellsForm(m)
}

// squares reads two squares whose sides are within bounds.
func squares(low, high float64) func([]string) []string {
	return func(m []string) []string {
		a, b := bounded(low, high)(m[:2]), bounded(low, high)(m[2:])
		if a == nil || b == nil {
			return nil
		}
		return []string{"[" + a[0] + ", " + b[0] + "]"}
	}
}

// gramsPerOunce is exact by definition of the pound.
const gramsPerOunce = 28.349523125

func ounces(m []string) []string {
	x, err := strconv.ParseFloat(decimal(m[0], 1), 64)
	if err != nil {
		return nil
	}
	return []string{strconv.FormatFloat(math.Round(100*x*gramsPerOunce)/100, 'f', -1, 64)}
}

func box(m []string) []string {
	return []string{"[" + strings.Join(all(m), ", ") + "]"}
}

// formsOf are the forms of a kind of part, for extras with a role.
func formsOf(kind inventory.Kind, role string) []form {
	switch kind {
	case inventory.KindMotor:
		return motorForms
	case inventory.KindProp:
		return propForms
	case inventory.KindPack:
		return packForms
	case inventory.KindFrame:
		return frameForms
	case inventory.KindBoard:
		return boardForms
	}
	if role == string(inventory.Camera) {
		return slices.Concat(extraForms, cameraForms)
	}
	return extraForms
}
