package edit

import (
	"errors"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Rows are the parts of a kind as a drawer's text says them, for a spreadsheet: the keys that are used
// first, then a row a part. Lists and what stands in braces keep the form that YAML has for them. A
// list that is empty or missing gives all keys and no part. The text must be sound.
func Rows(text []byte, kind inventory.Kind) ([][]string, error) {
	f, err := newDrawerText(text)
	if err != nil {
		return nil, err
	}
	parts := f.parts(kind)
	used := map[string]bool{"id": true}
	for _, p := range parts {
		for key := range p.values {
			used[key] = true
		}
	}
	keys := slices.DeleteFunc(keysOf(kind), func(key string) bool { return len(parts) > 0 && !used[key] })
	rows := [][]string{keys}
	for _, p := range parts {
		row := make([]string, len(keys))
		for i, key := range keys {
			if v := p.values[key]; v != nil {
				row[i] = cellOf(v)
			}
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// cellOf is a value as a cell.
func cellOf(v *yaml.Node) string {
	if v.Kind == yaml.ScalarNode {
		return strings.TrimRight(v.Value, "\n")
	}
	return strict.Flow(v)
}

// partText is a part in a drawer's text.
type partText struct {
	node   *yaml.Node
	keys   map[string]*yaml.Node
	values map[string]*yaml.Node
}

func (p *partText) id() string {
	if v := p.values["id"]; v != nil {
		return v.Value
	}
	return ""
}

// parts are those of a kind, in order.
func (f *drawerText) parts(kind inventory.Kind) []partText {
	_, list, _ := f.section(kind.Section())
	if list == nil || list.Kind != yaml.SequenceNode {
		return nil
	}
	var parts []partText
	for _, n := range list.Content {
		if n.Kind != yaml.MappingNode {
			continue
		}
		p := partText{n, map[string]*yaml.Node{}, map[string]*yaml.Node{}}
		for i := 0; i+1 < len(n.Content); i += 2 {
			p.keys[n.Content[i].Value], p.values[n.Content[i].Value] = n.Content[i], n.Content[i+1]
		}
		parts = append(parts, p)
	}
	return parts
}

// cell is a value from a spreadsheet, in YAML, with its place there.
type cell struct {
	value string
	at    strict.Position
}

// Sheet is a list of parts from a CSV file.
type Sheet struct {
	Kind inventory.Kind
	Name string // of the file, for messages
	keys []string
	rows []map[string]cell // by key; an empty cell is not there
	at   []strict.Position
}

func (s *Sheet) ids() []string {
	list := make([]string, len(s.rows))
	for i := range s.rows {
		list[i] = bareText(s.rows[i]["id"].value)
	}
	return list
}

// bareText is a text as Scalar wrote it, quotes taken off.
func bareText(value string) string {
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(value), &n); err != nil || len(n.Content) != 1 {
		return value
	}
	return n.Content[0].Value
}

// entry is a part to be, key by key in order, with the place that a fault of it is shown at.
type entry struct {
	keys   []string
	values map[string]string
	at     map[string]strict.Position
	whole  strict.Position
}

func (e *entry) lines() []string {
	lines := make([]string, len(e.keys))
	for i, key := range e.keys {
		lines[i] = "  " + key + ": " + e.values[key]
	}
	if len(lines) > 0 {
		lines[0] = "- " + lines[0][2:]
	}
	return lines
}

// checkEntries reads entries as the list of a drawer, but for the ids of other parts, and returns
// faults with the places of a spreadsheet.
func checkEntries(name string, kind inventory.Kind, entries []entry) (*inventory.Drawer, error) {
	var text strings.Builder
	text.WriteString(kind.Section() + ":\n")
	places := []strict.Position{{}, {}} // by line of the text, from 1
	for i := range entries {
		e := &entries[i]
		for k, line := range e.lines() {
			text.WriteString("  " + line + "\n")
			at := e.whole
			if p, ok := e.at[e.keys[k]]; ok {
				at = p
			}
			places = append(places, at)
		}
	}
	if len(entries) == 0 {
		return &inventory.Drawer{}, nil
	}
	offer, err := inventory.ReadOffer(name, strings.NewReader(text.String()))
	if err == nil {
		return offer.Parts, nil
	}
	var faults inventory.Faults
	if !errors.As(err, &faults) {
		return nil, err
	}
	var out inventory.Faults
	for _, f := range faults {
		if f.Line > 0 && f.Line < len(places) {
			f.Position = places[f.Line]
		}
		f.Fix = nil // it is one of the text made here
		if _, key, ok := strings.Cut(f.Path, "]."); ok {
			f.Path = key
		} else {
			f.Path = ""
		}
		for name, value := range f.Values {
			if line, ok := value.(strict.Line); ok && line > 0 && int(line) < len(places) {
				f.Problem = f.With(name, strict.Line(places[line].Line))
			}
		}
		out = append(out, f)
	}
	return nil, out
}
