package series

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"math"
	"slices"
	"strings"

	"partsaloft/inventory/strict"
)

// Options say what a file does not.
type Options struct {
	// Columns name the columns of quantities by their headings or by their numbers from 1, with the unit in brackets
	// behind where the heading does not say it: "Pack [mV]".
	Columns map[Quantity][]string
	// RateHz is how many rows a second has, for files without a column of time; 0 if there is one.
	RateHz float64
	// Poles are the magnets of a motor's bell, for electrical rpm; 0 if not known.
	Poles int
	Pack  Pack
}

// Column is a column that is used.
type Column struct {
	Quantity Quantity
	Heading  string
	Number   int // from 1
	// Unit is the one in which the values are taken to be written, and Factor what brings them into the quantity's own;
	// Offset comes off first.
	Unit           string
	Factor, Offset float64
	How            How
	Missing        float64 // share of rows without a value
	Low, High      float64 // of its values, in the quantity's own unit

	slot int // in a bin
	head *heading
}

// How a column was recognised.
type How string

// The ways.
const (
	Named   How = "named" // by the caller
	ByWords How = "words"
	ByRange How = "range"
)

// Record is a file that was read.
type Record struct {
	Columns []Column
	// Unused are the headings of columns that are not used.
	Unused []string
	Rows   int
	// Restarts and Gaps count where time jumps back or leaves out more than 20 mean steps, Repeated rows with the time
	// of the row before, Back rows a little out of order, Bad rows that could not be read.
	Restarts, Gaps, Repeated, Back, Bad int
	FirstBad                            int // line of the first bad row
	// StepS is the mean step between rows.
	StepS   float64
	Notes   []Note
	options Options
	bins    *bins
	layout  *layout
	integer []bool // by slot: no value has decimals
}

// Note is something that a pilot should know of what was read or found.
type Note struct {
	Code   strict.Code
	Values strict.Values
}

// Bounds of what is read.
const (
	longestLine = 1 << 20
	sampleLines = 2000
	sampleBytes = 1 << 20
	mostColumns = 24 // that are kept
	badShare    = 0.10
)

// Read reads a file to its end. Its errors are strict.Faults with the line, or those of the reader.
func Read(name string, r io.Reader, o Options) (*Record, error) {
	in := newLines(r)
	rd := &reading{record: &Record{options: o}, lines: in}
	fault, err := rd.run()
	if err != nil {
		return nil, err
	}
	if fault != nil {
		fault.File = name
		if fault.Line > 0 && fault.Column == 0 {
			fault.Column = 1
		}
		return nil, strict.Faults{*fault}
	}
	return rd.record, nil
}

// lines gives the lines of a file.
type lines struct {
	scanner *bufio.Scanner
	at      int
}

func newLines(r io.Reader) *lines {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 64<<10), longestLine)
	s.Split(splitLines)
	return &lines{scanner: s}
}

// splitLines ends lines at LF, CR LF or CR.
func splitLines(data []byte, atEOF bool) (int, []byte, error) {
	i := bytes.IndexAny(data, "\r\n")
	if i < 0 {
		if atEOF && len(data) > 0 {
			return len(data), data, nil
		}
		return 0, nil, nil
	}
	if data[i] == '\r' {
		if i+1 == len(data) && !atEOF {
			return 0, nil, nil
		}
		if i+1 < len(data) && data[i+1] == '\n' {
			return i + 2, data[:i], nil
		}
	}
	return i + 1, data[:i], nil
}

func (l *lines) next() ([]byte, bool) {
	if !l.scanner.Scan() {
		return nil, false
	}
	l.at++
	return l.scanner.Bytes(), true
}

// reading is the state of one run of Read.
type reading struct {
	record *Record
	lines  *lines
	layout *layout
	time   Column // as chosen; slot is not used
	kept   []Column
	last   int // largest index of a field that is needed

	fields  [][]byte
	values  []float64
	texts   []int    // by column: values that are none
	textAt  []int    // line of the first
	textGot []string // what stood there
	days    float64  // that clock times have gone past midnight
	before  float64  // last clock time
}

