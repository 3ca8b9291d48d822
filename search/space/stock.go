package space

import (
	"partsaloft/inventory"
)

// Stock counts the pieces of a drawer as resources that crafts use up.
type Stock struct {
	Resources []Resource
	of        map[partKey][]int // resources by part; a prop whose directions are known has three
	shared    bool              // packs may be used by several crafts
}

// Resource is something of which there are so many pieces.
type Resource struct {
	Kind      inventory.Kind
	ID        string
	Direction string // of a prop's pieces, cw or ccw; else empty
	Pieces    int
	Uncounted bool // no count is given: enough for one craft
	// Along says that it goes along wherever it fits: it keeps no craft from being met, and what is short is said.
	Along bool
}

// partKey identifies a part of a drawer.
type partKey struct {
	kind inventory.Kind
	id   string
}

// Use is what a craft takes of a resource.
type Use struct{ Resource, Pieces int }

// NewStock counts a drawer; with shared packs no craft uses one up.
func NewStock(d *inventory.Drawer, sharePacks bool) *Stock {
	s := &Stock{of: map[partKey][]int{}, shared: sharePacks}
	for i := range d.Motors {
		s.add(inventory.KindMotor, d.Motors[i].ID, d.Motors[i].Count, "")
	}
	for i := range d.Props {
		p := &d.Props[i]
		s.add(inventory.KindProp, p.ID, p.Count, "")
		if r := p.Directions; r != nil {
			s.add(inventory.KindProp, p.ID, &r.Clockwise, "cw")
			s.add(inventory.KindProp, p.ID, &r.Counterclockwise, "ccw")
		}
	}
	for i := range d.Packs {
		s.add(inventory.KindPack, d.Packs[i].ID, d.Packs[i].Count, "")
	}
	for i := range d.Frames {
		s.add(inventory.KindFrame, d.Frames[i].ID, d.Frames[i].Count, "")
	}
	for i := range d.Boards {
		s.add(inventory.KindBoard, d.Boards[i].ID, d.Boards[i].Count, "")
	}
	for i := range d.Extras {
		s.addExtra(&d.Extras[i])
	}
	return s
}

// addExtra counts an extra; without a count one that is always on board, or goes along, is enough for all crafts.
func (s *Stock) addExtra(e *inventory.Extra) {
	if e.EnoughForAll() {
		return
	}
	s.add(inventory.KindExtra, e.ID, e.Count, "")
	s.Resources[len(s.Resources)-1].Along = e.Use == inventory.Along
}

func (s *Stock) add(kind inventory.Kind, id string, count *int, direction string) {
	r := Resource{Kind: kind, ID: id, Direction: direction, Pieces: 1, Uncounted: count == nil}
	if count != nil {
		r.Pieces = *count
	}
	s.of[partKey{kind, id}] = append(s.of[partKey{kind, id}], len(s.Resources))
	s.Resources = append(s.Resources, r)
}

// Fresh is the pieces of every resource before anything is used.
func (s *Stock) Fresh() []int {
	left := make([]int, len(s.Resources))
	for i := range left {
		left[i] = s.Resources[i].Pieces
	}
	return left
}

// Uses lists what a combination takes. Of a part without a count it takes the whole.
func (s *Stock) Uses(c *inventory.Combination) []Use {
	rotors := c.Rotors()
	var list []Use
	take := func(kind inventory.Kind, id string, pieces int) {
		for _, r := range s.of[partKey{kind, id}] {
			n := pieces
			switch {
			case s.Resources[r].Uncounted:
				n = 1
			case s.Resources[r].Direction != "" && rotors%2 == 0:
				n = rotors / 2
			case s.Resources[r].Direction != "":
				continue
			}
			list = append(list, Use{r, n})
		}
	}
	if m := c.Motor.Mixed; m != nil {
		a, b := m.Pieces(rotors)
		take(inventory.KindMotor, m.A.ID, a)
		take(inventory.KindMotor, m.B.ID, b)
	} else {
		take(inventory.KindMotor, c.Motor.ID, rotors)
	}
	take(inventory.KindProp, c.Prop.ID, rotors)
	if !s.shared {
		take(inventory.KindPack, c.Pack.ID, 1)
	}
	take(inventory.KindFrame, c.Frame.ID, 1)
	take(inventory.KindBoard, c.Board.ID, 1)
	for _, e := range c.Extras {
		take(inventory.KindExtra, e.ID, 1)
	}
	return list
}

// LeftOver lists what remains, in the drawer's order.
func (s *Stock) LeftOver(left []int) []LeftOver {
	var list []LeftOver
	for i := range s.Resources {
		r := &s.Resources[i]
		if r.Direction != "" || left[i] <= 0 {
			continue
		}
		one := LeftOver{Kind: r.Kind, ID: r.ID, Pieces: left[i]}
		if r.Uncounted {
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
