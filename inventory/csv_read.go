package inventory

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"partsaloft/inventory/strict"
)

var lineOf = regexp.MustCompile(`line \d+`)

// ReadSheet reads a list of parts from a CSV file, named for messages: the headings are the drawer's
// keys, in any order; commas, semicolons or tabs part the cells; numbers may have decimal commas where
// that can be nothing else. The error is a Faults that holds every fault at once.
func ReadSheet(name string, kind Kind, r io.Reader) (*Sheet, error) {
	s := &Sheet{Kind: kind, Name: name}
	var faults Faults
	fault := func(at strict.Position, path, format string, args ...any) {
		faults = append(faults, Fault{File: name, Line: at.Line, Column: at.Column, Path: path, Message: fmt.Sprintf(format, args...)})
	}
	raw, err := io.ReadAll(io.LimitReader(r, strict.MaxBytes+1))
	if err != nil {
		fault(strict.Position{}, "", "cannot be read to its end: %v", err)
		return nil, faults
	}
	records, at, err := split(raw)
	if err != nil {
		var f Fault
		if errors.As(err, &f) {
			f.File = name
			return nil, Faults{f}
		}
		return nil, err
	}
	if len(records) == 0 {
		fault(strict.Position{}, "", "is empty; its first line holds headings: %s", strings.Join(keysOf(kind), ", "))
		return nil, faults
	}
	columns := s.headings(records[0], at[0], fault)
	if faults != nil {
		return nil, faults
	}
	schema := Schema().At(kind.Section(), "[]")
	sign := newDecimalSign()
	for _, pass := range []bool{false, true} {
		for i := 1; i < len(records); i++ {
			row, blank := map[string]cell{}, true
			for c, text := range records[i] {
				text = strings.TrimSpace(oddSpace.Replace(bareCell(text)))
				where := at[i][c]
				switch {
				case text == "":
				case c >= len(columns) || columns[c] == "":
					if pass {
						fault(where, "", "%s stands under no heading", strict.Show(text))
					}
				case !pass:
					if isNumber(schema.At(columns[c])) {
						sign.see(text, where)
					}
				default:
					value, err := sheetCell(schema.At(columns[c]), columns[c], text, sign)
					if err != nil {
						fault(where, columns[c], "%v", err)
						continue
					}
					row[columns[c]], blank = cell{value, where}, false
				}
			}
			if pass && !blank {
				s.rows, s.at = append(s.rows, row), append(s.at, strict.Position{Line: at[i][0].Line, Column: 1})
			}
		}
		if mixed := sign.mixed(); !pass && mixed != nil {
			return nil, Faults{{File: name, Line: mixed.Line, Column: mixed.Column, Message: sign.complaint()}}
		}
	}
	s.sameIDs(fault)
	if faults != nil {
		slices.SortStableFunc(faults, compareFaults)
		return nil, faults
	}
	return s, nil
}

// bareCell takes the apostrophe off that keeps a spreadsheet from running a text that begins with = + - or @.
func bareCell(text string) string {
	if rest := strings.TrimLeft(text, "' \t\r\n"); rest != "" && strings.ContainsRune("=+-@", rune(rest[0])) {
		return strings.TrimPrefix(text, "'")
	}
	return text
}

func compareFaults(a, b Fault) int {
	if a.Line != b.Line {
		return a.Line - b.Line
	}
	return a.Column - b.Column
}

func (s *Sheet) sameIDs(fault func(strict.Position, string, string, ...any)) {
	first := map[string]int{}
	for i, id := range s.ids() {
		switch line, ok := first[id]; {
		case id == "":
			fault(s.at[i], "id", "is missing; each part has its own")
		case ok:
			fault(s.rows[i]["id"].at, "id", "%s stands in line %d already; give each part its own", strict.Show(id), line)
		default:
			first[id] = s.at[i].Line
		}
	}
}

// split parts the text into records with the place of each cell. A byte order mark and a first line of
// the form sep=; are passed over.
func split(raw []byte) (records [][]string, at [][]strict.Position, err error) {
	switch {
	case len(raw) > strict.MaxBytes:
		return nil, nil, Fault{Message: "is larger than 8 MiB, the most that is read; is it the right file?"}
	case strict.NotText(raw) != "":
		return nil, nil, Fault{Line: 1, Column: 1, Message: strict.NotText(raw)}
	}
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	for i := 0; i < len(raw); {
		r, size := utf8.DecodeRune(raw[i:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			line := 1 + bytes.Count(raw[:i], []byte("\n"))
			return nil, nil, Fault{Line: line, Column: 1, Message: fmt.Sprintf("byte 0x%02x is not UTF-8 text (Latin-1?); save it as CSV in UTF-8", raw[i])}
		}
		i += size
	}
	separator, skipped := rune(0), 0
	if m := sepLine.FindSubmatch(raw); m != nil {
		separator = rune(m[1][0])
		raw = raw[len(m[0]):]
		skipped = 1
	}
	first, _, _ := bytes.Cut(bytes.TrimLeft(raw, "\r\n"), []byte("\n"))
	if separator == 0 {
		separator = separatorOf(string(first))
	}
	r := csv.NewReader(bytes.NewReader(raw))
	r.Comma, r.FieldsPerRecord = separator, -1
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return records, at, nil
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			message := "a cell in quotes goes on after its closing quote; double a quote that belongs to the text"
			if errors.Is(parse.Err, csv.ErrBareQuote) {
				message = "a quote stands inside a cell without quotes; put the cell in quotes and double the one inside"
			}
			return nil, nil, Fault{Line: parse.Line + skipped, Column: parse.Column, Message: message}
		}
		if err != nil {
			return nil, nil, err
		}
		places := make([]strict.Position, max(len(record), 1))
		for i := range record {
			line, column := r.FieldPos(i)
			places[i] = strict.Position{Line: line + skipped, Column: column}
		}
		records, at = append(records, record), append(at, places)
	}
}

var sepLine = regexp.MustCompile(`^"?sep=([;,\t])"?\r?\n`)

// separatorOf is what parts most of the headings.
func separatorOf(line string) rune {
	best, most := ',', 0
	for _, r := range []rune{',', ';', '\t'} {
		if n := strings.Count(line, string(r)); n > most {
			best, most = r, n
		}
	}
	return best
}

// headings are the keys of the columns; "" for one without a heading.
func (s *Sheet) headings(record []string, at []strict.Position, fault func(strict.Position, string, string, ...any)) []string {
	keys := keysOf(s.Kind)
	columns := make([]string, len(record))
	for i, text := range record {
		text = strings.TrimSpace(text)
		switch {
		case text == "":
			continue
		case !slices.Contains(keys, text):
			way := "; the headings are the drawer's keys: " + strings.Join(keys, ", ")
			if near := strict.Meant(zeroPart(s.Kind), text); near != "" {
				way = "; did you mean " + near + "?"
			}
			fault(at[i], "", "%s is no heading%s", strict.Show(text), way)
		case slices.Contains(s.keys, text):
			fault(at[i], "", "the heading %s stands twice; keep one", text)
		default:
			columns[i], s.keys = text, append(s.keys, text)
		}
	}
	if !slices.Contains(s.keys, "id") {
		fault(strict.Position{Line: at[0].Line, Column: 1}, "", "has no heading id; each part has its own")
	}
	return columns
}