func (rd *reading) run() (*strict.Fault, error) {
	var sample []line
	size := 0
	for len(sample) < sampleLines && size < sampleBytes {
		b, ok := rd.lines.next()
		if !ok {
			break
		}
		if rd.lines.at == 1 {
			b = bytes.TrimPrefix(b, []byte("\ufeff"))
		}
		if code := notText(b); code != "" {
			return faultAt(rd.lines.at, code, nil), nil
		}
		if rd.lines.at == 1 && len(b) <= 6 && bytes.HasPrefix(bytes.ToLower(b), []byte("sep=")) {
			continue
		}
		sample = append(sample, line{bytes.Clone(b), rd.lines.at})
		size += len(b) + 1
	}
	if fault, err := rd.ended(); fault != nil || err != nil {
		return fault, err
	}
	if !slices.ContainsFunc(sample, func(l line) bool { return len(trim(l.text)) > 0 }) {
		return &strict.Fault{Problem: strict.Problem{Code: "series.empty"}}, nil
	}
	var fault *strict.Fault
	if rd.layout, fault = layOut(sample); fault != nil {
		return fault, nil
	}
	if fault := rd.choose(sample); fault != nil {
		return fault, nil
	}
	rd.start()
	for _, l := range sample[rd.layout.first:] {
		if fault := rd.row(l.text, l.at); fault != nil {
			return fault, nil
		}
	}
	for {
		b, ok := rd.lines.next()
		if !ok {
			break
		}
		if fault := rd.row(b, rd.lines.at); fault != nil {
			return fault, nil
		}
	}
	if fault, err := rd.ended(); fault != nil || err != nil {
		return fault, err
	}
	return rd.finish(), nil
}

// ended tells why the lines have ended, nil if at the end of the file.
func (rd *reading) ended() (*strict.Fault, error) {
	switch err := rd.lines.scanner.Err(); {
	case err == nil:
		return nil, nil
	case errors.Is(err, bufio.ErrTooLong):
		return faultAt(rd.lines.at+1, "series.long_line", strict.Values{"most": longestLine >> 20}), nil
	default:
		return nil, err
	}
}

func faultAt(line int, code strict.Code, values strict.Values) *strict.Fault {
	return &strict.Fault{Position: strict.Position{Line: line, Column: 1}, Problem: strict.Problem{Code: code,
		Values: values}}
}

// notText is why a line is none of a text file, "" if it is one.
func notText(b []byte) strict.Code {
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}), bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		return "series.utf16"
	case bytes.IndexByte(b, 0) >= 0:
		return "series.binary"
	}
	return ""
}

func (rd *reading) start() {
	r := rd.record
	r.layout, r.bins = rd.layout, newBins(len(rd.kept))
	rd.values = make([]float64, len(rd.kept))
	rd.texts, rd.textAt = make([]int, len(rd.kept)), make([]int, len(rd.kept))
	rd.textGot = make([]string, len(rd.kept))
	r.integer = make([]bool, len(rd.kept))
	for i := range rd.kept {
		rd.kept[i].slot = i
		rd.last = max(rd.last, rd.kept[i].Number-1)
		r.integer[i] = true
	}
	rd.last = max(rd.last, rd.time.Number-1)
}

// row takes one line behind the headings.
func (rd *reading) row(b []byte, at int) *strict.Fault {
	if len(trim(b)) == 0 || isComment(b, rd.layout.separator) {
		return nil
	}
	if bytes.IndexByte(b, 0) >= 0 {
		return faultAt(at, "series.binary", nil)
	}
	rd.fields = fields(b, rd.layout.separator, rd.fields)
	f := rd.fields
	if len(f) <= rd.last {
		rd.bad(at)
		return nil
	}
	when, ok := rd.when(f)
	if !ok {
		return rd.noTime(f, at)
	}
	for i := range rd.kept {
		x, kind := number(f[rd.kept[i].Number-1], rd.layout.decimal)
		if kind != numeric {
			x = math.NaN()
		}
		if kind == text {
			if rd.texts[i]++; rd.textAt[i] == 0 {
				rd.textAt[i], rd.textGot[i] = at, clip(f[rd.kept[i].Number-1])
			}
		}
		if rd.record.integer[i] && kind == numeric && x != math.Trunc(x) {
			rd.record.integer[i] = false
		}
		rd.values[i] = x
	}
	rd.record.bins.add(when, rd.values, at)
	if rd.record.bins.restarts > mostRestarts {
		return faultAt(at, "series.restarts", strict.Values{"column": strict.Raw(rd.time.Heading), "n": mostRestarts})
	}
	return nil
}

