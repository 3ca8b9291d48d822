package inventory

import (
	"cmp"
	"slices"
	"strings"
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
		if e.Use == Always || e.Use == With && (frame != nil && slices.Contains(e.With, frame.ID) || board != nil && slices.Contains(e.With, board.ID)) {
			extras = append(extras, e)
		}
	}
	slices.SortFunc(extras, func(a, b *Extra) int { return cmp.Compare(a.ID, b.ID) })
	return extras
}
