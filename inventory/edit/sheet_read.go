package edit

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

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// ReadSheet reads a list of parts from a CSV file, named for messages: the headings are the drawer's
// keys, in any order; commas, semicolons or tabs part the cells; numbers may have decimal commas where
// that can be nothing else. The error is a Faults that holds every fault at once.
func ReadSheet(name string, kind inventory.Kind, r io.Reader) (*Sheet, error) {
	s := &Sheet{Kind: kind, Name: name}
	var faults inventory.Faults
	fault := func(at strict.Position, path string, p strict.Problem) {
		faults = append(faults, inventory.Fault{File: name, Position: at, Path: path, Problem: p})
	}
	raw, err := io.ReadAll(io.LimitReader(r, strict.MaxBytes+1))
	if err != nil {
		fault(strict.Position{}, "", strict.Problem{Code: "file.cut", Values: strict.Values{"cause": err.Error()}})
		return nil, faults
	}
	records, at, err := split(raw, false)
	if err != nil {
		var f inventory.Fault
		if errors.As(err, &f) {
			f.File = name
			return nil, inventory.Faults{f}
		}
		return nil, err
	}
	if len(records) == 0 {
		fault(strict.Position{}, "",
			strict.Problem{Code: "sheet.empty", Values: strict.Values{"keys": strict.List(keysOf(kind))}})
		return nil, faults
	}
	columns := s.headings(records[0], at[0], fault)
	if faults != nil {
		return nil, faults
	}
	schema := inventory.Schema().At(kind.Section(), "[]")
	sign := newDecimalSign()
	for _, pass := range []bool{false, true} {
		for i := 1; i < len(records); i++ {
			row, blank := map[string]cell{}, true
			for c, text := range records[i] {
				text = strings.TrimSpace(strict.PlainSpaces(bareCell(text)))
				where := at[i][c]
				switch {
				case text == "":
				case c >= len(columns) || columns[c] == "":
					if pass {
						fault(where, "", *gotProblem("sheet.no_heading", text))
					}
				case !pass:
					if isNumber(schema.At(columns[c])) {
						sign.see(text, where)
					}
				default:
					value, problem := sheetCell(schema.At(columns[c]), columns[c], text, sign)
					if problem != nil {
						fault(where, columns[c], *problem)
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
			return nil, inventory.Faults{{File: name, Position: *mixed, Problem: sign.complaint()}}
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

func compareFaults(a, b inventory.Fault) int {
	if a.Line != b.Line {
		return a.Line - b.Line
	}
	return a.Column - b.Column
}

func (s *Sheet) sameIDs(fault func(strict.Position, string, strict.Problem)) {
	first := map[string]int{}
	for i, id := range s.ids() {
		switch line, ok := first[id]; {
		case id == "":
			fault(s.at[i], "id", strict.Problem{Code: "sheet.no_id"})
		case ok:
			fault(s.rows[i]["id"].at, "id", strict.Problem{Code: "sheet.id_twice",
				Values: strict.Values{"id": strict.Raw(id), "line": strict.Line(line)}})
		default:
			first[id] = s.at[i].Line
		}
	}
}

// split parts the text into records with the place of each cell. A byte order mark and a first line of
// the form sep=; are passed over. Lazy lets quotes stand inside of cells.
func split(raw []byte, lazy bool) (records [][]string, at [][]strict.Position, err error) {
	switch {
	case len(raw) > strict.MaxBytes:
		return nil, nil, inventory.Fault{Problem: strict.Problem{Code: "file.large",
			Values: strict.Values{"mib": strict.Number(strict.MaxBytes >> 20)}}}
	case strict.NotText(raw) != "":
		return nil, nil, inventory.Fault{Position: strict.Position{Line: 1, Column: 1},
			Problem: strict.Problem{Code: strict.NotText(raw)}}
	}
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	for i := 0; i < len(raw); {
		r, size := utf8.DecodeRune(raw[i:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			line := 1 + bytes.Count(raw[:i], []byte("\n"))
			return nil, nil, inventory.Fault{Position: strict.Position{Line: line, Column: 1},
				Problem: strict.Problem{Code: "sheet.byte", Values: strict.Values{"byte": fmt.Sprintf("0x%02x", raw[i])}}}
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
		if !bytes.ContainsAny(first, ",;\t") {
			first = raw[:min(len(raw), 4096)] // a title stands over the sheet
		}
		separator = separatorOf(string(first))
	}
	r := csv.NewReader(bytes.NewReader(raw))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = separator, -1, lazy
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return records, at, nil
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			code := strict.Code("sheet.quote_ends")
			if errors.Is(parse.Err, csv.ErrBareQuote) {
				code = "sheet.quote_inside"
			}
			return nil, nil, inventory.Fault{Position: strict.Position{Line: parse.Line + skipped, Column: parse.Column},
				Problem: strict.Problem{Code: code}}
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
func (s *Sheet) headings(record []string, at []strict.Position, fault func(strict.Position, string,
	strict.Problem)) []string {
	keys := keysOf(s.Kind)
	columns := make([]string, len(record))
	for i, text := range record {
		text = strings.TrimSpace(text)
		switch {
		case text == "":
			continue
		case !slices.Contains(keys, text):
			p := strict.Problem{Code: "sheet.heading", Values: strict.Values{"got": strict.Raw(text),
				"keys": strict.List(keys)}, Way: "sheet.headings"}
			if near := strict.Meant(s.Kind.Empty(), text); near != "" {
				p.Way, p.Values["near"] = "id.near", near
			}
			fault(at[i], "", p)
		case slices.Contains(s.keys, text):
			fault(at[i], "", strict.Problem{Code: "sheet.heading_twice", Values: strict.Values{"heading": text}})
		default:
			columns[i], s.keys = text, append(s.keys, text)
		}
	}
	if !slices.Contains(s.keys, "id") {
		fault(strict.Position{Line: at[0].Line, Column: 1}, "", strict.Problem{Code: "sheet.no_id_heading"})
	}
	return columns
}
