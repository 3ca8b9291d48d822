package search

import (
	"fmt"
	"math"
	"slices"

	"partsaloft/inventory"
)

// market is a drawer with what one could buy put in. Offered extras are kept apart: an adapter
// changes which combinations fit, so each is tried in a drawer of its own.
type market struct {
	drawer *inventory.Drawer // owned parts, then offered ones; no offered extras
	extras []inventory.Extra // offered
	parts  []Offered
	first  struct{ motors, props, packs, frames, boards int } // where the offered ones begin
	offset int                                                // of the extras in parts
	owned  map[any]string                                     // owned parts by address in drawer, with their names
}

// openMarket puts an offer into a drawer. A part that is owned already comes in with both counts
// added up.
func openMarket(d *inventory.Drawer, offer *inventory.Offer) *market {
	m := newMarket(d)
	put := func(kind inventory.Kind, id string) {
		m.parts = append(m.parts, Offered{Kind: kind, ID: id, Price: offer.Price(kind, id)})
	}
	for _, part := range offer.Parts.Motors {
		if have := d.Motor(part.ID); have != nil {
			part.Count = sum(have.Count, part.Count)
		}
		m.drawer.Motors = append(m.drawer.Motors, part)
		put(inventory.KindMotor, part.ID)
	}
	for _, part := range offer.Parts.Props {
		if have := d.Prop(part.ID); have != nil {
			part.Count = sum(have.Count, part.Count)
			if have.Directions != nil && part.Directions != nil {
				part.Directions = &inventory.Directions{
					Clockwise:        have.Directions.Clockwise + part.Directions.Clockwise,
					Counterclockwise: have.Directions.Counterclockwise + part.Directions.Counterclockwise,
				}
			}
		}
		m.drawer.Props = append(m.drawer.Props, part)
		put(inventory.KindProp, part.ID)
	}
	for _, part := range offer.Parts.Packs {
		m.drawer.Packs = append(m.drawer.Packs, part)
		put(inventory.KindPack, part.ID)
	}
	for _, part := range offer.Parts.Frames {
		m.drawer.Frames = append(m.drawer.Frames, part)
		put(inventory.KindFrame, part.ID)
		m.parts[len(m.parts)-1].Outfit = m.outfit(part.ID, likeFrame(d, &part))
	}
	for _, part := range offer.Parts.Boards {
		m.drawer.Boards = append(m.drawer.Boards, part)
		put(inventory.KindBoard, part.ID)
		m.parts[len(m.parts)-1].Outfit = m.outfit(part.ID, likeBoard(d, &part))
	}
	m.offset = len(m.parts)
	for _, part := range offer.Parts.Extras {
		m.extras = append(m.extras, part)
		put(inventory.KindExtra, part.ID)
	}
	m.nameOwned()
	return m
}

func newMarket(d *inventory.Drawer) *market {
	m := &market{}
	all := *d
	all.Motors, all.Props, all.Packs = slices.Clone(d.Motors), slices.Clone(d.Props), slices.Clone(d.Packs)
	all.Frames, all.Boards, all.Extras = slices.Clone(d.Frames), slices.Clone(d.Boards), slices.Clone(d.Extras)
	m.drawer = &all
	m.first.motors, m.first.props, m.first.packs = len(d.Motors), len(d.Props), len(d.Packs)
	m.first.frames, m.first.boards = len(d.Frames), len(d.Boards)
	return m
}

// likeFrame is the owned frame nearest in size whose extras go onto an offered one.
func likeFrame(d *inventory.Drawer, f *inventory.Frame) string {
	best, least := "", math.Inf(1)
	for i := range d.Frames {
		have := &d.Frames[i]
		c := inventory.Combination{Frame: f, Extras: d.Following(have, nil)}
		gap := math.Abs(math.Log(have.LargestPropM() / f.LargestPropM()))
		if gap < least && c.FirstFault() == inventory.NoRule {
			best, least = have.ID, gap
		}
	}
	return best
}

// likeBoard is the owned board nearest in current.
func likeBoard(d *inventory.Drawer, b *inventory.Board) string {
	best, least := "", math.Inf(1)
	for i := range d.Boards {
		if gap := math.Abs(math.Log(d.Boards[i].EscCurrentA / b.EscCurrentA)); gap < least {
			best, least = d.Boards[i].ID, gap
		}
	}
	return best
}

// outfit lets the extras that go with an owned frame or board go with an offered one as well, so
// that it does not seem lighter for want of a camera. An offered one that some extra names already
// is left alone. It returns the owned one if any extra was added.
func (m *market) outfit(id, like string) string {
	for i := range m.drawer.Extras {
		if slices.Contains(m.drawer.Extras[i].With, id) {
			return ""
		}
	}
	added := ""
	for i := range m.drawer.Extras {
		if e := &m.drawer.Extras[i]; slices.Contains(e.With, like) {
			e.With = append(slices.Clone(e.With), id)
			added = like
		}
	}
	return added
}

func sum(a, b *int) *int {
	if a == nil || b == nil {
		return nil
	}
	n := *a + *b
	return &n
}

// nameOwned notes the owned parts once the lists no longer grow.
func (m *market) nameOwned() {
	m.owned = map[any]string{}
	d := m.drawer
	name := func(part any, kind inventory.Kind, id string) { m.owned[part] = fmt.Sprintf("%s %s", kind, id) }
	for i := range d.Motors[:m.first.motors] {
		name(&d.Motors[i], inventory.KindMotor, d.Motors[i].ID)
	}
	for i := range d.Props[:m.first.props] {
		name(&d.Props[i], inventory.KindProp, d.Props[i].ID)
	}
	for i := range d.Packs[:m.first.packs] {
		name(&d.Packs[i], inventory.KindPack, d.Packs[i].ID)
	}
	for i := range d.Frames[:m.first.frames] {
		name(&d.Frames[i], inventory.KindFrame, d.Frames[i].ID)
	}
	for i := range d.Boards[:m.first.boards] {
		name(&d.Boards[i], inventory.KindBoard, d.Boards[i].ID)
	}
}

// offered gives the place in parts of each offered part, by address.
func (m *market) offered() map[any]int {
	places := map[any]int{}
	d := m.drawer
	put := func(part any) { places[part] = len(places) }
	for i := m.first.motors; i < len(d.Motors); i++ {
		put(&d.Motors[i])
	}
	for i := m.first.props; i < len(d.Props); i++ {
		put(&d.Props[i])
	}
	for i := m.first.packs; i < len(d.Packs); i++ {
		put(&d.Packs[i])
	}
	for i := m.first.frames; i < len(d.Frames); i++ {
		put(&d.Frames[i])
	}
	for i := m.first.boards; i < len(d.Boards); i++ {
		put(&d.Boards[i])
	}
	return places
}
