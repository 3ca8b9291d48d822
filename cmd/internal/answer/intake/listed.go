package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/strict"
)

// Listed is the document of a list of parts that was brought into a drawer.
type Listed struct {
	answer.Head
	List  string `json:"list"`
	Parts []Part `json:"parts"`
	// NotRead are the lines that are no part of the drawer.
	NotRead []Left `json:"not_read"`

	Words ListWords `json:"-"`

	told []strict.Code // the readings that were told of
}

// Part is a line of a list that is a part now.
type Part struct {
	Line          int      `json:"line"`
	Text          string   `json:"text"`
	Kind          string   `json:"kind"`
	ID            string   `json:"id"`
	Understood    []Said   `json:"understood"`
	NotUnderstood []string `json:"not_understood"`
	ReadAs        []string `json:"read_as,omitempty"`
}

// Left is a line of a list that is none, and why.
type Left struct {
	Line int      `json:"line"`
	Text string   `json:"text"`
	Why  []string `json:"why"`
}

// ListWords are the sentences of a list, those of lines with their number.
type ListWords struct {
	Holds   string   // how many parts of which kinds
	ReadAs  []string // to be checked
	Unclear []string // words that stand in notes
	NotRead []string // lines that are no part
	Lacks   string   // the kinds of parts that are needed still, "" if there are none
}

// Batch is a list of parts on its way into a drawer: the names stand for both in messages, Text is nil for a drawer to
// be made.
type Batch struct {
	Drawer string
	Text   []byte
	List   string
	Lines  []byte
	// Sheet says that the list is a CSV file; Kind is that of all its rows, "" where it says it.
	Sheet bool
	Kind  inventory.Kind
}

// ErrNoPart says that no line of a list is a part.
var ErrNoPart = errors.New("no line is a part")

// Enter reads the list and makes the text of the drawer with its parts. Lines that are no part stand in it as comments,
// so that nothing is lost. Where no line is a part the error is ErrNoPart, with a document of why and no text.
func (b *Batch) Enter(head answer.Head) (*Listed, []byte, error) {
	drawer, err := read(b.Drawer, b.Text)
	if err != nil {
		return nil, nil, err
	}
	var lines []edit.Line
	if b.Sheet {
		lines, err = edit.DescribeSheet(b.List, b.Kind, b.Lines, drawer)
	} else {
		lines, err = edit.DescribeList(b.List, b.Lines, drawer)
	}
	if err != nil {
		return nil, nil, err
	}
	head.Drawer = b.Drawer
	d := &Listed{Head: head, List: b.List, Parts: []Part{}, NotRead: []Left{}}
	var parts []*edit.Described
	for i := range lines {
		line := &lines[i]
		if line.Err != nil {
			d.left(line)
			continue
		}
		parts = append(parts, line.Part)
		d.part(line)
	}
	d.Words.Holds = catalogue.PartsOfKinds(kindsOf(parts))
	if len(parts) == 0 {
		return d, nil, ErrNoPart
	}
	text := b.Text
	if text == nil {
		text = b.comment(catalogue.ListHead, d.Words.NotRead)
	} else if len(d.NotRead) > 0 {
		text = append(append(ended(text), '\n'), b.comment(catalogue.ListTail, d.Words.NotRead)...)
	}
	if text, err = edit.AppendAll(b.Drawer, text, parts); err != nil {
		return nil, nil, err
	}
	if drawer, err = read(b.Drawer, text); err != nil {
		return nil, nil, err
	}
	d.Care = answer.CareOf(&answer.Scene{Drawer: drawer})
	d.Words.Lacks = catalogue.LacksKinds(lackedKinds(drawer))
	return d, text, nil
}

// lackedKinds are the kinds of parts that a craft needs and a drawer has none of.
func lackedKinds(drawer *inventory.Drawer) []inventory.Kind {
	var list []inventory.Kind
	for _, kind := range inventory.Kinds() {
		if kind != inventory.KindExtra && len(drawer.Items(kind)) == 0 {
			list = append(list, kind)
		}
	}
	return list
}

