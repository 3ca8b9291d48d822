package series

import (
	"bytes"
	"fmt"
	"strings"

	"partsaloft/inventory/strict"
)

// layout is how a file is written.
type layout struct {
	separator byte // ' ' stands for any run of blanks
	decimal   byte
	columns   []heading
	clocks    []bool // columns of clock times
	headed    bool
	first     int // index of the first row of values in the sample
	headAt    int // line of the headings, 0 if there are none
}

// line is a line of the file with its number from 1.
type line struct {
	text []byte
	at   int
}

// isComment reports whether a line is a remark.
func isComment(b []byte, separator byte) bool {
	b = trim(b)
	if len(b) == 0 {
		return false
	}
	switch b[0] {
	case '#', '%', '!':
		return true
	case ';':
		return separator != ';'
	case '/':
		return len(b) > 1 && b[1] == '/'
	}
	return false
}

// fields cuts a line at the separator into dst, quotes taken off. The slices lie in the line.
func fields(b []byte, separator byte, dst [][]byte) [][]byte {
	dst = dst[:0]
	if separator == ' ' {
		for {
			b = trim(b)
			if len(b) == 0 {
				return dst
			}
			end := bytes.IndexAny(b, " \t")
			if end < 0 {
				end = len(b)
			}
			dst = append(dst, b[:end])
			b = b[end:]
		}
	}
	for {
		if t := skipBlanks(b, separator); len(t) > 0 && t[0] == '"' {
			end := bytes.IndexByte(t[1:], '"')
			for end >= 0 && end+2 < len(t) && t[end+2] == '"' { // a doubled quote
				next := bytes.IndexByte(t[end+3:], '"')
				if next < 0 {
					end = -1
					break
				}
				end += next + 2
			}
			if end >= 0 {
				dst = append(dst, t[1:end+1])
				rest := t[end+2:]
				next := bytes.IndexByte(rest, separator)
				if next < 0 {
					return dst
				}
				b = rest[next+1:]
				continue
			}
		}
		end := bytes.IndexByte(b, separator)
		if end < 0 {
			return append(dst, trimCR(b))
		}
		dst = append(dst, b[:end])
		b = b[end+1:]
	}
}

func skipBlanks(b []byte, separator byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t' && separator != '\t') {
		b = b[1:]
	}
	return b
}

func trimCR(b []byte) []byte { return bytes.TrimSuffix(b, []byte{'\r'}) }

// separators in the order in which they win: a comma or a blank may stand inside what others part.
var separators = [...]byte{';', '\t', '|', ',', ' '}

// shape is what a sample looks like cut at one separator.
type shape struct {
	separator byte
	width     int // fields in most rows of values
	rows      int // rows of that width
	decimal   byte
}

// shapeOf counts the rows of values that a sample has under a separator.
func shapeOf(sample []line, separator byte) shape {
	s := shape{separator: separator, decimal: '.'}
	var f [][]byte
	commas, points := 0, 0
	widths := map[int]int{}
	for _, l := range sample {
		if isComment(l.text, separator) {
			continue
		}
		f = fields(l.text, separator, f)
		if n, clocks := numerals(f); n+clocks < 2 || 3*(n+clocks) < len(f) {
			continue
		}
		for _, x := range f {
			if c, p := bytes.Count(x, []byte{','}), bytes.Count(x, []byte{'.'}); c == 1 && p == 0 && !thousandsOnly(x) {
				commas++
			} else if p == 1 && c == 0 {
				points++
			}
		}
		widths[len(f)]++
	}
	for w, n := range widths {
		if n > s.rows || n == s.rows && w > s.width {
			s.width, s.rows = w, n
		}
	}
	if commas > points {
		s.decimal = ','
	}
	return s
}

// thousandsOnly reports whether a comma parts thousands: three digits behind, one to three before, and no zero alone.
func thousandsOnly(x []byte) bool {
	x = trim(x)
	at := bytes.IndexByte(x, ',')
	return at >= 1 && at <= 3 && len(x)-at == 4 && x[0] != '0' && thousands(x[at+1:])
}

// numerals counts the fields that are numbers, with either decimal sign, and those that are clock times.
func numerals(f [][]byte) (numbers, clocks int) {
	for _, x := range f {
		if t := trim(x); len(t) > 0 && t[len(t)-1] == ',' {
			continue
		}
		if _, kind := number(x, '.'); kind == numeric {
			numbers++
		} else if _, kind := number(x, ','); kind == numeric {
			numbers++
		} else if _, ok := clock(x, '.'); ok {
			clocks++
		}
	}
	return numbers, clocks
}

