package edit

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Merged says what a sheet did to a drawer, by ids.
type Merged struct{ Kept, Changed, Added, Gone []string }

// Merge puts the parts of a sheet into a drawer's text, named for messages: a part with an id that the
// drawer has gets the cells as its values, an empty one takes the key out, and keys without a heading
// stay; others are added behind. With only, parts that the sheet has not are taken out. All else in the
// text stays as it is, comments included. The result was read back.
func Merge(name string, text []byte, s *Sheet, only bool) ([]byte, *Merged, error) {
	if len(bytes.TrimSpace(text)) == 0 {
		text = []byte(s.Kind.Section() + ": []\n")
	}
	before, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	f, err := newDrawerText(text)
	if err != nil {
		return nil, nil, err
	}
	old := f.parts(s.Kind)
	m := &merger{sheet: s, old: old, only: only}
	m.plan()
	want, err := checkEntries(s.Name, s.Kind, m.entries)
	if err != nil {
		return nil, nil, err
	}
	changed, err := f.rewrite(s.Kind.Section(), m, before, want)
	if err != nil {
		return nil, nil, err
	}
	after, err := inventory.Read(name, bytes.NewReader(changed))
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		return nil, nil, problem("merge.contradicts", strict.Values{"fault": faults[0]})
	case err != nil:
		return nil, nil, err
	}
	expected := *before
	expected.Take(s.Kind, want, 0, len(want.Items(s.Kind)))
	if !Same(&expected, after) {
		return nil, nil, problem("merge.form", strict.Values{"file": name, "section": s.Kind.Section()})
	}
	return changed, &m.done, nil
}

// merger works out what a list becomes.
type merger struct {
	sheet   *Sheet
	old     []partText
	only    bool
	entries []entry
	from    []int // index of the old part of each entry, -1 for a new one
	done    Merged
}

func (m *merger) plan() {
	ids := m.sheet.ids()
	for i := range m.old {
		row := slices.Index(ids, m.old[i].id())
		if row < 0 && m.only {
			m.done.Gone = append(m.done.Gone, m.old[i].id())
			continue
		}
		m.entries, m.from = append(m.entries, m.entry(&m.old[i], row)), append(m.from, i)
	}
	for row, id := range ids {
		if !slices.ContainsFunc(m.old, func(p partText) bool { return p.id() == id }) {
			m.entries, m.from = append(m.entries, m.entry(nil, row)), append(m.from, -1)
			m.done.Added = append(m.done.Added, id)
		}
	}
}

// entry is an old part, which may be nil, with the values of a row, which may be −1, over it.
func (m *merger) entry(p *partText, row int) entry {
	e := entry{values: map[string]string{}, at: map[string]strict.Position{}}
	if row >= 0 {
		e.whole = m.sheet.at[row]
	}
	for _, key := range keysOf(m.sheet.Kind) {
		if row >= 0 && slices.Contains(m.sheet.keys, key) {
			if c, ok := m.sheet.rows[row][key]; ok {
				e.keys = append(e.keys, key)
				e.values[key], e.at[key] = c.value, c.at
			}
			continue
		}
		if p != nil && p.values[key] != nil {
			e.keys = append(e.keys, key)
			e.values[key] = strict.Flow(p.values[key])
		}
	}
	return e
}

// rewrite puts the entries in place of a list: parts that stay the same keep their lines, parts that
// change keep the comments above them and those behind keys that stay.
func (f *drawerText) rewrite(section string, m *merger, before, want *inventory.Drawer) ([]byte, error) {
	if f.root.Style&yaml.FlowStyle != 0 {
		return nil, problem("edit.braces", nil)
	}
	key, list, next := f.section(section)
	if key == nil {
		f.insert(f.lastLine(0, 1), m.fresh(section))
		return f.bytes(), nil
	}
	block := list.Style&yaml.FlowStyle == 0
	dash := "  "
	var chunks [][]string
	first, end := list.Line, f.lastLine(next, list.Column)
	if block {
		dash = strings.Repeat(" ", list.Column-1)
		chunks = f.chunks(list, end)
	} else {
		first = key.Line + 1
	}
	var lines []string
	for i := range m.entries {
		e, from := &m.entries[i], m.from[i]
		same := from >= 0 && samePart(before, want, m.sheet.Kind, from, i)
		switch {
		case same && block:
			lines = append(lines, chunks[from]...)
		case from >= 0 && block:
			lines = append(lines, f.changed(chunks[from], &m.old[from], e, dash)...)
		default:
			lines = append(lines, f.ended(indented(e.lines(), dash))...)
		}
		if from >= 0 && same {
			m.done.Kept = append(m.done.Kept, e.idText())
		} else if from >= 0 {
			m.done.Changed = append(m.done.Changed, e.idText())
		}
	}
	if len(lines) == 0 {
		f.lines = slices.Replace(f.lines, key.Line-1, end, section+": []"+f.end)
		return f.bytes(), nil
	}
	if !block {
		comment := strings.TrimRight(" "+list.LineComment, " ")
		f.lines[key.Line-1] = section + ":" + comment + f.end
		f.lines = slices.Delete(f.lines, key.Line, max(end, key.Line))
		f.lines = slices.Insert(f.lines, key.Line, lines...)
		return f.bytes(), nil
	}
	if n := len(f.lines); end == n && !strings.HasSuffix(f.lines[n-1], f.end) {
		for i := range lines {
			if !strings.HasSuffix(lines[i], f.end) {
				lines[i] += f.end
			}
		}
	}
	f.lines = slices.Replace(f.lines, first-1, end, lines...)
	return f.bytes(), nil
}

func (e *entry) idText() string { return bareText(e.values["id"]) }

// fresh are the lines of a list that was not there.
func (m *merger) fresh(section string) []string {
	if len(m.entries) == 0 {
		return []string{"", section + ": []"}
	}
	lines := []string{"", section + ":"}
	for i := range m.entries {
		lines = append(lines, indented(m.entries[i].lines(), "  ")...)
	}
	return lines
}

func (f *drawerText) ended(lines []string) []string {
	for i := range lines {
		lines[i] += f.end
	}
	return lines
}

// samePart reports whether a part of one drawer is that of another.
func samePart(a, b *inventory.Drawer, kind inventory.Kind, i, k int) bool {
	var x, y inventory.Drawer
	x.Take(kind, a, i, i+1)
	y.Take(kind, b, k, k+1)
	return Same(&x, &y)
}
