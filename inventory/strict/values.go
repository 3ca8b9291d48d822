package strict

import (
	"math"
	"strconv"
	"strings"
)

// Raw is a text from a file as it may stand in a message: bare if it is a plain word or number, otherwise quoted with
// everything unprintable escaped; long ones are cut.
type Raw string

// String is the text to show.
func (s Raw) String() string { return Show(string(s)) }

// Quoted is a text from a file that stood in quotes.
type Quoted string

// String is the text in quotes.
func (s Quoted) String() string { return strconv.Quote(string(s)) }

// Number is a number in a message: without exponent and trailing zeros.
type Number float64

// String writes the number.
func (x Number) String() string { return formatNumber(float64(x)) }

// Digits is a number with so many significant digits.
func Digits(x float64, digits int) Number {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return Number(x)
	}
	return Number(rounded)
}

// Line is a line of the same file.
type Line int

// List is words to choose from, shown with commas.
type List []string

// String joins the words.
func (l List) String() string { return strings.Join(l, ", ") }

// Shape is what stands where a value should.
type Shape string

// The shapes.
const (
	ListShape    Shape = "list"
	MappingShape Shape = "mapping"
)

// Bounds are the numbers that a value may have. An end that is not bounded is infinite.
type Bounds struct {
	Low, High float64
	Open      bool // over Low, not from it
	Unit      string
}

// String is the range for logs and tests: [0.3, 1000] g, (0, 1].
func (b Bounds) String() string {
	open := "["
	if b.Open {
		open = "("
	}
	end := "]"
	if math.IsInf(b.High, 1) {
		end = ")"
	}
	return strings.TrimRight(open+formatNumber(b.Low)+", "+formatNumber(b.High)+end+" "+b.Unit, " ")
}

func formatNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// printable quotes a text that holds anything but printable characters.
func printable(s string) string {
	for _, r := range s {
		if !strconv.IsPrint(r) {
			return strconv.Quote(s)
		}
	}
	return s
}

// Show is a text from a file as it may appear in a message: bare if it is a plain word or number,
// otherwise quoted with everything unprintable escaped; long ones are cut.
func Show(s string) string {
	const longest = 48
	cut := ""
	if r := []rune(s); len(r) > longest {
		s, cut = string(r[:longest]), "…"
	}
	if s == "" || strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) }) {
		return strconv.Quote(s) + cut
	}
	return s + cut
}

func isWordRune(r rune) bool {
	return r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune("+-._~", r)
}
