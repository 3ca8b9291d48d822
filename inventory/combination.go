package inventory

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"partsaloft/inventory/strict"
)

// Combination is one choice of parts. While it is being put together, parts may be nil.
type Combination struct {
	Frame  *Frame
	Motor  *Motor
	Prop   *Prop
	Pack   *Pack
	Board  *Board
	Extras []*Extra // by id
}

// Rotors is the number of rotors of its frame, 4 if there is no frame yet.
func (c *Combination) Rotors() int {
	if c.Frame == nil {
		return 4
	}
	return c.Frame.RotorCount()
}

// Key names the combination by the ids of its parts, the same for the same parts in any order:
// motor=m1,prop=p1,pack=k1,frame=f1,board=b1,extras=x1+x2.
func (c *Combination) Key() string {
	var b strings.Builder
	put := func(key, id string) {
		if b.Len() > 0 {
			b.WriteByte(',')
		}
		b.WriteString(key)
		b.WriteByte('=')
		b.WriteString(id)
	}
	p := c.Parts()
	put("motor", p.Motor)
	put("prop", p.Prop)
	put("pack", p.Pack)
	put("frame", p.Frame)
	put("board", p.Board)
	if len(p.Extras) > 0 {
		put("extras", strings.Join(p.Extras, "+"))
	}
	return b.String()
}

// Parts lists the ids, extras sorted; the id of a part that is nil is empty.
func (c *Combination) Parts() Parts {
	var p Parts
	if c.Motor != nil {
		p.Motor = c.Motor.ID
	}
	if c.Prop != nil {
		p.Prop = c.Prop.ID
	}
	if c.Pack != nil {
		p.Pack = c.Pack.ID
	}
	if c.Frame != nil {
		p.Frame = c.Frame.ID
	}
	if c.Board != nil {
		p.Board = c.Board.ID
	}
	for _, e := range c.Extras {
		p.Extras = append(p.Extras, e.ID)
	}
	slices.Sort(p.Extras)
	return p
}

// SortExtras sorts the extras by id.
func (c *Combination) SortExtras() {
	slices.SortFunc(c.Extras, func(a, b *Extra) int { return cmp.Compare(a.ID, b.ID) })
}

// Following lists the extras that are on board without being asked for, by id: those of use
// always, and those that go with the frame or the board.
func (d *Drawer) Following(frame *Frame, board *Board) []*Extra {
	var extras []*Extra
	for i := range d.Extras {
		e := &d.Extras[i]
		if e.Use == Always || e.Use == With && (frame != nil && slices.Contains(e.With, frame.ID) || board != nil &&
			slices.Contains(e.With, board.ID)) {
			extras = append(extras, e)
		}
	}
	slices.SortFunc(extras, func(a, b *Extra) int { return cmp.Compare(a.ID, b.ID) })
	return extras
}

// find is the entry of a list with an id, nil if there is none.
func find[T any, P interface {
	*T
	Item
}](list []T, id string) *T {
	for i := range list {
		if P(&list[i]).Base().ID == id {
			return &list[i]
		}
	}
	return nil
}

// Motor is the motor of an id, nil if there is none; a~b names a mixed set.
func (d *Drawer) Motor(id string) *Motor {
	if m := find(d.Motors, id); m != nil {
		return m
	}
	first, second, ok := strings.Cut(id, "~")
	if !ok {
		return nil
	}
	a, b := find(d.Motors, first), find(d.Motors, second)
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
func (d *Drawer) Prop(id string) *Prop { return find(d.Props, id) }

// Pack is the pack of an id, nil if there is none.
func (d *Drawer) Pack(id string) *Pack { return find(d.Packs, id) }

// Frame is the frame of an id, nil if there is none.
func (d *Drawer) Frame(id string) *Frame { return find(d.Frames, id) }

// Board is the board of an id, nil if there is none.
func (d *Drawer) Board(id string) *Board { return find(d.Boards, id) }

// Extra is the extra of an id, nil if there is none.
func (d *Drawer) Extra(id string) *Extra { return find(d.Extras, id) }

// MissingPart is an id that names no part of the drawer.
type MissingPart struct {
	Key  string // the key of Parts: motor, prop, pack, frame, board, or extras[0]
	Kind Kind
	ID   string
	Near string // the nearest id, "" if none is near
}

// Problem is the part's absence.
func (m MissingPart) Problem() strict.Problem {
	p := strict.Problem{Code: "part.unknown", Values: strict.Values{"kind": string(m.Kind), "id": m.ID}, Way: "id.none"}
	if m.Near != "" {
		p.Way, p.Values["near"] = "id.near", m.Near
	}
	return p
}

// Missing lists the ids in parts that are not in the drawer.
func (d *Drawer) Missing(parts *Parts) []MissingPart {
	var missing []MissingPart
	check := func(key string, kind Kind, id string) {
		if id != "" && d.Item(kind, id) == nil && (kind != KindMotor || d.Motor(id) == nil) {
			missing = append(missing, MissingPart{key, kind, id, strict.Nearest(id, d.IDs(kind))})
		}
	}
	for _, kind := range Kinds()[:KindExtra.index()] {
		check(string(kind), kind, parts.ID(kind))
	}
	for i, id := range parts.Extras {
		check(fmt.Sprintf("extras[%d]", i), KindExtra, id)
	}
	return missing
}

// Combination is the combination that parts name; the error is a Faults with every id that is not there.
func (d *Drawer) Combination(parts *Parts) (Combination, error) {
	if missing := d.Missing(parts); missing != nil {
		faults := make(Faults, len(missing))
		for i, m := range missing {
			faults[i].Problem = m.Problem()
		}
		return Combination{}, faults
	}
	c := Combination{
		Motor: d.Motor(parts.Motor), Prop: d.Prop(parts.Prop), Pack: d.Pack(parts.Pack),
		Frame: d.Frame(parts.Frame), Board: d.Board(parts.Board),
	}
	for _, id := range parts.Extras {
		c.Extras = append(c.Extras, d.Extra(id))
	}
	c.SortExtras()
	return c, nil
}
