package catalogue

import (
	"math"
	"strconv"
	"strings"
)

// Minus is the sign of negative numbers in text.
const Minus = "−"

// significant is the number of digits of a number whose interval does not say how many it has.
const significant = 4

// Number writes a value with the digits that its interval supports: the last one is worth at most
// a half of the interval's half-width, and a twentieth at least. Without an interval it has up to
// four, trailing zeros left out.
func Number(value, low, high float64) string {
	return shorten(fixed(value, Decimals(value, low, high)), low, high)
}

// shorten leaves out the trailing zeros of a number without an interval.
func shorten(s string, low, high float64) string {
	if !(high > low) && strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Interval writes both ends of an interval with the digits of Number, as in "5.1 to 7.9"; one
// without width is empty.
func Interval(value, low, high float64) string {
	if !(high > low) {
		return ""
	}
	d := Decimals(value, low, high)
	return fixed(low, d) + " to " + fixed(high, d)
}

// In is Number and Interval in a unit: minutes have two decimals at most.
func In(unit string, value, low, high float64) (number, interval string) {
	if d := Decimals(value, low, high); unit == "min" && d > 2 {
		return shorten(fixed(value, 2), low, high), fixed(low, 2) + " to " + fixed(high, 2)
	}
	return Number(value, low, high), Interval(value, low, high)
}

// Signed is Number with a sign, and a plain 0 for what rounds to it.
func Signed(value, low, high float64) string {
	return shorten(signed(value, Decimals(value, low, high)), low, high)
}

// SignedFixed writes a value with its sign and a number of decimals, and a plain 0 for what rounds to it.
func SignedFixed(value float64, decimals int) string { return signed(value, decimals) }

// Fixed writes a value with a number of decimals; under 0 they stand for tens, hundreds and so on.
func Fixed(value float64, decimals int) string { return fixed(value, decimals) }

// Decimals is the number of decimals that an interval supports; under 0 it stands for tens,
// hundreds and so on.
func Decimals(value, low, high float64) int {
	most := significant - 1 - exponent(value)
	half := (high - low) / 2
	if !(half > 0) || math.IsInf(half, 0) {
		return min(most, 3)
	}
	d := -exponent(half / 2)
	// Tens and hundreds are not rounded away altogether.
	return max(min(d, most, 3), min(-exponent(value), 0))
}

// exponent is that of a number in scientific notation, 0 for 0.
func exponent(x float64) int {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return int(math.Floor(math.Log10(math.Abs(x)) + 1e-12))
}

func fixed(x float64, decimals int) string {
	if decimals < 0 {
		unit := math.Pow10(-decimals)
		x, decimals = math.Round(x/unit)*unit, 0
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		if strings.Trim(rest, "0.") == "" {
			return rest
		}
		return Minus + rest
	}
	return s
}

func signed(x float64, decimals int) string {
	s := fixed(x, decimals)
	switch {
	case strings.Trim(s, "0.") == "":
		return "0"
	case x > 0:
		return "+" + s
	}
	return s
}

// Round keeps five significant digits, as the JSON document and CSV do: more than any prediction
// is worth, and few enough to be the same from one compiler to the next.
func Round(x float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 5, 64), 64)
	if err != nil || r == 0 {
		return 0
	}
	return r
}

// Decimal rounds to a number of decimals.
func Decimal(x float64, decimals int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'f', decimals, 64), 64)
	if err != nil || r == 0 {
		return 0
	}
	return r
}

// Raw writes a number that somebody chose, without trailing zeros.
func Raw(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// WithUnit is a number with its unit, if it has one.
func WithUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}