func (rd *reading) bad(at int) {
	if rd.record.Bad++; rd.record.FirstBad == 0 {
		rd.record.FirstBad = at
	}
}

// when is the time of a row in the file's unit.
func (rd *reading) when(f [][]byte) (float64, bool) {
	if rd.time.Number == 0 {
		return float64(rd.record.bins.rows) / rd.record.options.RateHz, true
	}
	b := f[rd.time.Number-1]
	if rd.layout.clocks[rd.time.Number-1] {
		x, ok := clock(b, rd.layout.decimal)
		if ok && x < rd.before-40000 && x >= 0 && x < 86400 {
			rd.days += 86400
		}
		if ok {
			rd.before = x
		}
		return x + rd.days, ok
	}
	x, kind := number(b, rd.layout.decimal)
	return x, kind == numeric
}

// noTime tells a row of headings that stands again, as where recordings are strung together, from one that is bad.
func (rd *reading) noTime(f [][]byte, at int) *strict.Fault {
	if !rd.layout.headed || len(trim(f[rd.time.Number-1])) == 0 {
		rd.bad(at)
		return nil
	}
	same, texts := 0, 0
	for i := range min(len(f), len(rd.layout.columns)) {
		if strings.TrimSpace(string(f[i])) == rd.layout.columns[i].text {
			same++
		} else if _, kind := number(f[i], rd.layout.decimal); kind == text {
			texts++
		}
	}
	if same > 0 && texts > 0 && same+texts == len(rd.layout.columns) {
		return faultAt(at, "series.other_headings", strict.Values{"line": strict.Line(rd.layout.headAt)})
	}
	if same < len(rd.layout.columns)/2 {
		rd.bad(at)
	}
	return nil
}

func clip(b []byte) string {
	s := strings.ToValidUTF8(string(trim(b)), "?")
	if len(s) > 24 {
		s = strings.ToValidUTF8(s[:24], "") + "…"
	}
	return s
}

// finish turns what was read into the record.
func (rd *reading) finish() *strict.Fault {
	r := rd.record
	b := r.bins
	r.Rows, r.Restarts, r.Gaps, r.Repeated, r.Back = b.rows, b.restarts, b.gaps, b.repeated, b.back
	if r.Bad > 5 && float64(r.Bad) > badShare*float64(r.Bad+r.Rows) {
		return faultAt(r.FirstBad, "series.bad_rows", strict.Values{"bad": r.Bad, "rows": r.Bad + r.Rows,
			"fields": len(rd.layout.columns)})
	}
	if r.Back > 5 && float64(r.Back) > badShare*float64(r.Rows) {
		return faultAt(max(rd.layout.headAt, 1), "series.restarts", strict.Values{"column": strict.Raw(rd.time.Heading),
			"n": r.Back})
	}
	if r.Rows < 20 {
		return &strict.Fault{Problem: strict.Problem{Code: "series.few_rows", Values: strict.Values{"rows": r.Rows}}}
	}
	for i := range rd.kept {
		c := &rd.kept[i]
		if c.Quantity != "" && 2*rd.texts[i] > r.Rows {
			return faultAt(rd.textAt[i], "series.not_numbers", strict.Values{"column": strict.Raw(c.Heading),
				"got": strict.Raw(rd.textGot[i])})
		}
	}
	return rd.scale()
}
