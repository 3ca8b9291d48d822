package edit

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Taken is how many pieces of a part a craft took out of a drawer's count, and how many are left.
type Taken struct {
	Kind         inventory.Kind
	ID           string
	Pieces, Left int
}

// AppendCraft adds a craft to the fleet in the text of a drawer file, named for messages, and takes its pieces out of
// the counts. Every other byte stays. Where the counts cannot be lowered as they are written, or fall short, they stay
// as well, and the craft says keeps: false; nothing is taken then. The error is a Faults, if the drawer was not sound
// before, or a *strict.Problem.
func AppendCraft(name string, text []byte, craft string, c *inventory.Combination) ([]byte, []Taken, error) {
	before, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	parts := c.Parts()
	parts.Extras = append([]string{}, parts.Extras...) // none are none, not those that go along
	lines := []string{"- name: " + strict.Scalar(craft), "  " + PartsLine(&parts)}
	lowered, taken, ok := fewer(name, text, before, c)
	if !ok {
		lowered, taken, lines = text, nil, append(lines, "  keeps: false")
	}
	changed, err := appended(lowered, "fleet", [][]string{lines})
	if err != nil {
		return nil, nil, err
	}
	after, err := inventory.Read(name, bytes.NewReader(changed))
	if err != nil {
		return nil, nil, err
	}
	cut := *after
	if n := len(cut.Fleet); n > 0 {
		cut.Fleet = cut.Fleet[:n-1]
	}
	restoreCounts(&cut, before, taken)
	if len(after.Fleet) != len(before.Fleet)+1 || !Same(before, &cut) {
		return nil, nil, problem("fleet.by_hand", strict.Values{"file": name})
	}
	return changed, taken, nil
}

// PartsLine is the key of an entry that names a craft's parts, in one line. Extras that are nil are left out.
func PartsLine(p *inventory.Parts) string {
	var b strings.Builder
	b.WriteString("parts: {")
	for i, kind := range inventory.Kinds() {
		if kind == inventory.KindExtra {
			continue
		}
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(kind) + ": " + strict.Scalar(p.ID(kind)))
	}
	if p.Extras != nil {
		b.WriteString(", extras: [")
		for i, id := range p.Extras {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(strict.Scalar(id))
		}
		b.WriteByte(']')
	}
	b.WriteByte('}')
	return b.String()
}

// restoreCounts puts back what was taken, as it was before.
func restoreCounts(d, before *inventory.Drawer, taken []Taken) {
	for _, t := range taken {
		was, is := itemOf(before, t.Kind, t.ID), itemOf(d, t.Kind, t.ID)
		if was == nil || is == nil || is.Base().Count == nil || *is.Base().Count != t.Left {
			continue
		}
		is.Base().Count = was.Base().Count
		if p, ok := is.(*inventory.Prop); ok && p.Directions != nil {
			p.Directions = was.(*inventory.Prop).Directions
		}
	}
}

func itemOf(d *inventory.Drawer, kind inventory.Kind, id string) inventory.Item {
	for _, item := range d.Items(kind) {
		if item.Base().ID == id {
			return item
		}
	}
	return nil
}

// needed are the pieces that a craft takes of parts whose pieces are counted; false if there are fewer.
func needed(d *inventory.Drawer, c *inventory.Combination) ([]Taken, bool) {
	list := []Taken{}
	enough := true
	take := func(kind inventory.Kind, id string, pieces int) {
		item := itemOf(d, kind, id)
		if item == nil || item.Base().Count == nil {
			return
		}
		left := *item.Base().Count - pieces
		enough = enough && left >= 0
		list = append(list, Taken{kind, id, pieces, left})
	}
	rotors := c.Rotors()
	if one, other, mixed := strings.Cut(c.Motor.ID, "~"); mixed {
		take(inventory.KindMotor, one, rotors/2)
		take(inventory.KindMotor, other, rotors/2)
	} else {
		take(inventory.KindMotor, c.Motor.ID, rotors)
	}
	take(inventory.KindProp, c.Prop.ID, rotors)
	take(inventory.KindPack, c.Pack.ID, 1)
	take(inventory.KindFrame, c.Frame.ID, 1)
	take(inventory.KindBoard, c.Board.ID, 1)
	for _, x := range c.Extras {
		take(inventory.KindExtra, x.ID, 1)
	}
	return list, enough
}

// fewer is the text with a craft's pieces taken out of its counts; false if that cannot be.
func fewer(name string, text []byte, d *inventory.Drawer, c *inventory.Combination) ([]byte, []Taken, bool) {
	taken, enough := needed(d, c)
	if !enough {
		return nil, nil, false
	}
	f, err := newDrawerText(text)
	if err != nil {
		return nil, nil, false
	}
	var numbers []number
	for _, t := range taken {
		part := f.part(t.Kind, t.ID)
		if part == nil {
			return nil, nil, false
		}
		count, ways := valueOf(part, "count"), valueOf(part, "directions")
		if count != nil {
			numbers = append(numbers, number{count, t.Pieces})
		}
		if ways != nil {
			numbers = append(numbers, number{valueOf(ways, "cw"), t.Pieces / 2}, number{valueOf(ways, "ccw"), t.Pieces / 2})
		}
		if count == nil && ways == nil {
			return nil, nil, false
		}
	}
	if !f.lower(numbers) {
		return nil, nil, false
	}
	lowered := f.bytes()
	_, err = inventory.Read(name, bytes.NewReader(lowered))
	return lowered, taken, err == nil
}

// part is the mapping of a part.
func (f *drawerText) part(kind inventory.Kind, id string) *yaml.Node {
	_, list, _ := f.section(kind.Section())
	if list == nil || list.Kind != yaml.SequenceNode {
		return nil
	}
	for _, one := range list.Content {
		if one.Kind == yaml.MappingNode {
			if named := valueOf(one, "id"); named != nil && named.Value == id {
				return one
			}
		}
	}
	return nil
}

// valueOf is the value of a key of a mapping, nil if it has none.
func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// number is a whole number in the text, and how much smaller it is to be.
type number struct {
	node *yaml.Node
	by   int
}

// lower writes smaller numbers, the last of the text first, so that the places of those before it stay true.
func (f *drawerText) lower(numbers []number) bool {
	for _, n := range numbers {
		if n.node == nil || n.node.Kind != yaml.ScalarNode || n.node.Style != 0 {
			return false
		}
	}
	slices.SortFunc(numbers, func(a, b number) int {
		return cmp.Or(cmp.Compare(b.node.Line, a.node.Line), cmp.Compare(b.node.Column, a.node.Column))
	})
	for _, n := range numbers {
		was, err := strconv.Atoi(n.node.Value)
		line := f.lines[n.node.Line-1]
		at, ok := byteColumn(line, n.node.Column)
		if err != nil || was < n.by || !ok || !strings.HasPrefix(line[at:], n.node.Value) {
			return false
		}
		f.lines[n.node.Line-1] = line[:at] + strconv.Itoa(was-n.by) + line[at+len(n.node.Value):]
	}
	return true
}
