package search

import (
	"fmt"
	"slices"
	"strings"

	"partsaloft/inventory"
)

// stock counts the pieces of a drawer as resources that crafts use up.
type stock struct {
	names  []resource
	pieces []int         // by resource
	of     map[any][]int // resources by part; a prop whose directions are known has three
	shared bool          // packs may be used by several crafts
}

// resource is something of which there are so many pieces.
type resource struct {
	kind      inventory.Kind
	id        string
	direction string // of a prop's pieces; else empty
	uncounted bool   // enough for one craft
}

// use is what a craft takes of a resource.
type use struct{ resource, pieces int }

func newStock(d *inventory.Drawer, sharePacks bool) *stock {
	s := &stock{of: map[any][]int{}, shared: sharePacks}
	add := func(part any, kind inventory.Kind, id string, count *int, direction string) {
		n := 1
		if count != nil {
			n = *count
		}
		s.of[part] = append(s.of[part], len(s.names))
		s.names = append(s.names, resource{kind, id, direction, count == nil})
		s.pieces = append(s.pieces, n)
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
func (s *stock) fresh() []int { return append([]int(nil), s.pieces...) }

// uses lists what a combination takes. Of a part without a count it takes the whole.
func (s *stock) uses(c *inventory.Combination) []use {
	rotors := c.Rotors()
	var list []use
	take := func(part any, pieces int) {
		for _, r := range s.of[part] {
			n := pieces
			switch {
			case s.names[r].uncounted:
				n = 1
			case s.names[r].direction != "" && rotors%2 == 0:
				n = rotors / 2
			case s.names[r].direction != "":
				continue
			}
			list = append(list, use{r, n})
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

// claim is a feasible candidate with what it uses.
type claim struct {
	scored
	uses []use
}

// claims works out what candidates of a space use.
func (s *stock) claims(space *Space, list []scored) []claim {
	out := make([]claim, len(list))
	for i := range list {
		c := space.combination(list[i].candidate)
		out[i] = claim{list[i], s.uses(&c)}
	}
	return out
}

func (c *claim) fits(left []int) bool {
	for _, u := range c.uses {
		if left[u.resource] < u.pieces {
			return false
		}
	}
	return true
}

func (c *claim) take(left []int) {
	for _, u := range c.uses {
		left[u.resource] -= u.pieces
	}
}

func (c *claim) giveBack(left []int) {
	for _, u := range c.uses {
		left[u.resource] += u.pieces
	}
}

// leftOver lists what remains, in the drawer's order.
func (s *stock) leftOver(left []int) []LeftOver {
	var list []LeftOver
	for r, name := range s.names {
		if name.direction != "" || left[r] <= 0 {
			continue
		}
		one := LeftOver{Kind: name.kind, ID: name.id, Pieces: left[r]}
		if name.uncounted {
			one.Pieces, one.Uncounted = 0, true
		}
		list = append(list, one)
	}
	return list
}

// shortages say what a claim lacks, in a sentence a resource; what the drawer gives no count of and
// the same craft takes shares one.
func (s *stock) shortages(lacks []use, left []int, takenBy map[int][]string) []string {
	var list, takers []string
	uncounted := map[string][]string{}
	for _, u := range lacks {
		name := s.names[u.resource]
		if !name.uncounted {
			list = append(list, s.shortage(u, left, takenBy))
			continue
		}
		by := strings.Join(takenBy[u.resource], " and ")
		if !slices.Contains(takers, by) {
			takers = append(takers, by)
		}
		uncounted[by] = append(uncounted[by], fmt.Sprintf("%s %s", name.kind, name.id))
	}
	for _, by := range takers {
		parts := uncounted[by]
		last := len(parts) - 1
		words := parts[last]
		if last > 0 {
			words = strings.Join(parts[:last], ", ") + " and " + words
		}
		list = append(list, fmt.Sprintf("%s takes %s; no count is given, which is taken as enough for one craft: give it if there are more", by, words))
	}
	return list
}

// shortage says in a sentence what a claim lacks of a resource.
func (s *stock) shortage(u use, left []int, takenBy map[int][]string) string {
	name := s.names[u.resource]
	what := fmt.Sprintf("%s %s", name.kind, name.id)
	if name.direction != "" {
		what += " (" + name.direction + ")"
	}
	verb, pieces := "are", "pieces"
	if s.pieces[u.resource] == 1 {
		verb, pieces = "is", "piece"
	}
	takes := "takes"
	if len(takenBy[u.resource]) > 1 {
		takes = "take"
	}
	return fmt.Sprintf("of %s there %s %d %s, %s %s %d, and it would take %d", what, verb, s.pieces[u.resource], pieces,
		strings.Join(takenBy[u.resource], " and "), takes, s.pieces[u.resource]-left[u.resource], u.pieces)
}
