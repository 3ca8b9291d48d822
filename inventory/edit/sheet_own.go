package edit

import (
	"errors"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// IsKeySheet reports whether a CSV file has the drawer's own keys of a kind of part as its headings, as Rows writes them:
// an id, and mostly keys beside it.
func IsKeySheet(raw []byte, kind inventory.Kind) bool {
	records, _, err := split(raw, false)
	if err != nil || len(records) == 0 {
		return true // ReadSheet says what is wrong
	}
	keys, known, named := keysOf(kind), 0, 0
	for _, cell := range records[0] {
		if cell = strings.TrimSpace(cell); cell != "" {
			named++
		}
		if slices.Contains(keys, cell) {
			known++
		}
	}
	return slices.Contains(records[0], "id") && 2*known >= named
}

// DescribeSheet reads parts from a CSV file, named for messages, with headings of a pilot's own, such as Motor, Qty and
// Weight (g): each row is a description that is read as Describe reads one. The kind is that of all rows, or "" where a
// column of types, a row that names a kind or the headings say it; headings may come anew below. Columns with other
// headings go to the note. The error is a Faults of what is no such sheet.
func DescribeSheet(name string, kind inventory.Kind, raw []byte, drawer *inventory.Drawer) ([]Line, error) {
	records, at, err := split(raw, true)
	if err != nil {
		var f inventory.Fault
		if errors.As(err, &f) {
			f.File = name
			return nil, inventory.Faults{f}
		}
		return nil, err
	}
	r := ownSheet{listReader: listReader{drawer: drawer, taken: map[inventory.Kind][]string{}}, given: kind,
		over: heading{kind: kind}}
	for i, record := range records {
		r.row(record, at[i][0].Line)
	}
	switch {
	case r.headings == nil:
		return nil, inventory.Faults{{File: name, Problem: strict.Problem{Code: "sheet.no_headings"}}}
	case len(r.lines) > longestList:
		return nil, inventory.Faults{{File: name, Problem: strict.Problem{Code: "list.long",
			Values: strict.Values{"most": strict.Number(longestList)}}}}
	}
	for i := range r.lines {
		line := &r.lines[i]
		line.Part, line.Err = describe(line.Text, r.under[i], drawer, r.ids)
		if line.Err == nil {
			r.taken[line.Part.Kind] = append(r.taken[line.Part.Kind], line.Part.ID)
		}
	}
	return r.lines, nil
}

// ownSheet takes a sheet with headings of a pilot's own apart.
type ownSheet struct {
	listReader
	given    inventory.Kind // of all rows, "" if they say it
	over     heading        // over the rows that follow
	headings []string
}

// row takes a row: headings, the name of a kind over parts, or a part.
func (r *ownSheet) row(record []string, number int) {
	cells := make([]string, len(record))
	var filled []string
	headings := 0
	for i, text := range record {
		cells[i] = strings.Join(strings.Fields(strict.PlainSpaces(bareCell(text))), " ")
		if cells[i] != "" {
			filled = append(filled, cells[i])
			if anyHeading(cells[i]) {
				headings++
			}
		}
	}
	switch {
	case len(filled) == 0:
	case len(filled) > 1 && headings >= 2 && 2*headings >= len(filled) && !digit.MatchString(strings.Join(filled[:1], "")):
		r.headings = cells
		if r.given == "" {
			r.headingsSay()
		}
	case len(filled) == 1 && r.given == "":
		if found, ok := headingOf(filled[0], r.headings == nil); ok {
			r.over = found
		} else if r.headings != nil {
			r.part(cells, number)
		}
	case r.headings != nil:
		r.part(cells, number)
	}
}

// headingsSay takes the kind of the rows below from headings that name one: Motor, KV, Qty.
func (r *ownSheet) headingsSay() {
	var found heading
	for _, cell := range r.headings {
		kind, _, _ := kindWord(spacedWords(cell))
		switch {
		case headingNamed(cell, "") == nil && kind.kind == "":
		case strings.ToLower(cell) == "prop size", strings.ToLower(cell) == "max prop":
		case kind.kind != "" && found.kind == "" && len(strings.Fields(cell)) == 1:
			found = kind
		}
		if c := headingNamed(cell, ""); c != nil && c.said == columnKind {
			r.over = heading{} // the rows say it
			return
		}
	}
	if found.kind != "" {
		r.over = found
	}
}

// part makes the description of a row.
func (r *ownSheet) part(cells []string, number int) {
	under := r.over
	for i, cell := range cells {
		if c := r.column(i, under.kind); c != nil && c.said == columnKind && cell != "" {
			if kind, _, _ := kindWord(spacedWords(cell)); kind.kind != "" && r.given == "" {
				under = kind
			}
		}
	}
	var words, notes []string
	for i, cell := range cells {
		if cell == "" {
			continue
		}
		c := r.column(i, under.kind)
		switch {
		case c == nil && i < len(r.headings) && r.headings[i] != "" && !isNotes(r.headings[i]):
			notes = append(notes, r.headings[i]+": "+cell)
		case c == nil || linkCell.MatchString(cell):
			notes = append(notes, cell)
		case c.said == columnKind:
			if kind, _, _ := kindWord(spacedWords(cell)); kind != under || kind.kind == "" {
				words = append(words, cell)
			}
		case c.said == columnID:
			words = append(words, "id="+strict.PlainID(cell))
		default:
			words = append(words, c.say(cell))
		}
	}
	text := strings.Join(words, ", ")
	if len(notes) > 0 {
		text += ` note="` + strings.ReplaceAll(strings.Join(notes, "; "), `"`, "″") + `"`
	}
	r.lines, r.under = append(r.lines, Line{Number: number, Text: text}), append(r.under, under)
}

// isNotes reports whether a heading stands over remarks, which need no name before them.
func isNotes(heading string) bool {
	return slices.Contains([]string{"note", "notes", "comment", "comments", "remark", "remarks", "condition", "state",
		"status"}, strings.ToLower(strings.TrimSpace(heading)))
}

func (r *ownSheet) column(i int, kind inventory.Kind) *column {
	if i >= len(r.headings) {
		return nil
	}
	return headingNamed(r.headings[i], kind)
}