// ended is a text whose last line has an end.
func ended(text []byte) []byte {
	if len(text) > 0 && text[len(text)-1] != '\n' && text[len(text)-1] != '\r' {
		return append(text[:len(text):len(text)], '\n')
	}
	return text[:len(text):len(text)]
}

// comment is what stands in the drawer of where its parts are from, and of the lines that are no part.
func (b *Batch) comment(head func(list string, left bool) string, left []string) []byte {
	var text strings.Builder
	for _, sentence := range append([]string{head(b.List, len(left) > 0)}, left...) {
		if sentence != "" {
			text.WriteString(commented(sentence))
		}
	}
	return []byte(text.String())
}

const commentColumns = 100

// commented is a sentence as lines of a comment, those behind the first indented.
func commented(sentence string) string {
	var text strings.Builder
	line := "#"
	for word := range strings.FieldsSeq(sentence) {
		if line != "#" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > commentColumns {
			text.WriteString(line + "\n")
			line = "#  "
		}
		line += " " + word
	}
	return text.String() + line + "\n"
}

func (d *Listed) part(line *edit.Line) {
	p := Part{Line: line.Number, Text: line.Text, Kind: string(line.Part.Kind), ID: line.Part.ID,
		Understood: understood(line.Part), NotUnderstood: append([]string{}, line.Part.Unclear...),
		ReadAs: readAs(line.Part)}
	d.Parts = append(d.Parts, p)
	for i := range line.Part.Readings {
		reading := &line.Part.Readings[i]
		sentence := faults.Problem(reading)
		if slices.Contains(d.told, reading.Code) {
			sentence = faults.Again(reading)
		}
		d.told = append(d.told, reading.Code)
		d.Words.ReadAs = append(d.Words.ReadAs, catalogue.OnLine(line.Number, sentence))
	}
	for _, words := range unclear(line.Part) {
		d.Words.Unclear = append(d.Words.Unclear, catalogue.OnLine(line.Number, p.ID+": "+words))
	}
}

func (d *Listed) left(line *edit.Line) {
	l := Left{Line: line.Number, Text: line.Text, Why: []string{}}
	var list inventory.Faults
	if !errors.As(line.Err, &list) {
		list = inventory.Faults{{Problem: strict.Problem{Code: "said.alone", Values: strict.Values{"text": line.Err.Error()}}}}
	}
	for i := range list {
		l.Why = append(l.Why, faults.FaultHere(&list[i]))
	}
	l.Why = append(l.Why, readAs(line.Part)...)
	d.NotRead = append(d.NotRead, l)
	d.Words.NotRead = append(d.Words.NotRead, catalogue.OnLine(l.Line, fmt.Sprintf("%s: %s", l.Text,
		strings.Join(l.Why, "; "))))
}

// kindsOf counts parts by kind, in the order of the drawer.
func kindsOf(parts []*edit.Described) []catalogue.KindCount {
	var list []catalogue.KindCount
	for _, kind := range inventory.Kinds() {
		n := 0
		for _, p := range parts {
			if p.Kind == kind {
				n++
			}
		}
		if n > 0 {
			list = append(list, catalogue.KindCount{Kind: kind, N: n})
		}
	}
	return list
}

// Rows are the lines as a table of plain values.
func (d *Listed) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"line", "text", "kind", "id", "read", "not_understood"}}
	for i := range d.Parts {
		p := &d.Parts[i]
		rows.Add(fmt.Sprint(p.Line), p.Text, p.Kind, p.ID, p.Reading(), strings.Join(p.NotUnderstood, ", "))
	}
	for _, l := range d.NotRead {
		rows.Add(fmt.Sprint(l.Line), l.Text, "", "", "", strings.Join(l.Why, "; "))
	}
	return rows
}

// Reading is what was read of a line, a key with its value each.
func (p *Part) Reading() string {
	var words []string
	for _, said := range p.Understood {
		if said.Key != "id" && said.Words != "" {
			words = append(words, said.Key+" "+said.Value)
		}
	}
	return strings.Join(words, ", ")
}
