package inventory

import (
	"fmt"
	"strings"
)

// Kind is a kind of part.
type Kind string

// The kinds of parts.
const (
	KindMotor Kind = "motor"
	KindProp  Kind = "prop"
	KindPack  Kind = "pack"
	KindFrame Kind = "frame"
	KindBoard Kind = "board"
	KindExtra Kind = "extra"
)

func (m *Motor) id() string { return m.ID }
func (p *Prop) id() string  { return p.ID }
func (p *Pack) id() string  { return p.ID }
func (f *Frame) id() string { return f.ID }
func (b *Board) id() string { return b.ID }
func (e *Extra) id() string { return e.ID }

func ids[T any](list []T, id func(*T) string) []string {
	out := make([]string, 0, len(list))
	for i := range list {
		if s := id(&list[i]); s != "" {
			out = append(out, s)
		}
	}
	return out
}

func find[T any](list []T, id func(*T) string, want string) *T {
	for i := range list {
		if id(&list[i]) == want {
			return &list[i]
		}
	}
	return nil
}

// Motor is the motor of an id, nil if there is none; a~b names a mixed set.
func (d *Drawer) Motor(id string) *Motor {
	if m := find(d.Motors, (*Motor).id, id); m != nil {
		return m
	}
	first, second, ok := strings.Cut(id, "~")
	if !ok {
		return nil
	}
	a, b := find(d.Motors, (*Motor).id, first), find(d.Motors, (*Motor).id, second)
	if a == nil || b == nil || a == b {
		return nil
	}
	m, err := Mixed(a, b)
	if err != nil {
		return nil
	}
	return m
}

// Prop is the prop of an id, nil if there is none.
func (d *Drawer) Prop(id string) *Prop { return find(d.Props, (*Prop).id, id) }

// Pack is the pack of an id, nil if there is none.
func (d *Drawer) Pack(id string) *Pack { return find(d.Packs, (*Pack).id, id) }

// Frame is the frame of an id, nil if there is none.
func (d *Drawer) Frame(id string) *Frame { return find(d.Frames, (*Frame).id, id) }

// Board is the board of an id, nil if there is none.
func (d *Drawer) Board(id string) *Board { return find(d.Boards, (*Board).id, id) }

// Extra is the extra of an id, nil if there is none.
func (d *Drawer) Extra(id string) *Extra { return find(d.Extras, (*Extra).id, id) }

// IDs lists the ids of a kind in the drawer's order.
func (d *Drawer) IDs(kind Kind) []string {
	switch kind {
	case KindMotor:
		return ids(d.Motors, (*Motor).id)
	case KindProp:
		return ids(d.Props, (*Prop).id)
	case KindPack:
		return ids(d.Packs, (*Pack).id)
	case KindFrame:
		return ids(d.Frames, (*Frame).id)
	case KindBoard:
		return ids(d.Boards, (*Board).id)
	}
	return ids(d.Extras, (*Extra).id)
}

// MissingPart is an id that names no part of the drawer.
type MissingPart struct {
	Key string // the key of Parts: motor, prop, pack, frame, board, or extras[0]
	ID  string
	way string
}

// Error says which part is missing, with the nearest id if one is near.
func (m MissingPart) Error() string {
	kind, _, _ := strings.Cut(m.Key, "s[")
	return fmt.Sprintf("no %s is called %s%s", kind, m.ID, m.way)
}

// Missing lists the ids in parts that are not in the drawer.
func (d *Drawer) Missing(parts *Parts) []MissingPart {
	var missing []MissingPart
	check := func(key, id string, kind Kind, found bool) {
		if !found && id != "" {
			missing = append(missing, MissingPart{key, id, didYouMean(id, d.IDs(kind))})
		}
	}
	check("motor", parts.Motor, KindMotor, d.Motor(parts.Motor) != nil)
	check("prop", parts.Prop, KindProp, d.Prop(parts.Prop) != nil)
	check("pack", parts.Pack, KindPack, d.Pack(parts.Pack) != nil)
	check("frame", parts.Frame, KindFrame, d.Frame(parts.Frame) != nil)
	check("board", parts.Board, KindBoard, d.Board(parts.Board) != nil)
	for i, id := range parts.Extras {
		check(fmt.Sprintf("extras[%d]", i), id, KindExtra, d.Extra(id) != nil)
	}
	return missing
}

// Combination is the combination that parts name; the error lists every id that is not there.
func (d *Drawer) Combination(parts *Parts) (Combination, error) {
	if missing := d.Missing(parts); missing != nil {
		lines := make([]string, len(missing))
		for i, m := range missing {
			lines[i] = m.Error()
		}
		return Combination{}, fmt.Errorf("%s", strings.Join(lines, "\n"))
	}
	c := Combination{
		Motor: d.Motor(parts.Motor), Prop: d.Prop(parts.Prop), Pack: d.Pack(parts.Pack),
		Frame: d.Frame(parts.Frame), Board: d.Board(parts.Board),
	}
	for _, id := range parts.Extras {
		c.Extras = append(c.Extras, d.Extra(id))
	}
	c.sortExtras()
	return c, nil
}
