package edit

import (
	"bytes"
	"errors"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Fix writes a drawer's text, named for messages, anew: what has one plain way out is mended, keys and
// values have one order and form, comments stay, and estimates say, a line each by the path of a part, what is
// estimated for the gaps of the part. It returns what was mended. The error is a Faults if faults
// are left that only the pilot can mend: then the text is mended as far as it can be and keeps its form, nil if nothing
// could be mended. A text without faults was read back and holds the same.
func Fix(name string, text []byte, estimates func(*inventory.Drawer) map[string][]string) ([]byte, []strict.Fixed,
	error) {
	text, mended, faults := strict.Mend(text, func(text []byte) inventory.Faults {
		_, err := inventory.Read(name, bytes.NewReader(text))
		var faults inventory.Faults
		errors.As(err, &faults)
		giveIDs(text, faults)
		return append(faults, giveDashes(text, faults)...)
	})
	switch {
	case faults != nil && len(mended) == 0:
		return nil, nil, faults
	case faults != nil:
		return text, mended, faults
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, mended, err
	}
	remarks := estimates(d)
	for _, lines := range remarks {
		for i, line := range lines {
			lines[i] = strict.EstimateMark + strings.Join(strings.Fields(line), " ")
		}
	}
	tidy := text
	for range 3 { // comments come to rest where the reader finds them
		last := tidy
		if tidy, err = strict.Format(last, d, func(path string) []string { return remarks[path] }); err != nil {
			return nil, mended, problem("fix.form", strict.Values{"file": name, "cause": err.Error()})
		}
		if bytes.Equal(tidy, last) {
			break
		}
	}
	if again, err := inventory.Read(name, bytes.NewReader(tidy)); err != nil || !Same(d, again) {
		return nil, mended, problem("fix.meaning", strict.Values{"file": name})
	}
	return tidy, mended, nil
}

// giveIDs makes the fixes of parts that have no id: one from what the part is, which no other of its kind has.
func giveIDs(text []byte, faults inventory.Faults) {
	var f *drawerText
	taken := map[inventory.Kind][]string{}
	for i := range faults {
		fault := &faults[i]
		part, isID := strings.CutSuffix(fault.Path, ".id")
		if !isID || fault.Code != "missing" || slices.ContainsFunc(faults, func(o inventory.Fault) bool {
			return o.Fix != nil && strings.HasPrefix(o.Path, part+".")
		}) {
			continue // its other values are mended first
		}
		if f == nil {
			var err error
			if f, err = newDrawerText(text); err != nil {
				return
			}
		}
		for _, kind := range inventory.Kinds() {
			at, ok := strings.CutPrefix(part, kind.Section()+"[")
			n, err := strconv.Atoi(strings.TrimSuffix(at, "]"))
			parts := f.parts(kind)
			if !ok || err != nil || n >= len(parts) || len(parts[n].node.Content) == 0 {
				continue
			}
			if taken[kind] == nil {
				for k := range parts {
					taken[kind] = append(taken[kind], parts[k].id())
				}
			}
			id := parts[n].newID(kind, taken[kind])
			taken[kind] = append(taken[kind], id)
			fault.Fix = f.insertKey(parts[n].node, "id: "+strict.Scalar(id))
		}
	}
}

// newID is an id from what a part is.
func (p *partText) newID(kind inventory.Kind, taken []string) string {
	d := Described{Kind: kind}
	for key, v := range p.values {
		if v.Kind == yaml.ScalarNode {
			d.Understood = append(d.Understood, Said{Key: key, Value: v.Value})
		}
	}
	d.name(taken)
	return d.ID
}

// insertKey is the fix that puts a key with its value before the others of a mapping.
func (f *drawerText) insertKey(n *yaml.Node, pair string) *strict.Fix {
	at := strict.Position{Line: n.Content[0].Line, Column: n.Content[0].Column}
	if n.Style&yaml.FlowStyle != 0 {
		return &strict.Fix{At: at, To: pair + ", "}
	}
	return &strict.Fix{At: at, To: pair + f.end + strings.Repeat(" ", at.Column-1)}
}

// giveDashes makes the fixes of lists that are one part without its dash: the first key gets it, and the lines below it go
// in as far. Those of the lines below are faults of their own, returned.
func giveDashes(text []byte, faults inventory.Faults) inventory.Faults {
	var more inventory.Faults
	for i := range faults {
		fault := &faults[i]
		kind, ok := inventory.KindNamed(fault.Path)
		if !ok || fault.Code != "list.expected" || fault.Path != kind.Section() {
			continue
		}
		f, err := newDrawerText(text)
		if err != nil {
			return nil
		}
		_, list, next := f.section(kind.Section())
		if list == nil || list.Kind != yaml.MappingNode || list.Style&yaml.FlowStyle != 0 || len(list.Content) == 0 ||
			!slices.Contains(keysOf(kind), list.Content[0].Value) {
			continue
		}
		first := list.Content[0]
		fault.Fix = &strict.Fix{At: strict.Position{Line: first.Line, Column: first.Column}, From: first.Value,
			To: "- " + first.Value}
		for line := first.Line + 1; line <= f.lastLine(next, list.Column); line++ {
			spaces := f.lines[line-1][:len(f.lines[line-1])-len(strings.TrimLeft(f.lines[line-1], " "))]
			if spaces != "" && strings.TrimSpace(f.lines[line-1]) != "" {
				more = append(more, inventory.Fault{File: fault.File, Position: strict.Position{Line: line, Column: 1},
					Path: fault.Path, Problem: fault.Problem, Fix: &strict.Fix{At: strict.Position{Line: line, Column: 1}, From: spaces,
						To: spaces + "  "}})
			}
		}
	}
	return more
}