// layOut finds how a file is written from its first lines.
func layOut(sample []line) (*layout, *strict.Fault) {
	var shapes [len(separators)]shape
	most := 0
	for i, separator := range separators {
		if shapes[i] = shapeOf(sample, separator); shapes[i].width > 1 {
			most = max(most, shapes[i].rows)
		}
	}
	var best shape
	for i := len(shapes) - 1; i >= 0; i-- {
		if s := shapes[i]; s.width > 1 && s.rows > 0 && 5*s.rows >= 4*most {
			best = s
		}
	}
	if best.width < 2 {
		return nil, &strict.Fault{Problem: strict.Problem{Code: "series.no_rows", Values: strict.Values{"lines": len(sample)}}}
	}
	l := &layout{separator: best.separator, decimal: best.decimal}
	if l.separator == ',' {
		l.decimal = quotedDecimal(sample)
	}
	l.first = -1
	var f [][]byte
	for i := range sample {
		if isComment(sample[i].text, l.separator) {
			continue
		}
		f = fields(sample[i].text, l.separator, f)
		if n, clocks := numerals(f); abs(len(f)-best.width) <= 1 && n+clocks >= 2 && 3*(n+clocks) >= len(f) {
			l.first = i
			break
		}
	}
	head, units := l.headings(sample, best.width)
	if fault := l.doubled(sample, head, best.width); fault != nil {
		return nil, fault
	}
	l.headed = head != nil
	f = fields(sample[l.first].text, l.separator, f)
	for i := range max(best.width, len(head)) {
		name, unit := fmt.Sprintf("column %d", i+1), ""
		if i < len(head) {
			name = strings.TrimSpace(head[i])
		} else if l.headed {
			name = ""
		}
		if i < len(units) {
			unit = units[i]
		} else if i < len(f) {
			unit = unitBehind(f[i])
		}
		h := heading{text: name, factor: 1, unit: unit}
		if l.headed {
			h = dissect(name, unit)
		}
		l.columns = append(l.columns, h)
	}
	l.clocks = clocksIn(sample[l.first:], l)
	return l, nil
}

func abs(n int) int { return max(n, -n) }

// quotedDecimal tells the decimal sign of a file that is cut at commas: a comma only inside quotes.
func quotedDecimal(sample []line) byte {
	for _, l := range sample {
		for rest := l.text; ; {
			from := bytes.IndexByte(rest, '"')
			if from < 0 {
				break
			}
			to := bytes.IndexByte(rest[from+1:], '"')
			if to < 0 {
				break
			}
			inner := rest[from+1 : from+1+to]
			if bytes.Count(inner, []byte{','}) == 1 && !bytes.ContainsRune(inner, '.') && !thousandsOnly(inner) {
				if _, kind := number(inner, ','); kind == numeric {
					return ','
				}
			}
			rest = rest[from+to+2:]
		}
	}
	return '.'
}

// headings are those above the first row of values, nil if there are none, with the row of units if there is one. A
// remark may hold them.
func (l *layout) headings(sample []line, width int) (head, units []string) {
	for i := l.first - 1; i >= 0; i-- {
		b := trim(sample[i].text)
		if len(b) == 0 {
			continue
		}
		remark := isComment(b, l.separator)
		if remark {
			b = bytes.TrimLeft(b, "#%!;/ ")
		}
		f := fields(b, l.separator, nil)
		for len(f) > width && len(trim(f[len(f)-1])) == 0 {
			f = f[:len(f)-1]
		}
		if len(f) < 2 || len(f) != width && !(len(f) >= width-1 && len(f) <= width+1) && !l.double(len(f), width) {
			if remark {
				continue
			}
			return head, units
		}
		list := make([]string, len(f))
		for k := range f {
			list[k] = string(trim(f[k]))
		}
		if units == nil && head == nil && unitsAlone(list) {
			units = list
			continue
		}
		if n, _ := numerals(f); 2*n > len(f) {
			return head, units
		}
		l.headAt = sample[i].at
		return list, units
	}
	if head == nil && units != nil {
		// A single row of short words above the values are headings, though they could be units.
		l.headAt = sample[max(l.first-1, 0)].at
		return units, nil
	}
	return head, units
}

// unitsAlone reports whether a row holds units and nothing else.
func unitsAlone(list []string) bool {
	some := 0
	for _, w := range list {
		u := strings.ToLower(strings.Trim(fold(w), " ()[]{}-"))
		if u == "" {
			continue
		}
		if !isUnit(u) && u != "pwm" && u != "hh:mm:ss" && u != "g" && u != "-" && u != "w" && u != "c" && u != "°c" &&
			u != "db" && u != "deg/s" && u != "m/s2" {
			return false
		}
		some++
	}
	return some > 0
}

// double reports whether rows have as many fields as they do where commas part both columns and decimals.
func (l *layout) double(head, width int) bool {
	return l.separator == ',' && width > head && width <= 2*head
}

// doubled faults files whose commas part both columns and decimals.
func (l *layout) doubled(sample []line, head []string, width int) *strict.Fault {
	if len(head) >= 2 && width > len(head)+1 && l.double(len(head), width) {
		return &strict.Fault{Position: strict.Position{Line: sample[l.first].at, Column: 1},
			Problem: strict.Problem{Code: "series.comma_twice", Values: strict.Values{"headings": len(head), "fields": width}}}
	}
	return nil
}

// unitBehind is the unit that stands behind a number in its field.
func unitBehind(b []byte) string {
	b = trim(b)
	at := len(b)
	for at > 0 && !isDigit(b[at-1]) {
		at--
	}
	if at == 0 {
		return ""
	}
	if u := strings.ToLower(fold(strings.Trim(string(b[at:]), " .,"))); isUnit(u) {
		return u
	}
	return ""
}

// clocksIn tells the columns in which most of the first rows hold clock times.
func clocksIn(sample []line, l *layout) []bool {
	seen, rows := make([]int, len(l.columns)), 0
	var f [][]byte
	for _, row := range sample {
		f = fields(row.text, l.separator, f)
		rows++
		for i := range min(len(f), len(seen)) {
			if _, ok := clock(f[i], l.decimal); ok {
				seen[i]++
			}
		}
	}
	clocks := make([]bool, len(seen))
	for i, n := range seen {
		clocks[i] = 2*n > rows
	}
	return clocks
}
