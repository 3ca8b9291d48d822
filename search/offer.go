package search

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// offer is a drawer with what one could buy put in. Offered extras are kept apart: an adapter
// changes which combinations fit, so each is tried in a drawer of its own.
type offer struct {
	drawer *inventory.Drawer // owned parts, then offered ones; no offered extras
	extras []inventory.Extra // offered
	parts  []Offered         // by kind in the order of kinds, then the extras
	owned  [len(kinds)]int   // by kind: how many parts of the drawer come before the offered ones
	begin  [len(kinds)]int   // by kind: where its offered parts begin in parts
	offset int               // of the extras in parts
}

// newOffer is a copy of a drawer with nothing on offer.
func newOffer(d *inventory.Drawer) *offer {
	all := *d
	all.Motors, all.Props, all.Packs = slices.Clone(d.Motors), slices.Clone(d.Props), slices.Clone(d.Packs)
	all.Frames, all.Boards, all.Extras = slices.Clone(d.Frames), slices.Clone(d.Boards), slices.Clone(d.Extras)
	return &offer{drawer: &all, owned: [...]int{len(d.Motors), len(d.Props), len(d.Packs), len(d.Frames), len(d.Boards)}}
}

// product is how many sets of a motor, a prop, a pack, a frame and a board there are, whether they fit or not.
func (o *offer) product() float64 {
	d := o.drawer
	return float64(len(d.Motors)) * float64(len(d.Props)) * float64(len(d.Packs)) * float64(len(d.Frames)) *
		float64(len(d.Boards))
}

// place is the place in parts of the part of a kind at a place in the drawer's list, −1 if it is owned.
func (o *offer) place(kind, at int) int {
	if at < o.owned[kind] {
		return -1
	}
	return o.begin[kind] + at - o.owned[kind]
}

// put adds an offered part; the kinds come in their order.
func (o *offer) put(part Offered) {
	o.parts = append(o.parts, part)
	if k := slices.Index(kinds[:], part.Kind); k >= 0 {
		for later := k + 1; later < len(kinds); later++ {
			o.begin[later] = len(o.parts)
		}
		o.offset = len(o.parts)
	}
}

// offerOf puts a list of parts into a drawer. A part that is owned already comes in with both counts
// added up.
func offerOf(d *inventory.Drawer, list *inventory.Offer) *offer {
	o := newOffer(d)
	put := func(kind inventory.Kind, id, outfit string) {
		o.put(Offered{Kind: kind, ID: id, Price: list.Price(kind, id), Outfit: outfit})
	}
	for _, part := range list.Parts.Motors {
		if have := d.Motor(part.ID); have != nil {
			part.Count = sum(have.Count, part.Count)
		}
		o.drawer.Motors = append(o.drawer.Motors, part)
		put(inventory.KindMotor, part.ID, "")
	}
	for _, part := range list.Parts.Props {
		if have := d.Prop(part.ID); have != nil {
			part.Count = sum(have.Count, part.Count)
			if have.Directions != nil && part.Directions != nil {
				part.Directions = &inventory.Directions{
					Clockwise:        have.Directions.Clockwise + part.Directions.Clockwise,
					Counterclockwise: have.Directions.Counterclockwise + part.Directions.Counterclockwise,
				}
			}
		}
		o.drawer.Props = append(o.drawer.Props, part)
		put(inventory.KindProp, part.ID, "")
	}
	for _, part := range list.Parts.Packs {
		o.drawer.Packs = append(o.drawer.Packs, part)
		put(inventory.KindPack, part.ID, "")
	}
	for _, part := range list.Parts.Frames {
		o.drawer.Frames = append(o.drawer.Frames, part)
		put(inventory.KindFrame, part.ID, o.outfit(part.ID, likeFrame(d, &part)))
	}
	for _, part := range list.Parts.Boards {
		o.drawer.Boards = append(o.drawer.Boards, part)
		put(inventory.KindBoard, part.ID, o.outfit(part.ID, likeBoard(d, &part)))
	}
	for _, part := range list.Parts.Extras {
		o.extras = append(o.extras, part)
		put(inventory.KindExtra, part.ID, "")
	}
	return o
}

// likeFrame is the owned frame nearest in size whose extras go onto an offered one.
func likeFrame(d *inventory.Drawer, f *inventory.Frame) string {
	best, least := "", math.Inf(1)
	for i := range d.Frames {
		have := &d.Frames[i]
		c := inventory.Combination{Frame: f, Extras: d.Following(have, nil)}
		gap := math.Abs(math.Log(have.LargestPropM() / f.LargestPropM()))
		if gap < least && compat.FirstFault(&c) == compat.NoRule {
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
func (o *offer) outfit(id, like string) string {
	for i := range o.drawer.Extras {
		if slices.Contains(o.drawer.Extras[i].With, id) {
			return ""
		}
	}
	added := ""
	for i := range o.drawer.Extras {
		if e := &o.drawer.Extras[i]; slices.Contains(e.With, like) {
			e.With = append(slices.Clone(e.With), id)
			added = like
		}
	}
	return added
}

// sum adds two counts up; nil is enough.
func sum(a, b *int) *int {
	if a == nil || b == nil {
		return nil
	}
	n := *a + *b
	return &n
}
