package space

import (
	"partsaloft/inventory"
)

// stock counts the pieces of a drawer as resources that crafts use up.
type Stock struct {
	Names  []resource
	Pieces []int         // by resource
	of     map[any][]int // resources by part; a prop whose directions are known has three
	shared bool          // packs may be used by several crafts
}

// resource is something of which there are so many pieces.
type resource struct {
	Kind      inventory.Kind
	Id        string
	Direction string // of a prop's pieces; else empty
	Uncounted bool   // enough for one craft
}

// use is what a craft takes of a resource.
type Use struct{ Resource, Pieces int }

func NewStock(d *inventory.Drawer, sharePacks bool) *Stock {
	s := &Stock{of: map[any][]int{}, shared: sharePacks}
	add := func(part any, kind inventory.Kind, id string, count *int, direction string) {
		n := 1
		if count != nil {
			n = *count
		}
		s.of[part] = append(s.of[part], len(s.Names))
		s.Names = append(s.Names, resource{kind, id, direction, count == nil})
		s.Pieces = append(s.Pieces, n)
	}
	for i := range d.Motors {
		add(&d.Motors[i], inventory.KindMotor, d.Motors[i].ID, d.Motors[i].Count, "")
	}
	for i := range d.Props {
		p := &d.Props[i]
		add(p, inventory.KindProp, p.ID, p.Count, "")
		if r := p.Directions; r != nil {
			add(p, inventory.KindProp, p.ID, &r.Clockwise, "cw")
			add(p, inventory.KindProp, p.ID, &r.Counterclockwise, "ccw")
		}
	}
	for i := range d.Packs {
		add(&d.Packs[i], inventory.KindPack, d.Packs[i].ID, d.Packs[i].Count, "")
	}
	for i := range d.Frames {
		add(&d.Frames[i], inventory.KindFrame, d.Frames[i].ID, d.Frames[i].Count, "")
	}
	for i := range d.Boards {
		add(&d.Boards[i], inventory.KindBoard, d.Boards[i].ID, d.Boards[i].Count, "")
	}
	for i := range d.Extras {
		add(&d.Extras[i], inventory.KindExtra, d.Extras[i].ID, d.Extras[i].Count, "")
	}
	return s
}

// fresh is the pieces of every resource before anything is used.
func (s *Stock) Fresh() []int { return append([]int(nil), s.Pieces...) }

// uses lists what a combination takes. Of a part without a count it takes the whole.
func (s *Stock) Uses(c *inventory.Combination) []Use {
	rotors := c.Rotors()
	var list []Use
	take := func(part any, pieces int) {
		for _, r := range s.of[part] {
			n := pieces
			switch {
			case s.Names[r].Uncounted:
				n = 1
			case s.Names[r].Direction != "" && rotors%2 == 0:
				n = rotors / 2
			case s.Names[r].Direction != "":
				continue
			}
			list = append(list, Use{r, n})
		}
	}
	if m := c.Motor.Mixed; m != nil {
		a, b := m.Pieces(rotors)
		take(m.A, a)
		take(m.B, b)
	} else {
		take(c.Motor, rotors)
	}
	take(c.Prop, rotors)
	if !s.shared {
		take(c.Pack, 1)
	}
	take(c.Frame, 1)
	take(c.Board, 1)
	for _, e := range c.Extras {
		take(e, 1)
	}
	return list
}

// leftOver lists what remains, in the drawer's order.
func (s *Stock) LeftOver(left []int) []LeftOver {
	var list []LeftOver
	for r, name := range s.Names {
		if name.Direction != "" || left[r] <= 0 {
			continue
		}
		one := LeftOver{Kind: name.Kind, ID: name.Id, Pieces: left[r]}
		if name.Uncounted {
			one.Pieces, one.Uncounted = 0, true
		}
		list = append(list, one)
	}
	return list
}

// LeftOver is what remains of a kind of part.
type LeftOver struct {
	Kind   inventory.Kind
	ID     string
	Pieces int
	// Uncounted says that the drawer gives no count: enough for one craft, which no planned one
	// takes. Pieces is 0 then.
	Uncounted bool
}
