package series

import (
	"bytes"
	"math"
	"strconv"
)

// powers of ten that float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
	1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// cell is what stands in one field of a row.
type cell uint8

const (
	missing cell = iota // nothing, a dash, not a number
	text
	numeric
)

// number reads a number with a decimal sign, and a unit or a percent sign behind it if there is one. It makes no
// garbage: up to 15 digits it is exact, as a sum of digits over a power of ten; longer ones go through strconv.
func number(b []byte, decimal byte) (float64, cell) {
	b = trim(b)
	if len(b) == 0 {
		return 0, missing
	}
	i, negative := 0, false
	if b[0] == '-' || b[0] == '+' {
		negative = b[0] == '-'
		i++
	} else if bytes.HasPrefix(b, minus) {
		negative = true
		i = len(minus)
	}
	var mantissa uint64
	digits, decimals, dotted := 0, 0, false
	start := i
scan:
	for ; i < len(b); i++ {
		switch c := b[i]; {
		case c >= '0' && c <= '9':
			if digits >= 15 && mantissa > 0 {
				return long(b[start:], decimal, negative)
			}
			mantissa = mantissa*10 + uint64(c-'0')
			digits++
			if dotted {
				decimals++
			}
		case c == decimal && !dotted:
			dotted = true
		case (c == ',' || c == '.' || c == '\'') && !dotted && digits > 0 && c != decimal && thousands(b[i+1:]):
			// 1,234.5
		default:
			break scan
		}
	}
	if digits == 0 {
		return 0, blank(b)
	}
	if i < len(b) && (b[i] == 'e' || b[i] == 'E') && i+1 < len(b) && (b[i+1] == '-' || b[i+1] == '+' || isDigit(b[i+1])) {
		return long(b[start:], decimal, negative)
	}
	if !suffix(b[i:]) {
		return 0, text
	}
	x := float64(mantissa)
	if decimals > 22 {
		return long(b[start:i], decimal, negative)
	}
	x /= powers[decimals]
	if negative {
		x = -x
	}
	return x, numeric
}

// minus is the typographic sign.
var minus = []byte("−")

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// thousands reports whether exactly three digits come next.
func thousands(b []byte) bool {
	n := 0
	for n < len(b) && isDigit(b[n]) {
		n++
	}
	return n == 3
}

// long reads a number of many digits or with an exponent.
func long(b []byte, decimal byte, negative bool) (float64, cell) {
	end := 0
	for end < len(b) && (isDigit(b[end]) || b[end] == decimal || (b[end] == 'e' || b[end] == 'E') && end+1 < len(b) ||
		(b[end] == '-' || b[end] == '+') && end > 0 && (b[end-1] == 'e' || b[end-1] == 'E')) {
		end++
	}
	s := string(b[:end])
	if decimal != '.' {
		s = string(bytes.Replace(b[:end], []byte{decimal}, []byte{'.'}, 1))
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) || !suffix(b[end:]) {
		return 0, text
	}
	if negative {
		x = -x
	}
	return x, numeric
}

// suffix reports whether what stands behind a number can be its unit: nothing, or a few letters without a digit.
func suffix(b []byte) bool {
	b = trim(b)
	if len(b) > 8 {
		return false
	}
	for _, c := range b {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '%' || c == '/' || c >= 0x80) {
			return false
		}
	}
	return true
}

// blank tells what stands for a value that is not there from other words.
func blank(b []byte) cell {
	switch len(b) {
	case 1:
		if b[0] == '-' || b[0] == '?' {
			return missing
		}
	case 2:
		if b[0] == '-' && b[1] == '-' {
			return missing
		}
	}
	for _, w := range blanks {
		if bytes.EqualFold(b, w) {
			return missing
		}
	}
	return text
}

var blanks = [][]byte{[]byte("nan"), []byte("-nan"), []byte("n/a"), []byte("na"), []byte("null"), []byte("none"),
	[]byte("inf"), []byte("-inf"), []byte("+inf"), []byte("nil"), []byte("#n/a"), []byte("---"), []byte("infinity"),
	[]byte("-infinity")}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	return b
}

// clock reads a time of day or a time that has passed, in s: 12:30:05.250, 02:05.3, with a day before it or not,
// AM or PM behind it. A day counts only if it is written as year, month and day.
func clock(b []byte, decimal byte) (float64, bool) {
	b = trim(b)
	colon := bytes.IndexByte(b, ':')
	if colon < 1 {
		return 0, false
	}
	from := colon
	for from > 0 && isDigit(b[from-1]) {
		from--
	}
	days := 0.0
	if from >= 11 && from-11 >= 0 {
		days, _ = day(b[from-11 : from-1])
	}
	var parts [3]float64
	n := 0
	rest := b[from:]
	for n < 3 {
		end := 0
		for end < len(rest) && isDigit(rest[end]) {
			end++
		}
		if end == 0 || end > 9 {
			return 0, false
		}
		for _, c := range rest[:end] {
			parts[n] = parts[n]*10 + float64(c-'0')
		}
		rest = rest[end:]
		n++
		if len(rest) == 0 || rest[0] != ':' {
			break
		}
		if n < 3 {
			rest = rest[1:]
		}
	}
	fraction := 0.0
	if len(rest) > 1 && (rest[0] == '.' || rest[0] == ',' || rest[0] == decimal || rest[0] == ':') && isDigit(rest[1]) {
		scale := 0.1
		rest = rest[1:]
		for len(rest) > 0 && isDigit(rest[0]) {
			fraction += scale * float64(rest[0]-'0')
			scale /= 10
			rest = rest[1:]
		}
	}
	if n == 2 { // minutes and seconds if there is a fraction, hours and minutes never come with one
		return days*86400 + parts[0]*60 + parts[1] + fraction, true
	}
	hours := parts[0]
	if rest = trim(rest); len(rest) == 2 && (rest[1] == 'M' || rest[1] == 'm') {
		hours = math.Mod(hours, 12)
		if rest[0] == 'P' || rest[0] == 'p' {
			hours += 12
		}
	}
	return days*86400 + hours*3600 + parts[1]*60 + parts[2] + fraction, true
}

// day counts the days of a date year-month-day from some day on, by the rule of the Gregorian calendar.
func day(b []byte) (float64, bool) {
	var part [3]int
	for i, at := range [...]struct{ from, to int }{{0, 4}, {5, 7}, {8, 10}} {
		for _, c := range b[at.from:at.to] {
			if !isDigit(c) {
				return 0, false
			}
			part[i] = part[i]*10 + int(c-'0')
		}
	}
	y, m, d := part[0], part[1], part[2]
	if m < 1 || m > 12 || d < 1 || d > 31 {
		return 0, false
	}
	if m <= 2 {
		y--
		m += 12
	}
	return float64(365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d), true
}
