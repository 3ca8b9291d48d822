package inventory

import (
	"iter"
	"slices"
	"strings"

	"partsaloft/inventory/strict"
)

// Part is what parts of every kind have in common.
type Part struct {
	strict.Origin
	ID    string `yaml:"id" check:"required,id,also=name|label"`
	Count *int   `yaml:"count" check:"min=0,max=10000,also=quantity|qty|number|pieces|have|amount"` // pieces
	Note  string `yaml:"note" check:"also=notes|comment|remark,len=500,last"`

	// Learned is what readings taught of it; of a frame, also what they taught of the way of flying.
	Learned Corrections `yaml:"-"`
}

// Base is the part's common base.
func (p *Part) Base() *Part { return p }

// Item is a part of some kind: a *Motor, *Prop, *Pack, *Frame, *Board or *Extra.
type Item interface {
	Base() *Part
	Kind() Kind
	// Grams is the mass of one piece as the drawer gives it, nil if it does not.
	Grams() *float64
	validate(doc *strict.Document)
}

// Kind is a kind of part, as the key of Parts names it.
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

// kinds is the one list of kinds, in the order of a drawer's lists.
var kinds = [...]struct {
	kind  Kind
	empty func() Item
	items func(*Drawer) []Item
	// take makes the list a stretch of another drawer's.
	take func(into, from *Drawer, low, high int)
}{
	{KindMotor, func() Item { return &Motor{} }, func(d *Drawer) []Item { return itemsOf(d.Motors) },
		func(into, from *Drawer, low, high int) { into.Motors = from.Motors[low:high] }},
	{KindProp, func() Item { return &Prop{} }, func(d *Drawer) []Item { return itemsOf(d.Props) },
		func(into, from *Drawer, low, high int) { into.Props = from.Props[low:high] }},
	{KindPack, func() Item { return &Pack{} }, func(d *Drawer) []Item { return itemsOf(d.Packs) },
		func(into, from *Drawer, low, high int) { into.Packs = from.Packs[low:high] }},
	{KindFrame, func() Item { return &Frame{} }, func(d *Drawer) []Item { return itemsOf(d.Frames) },
		func(into, from *Drawer, low, high int) { into.Frames = from.Frames[low:high] }},
	{KindBoard, func() Item { return &Board{} }, func(d *Drawer) []Item { return itemsOf(d.Boards) },
		func(into, from *Drawer, low, high int) { into.Boards = from.Boards[low:high] }},
	{KindExtra, func() Item { return &Extra{} }, func(d *Drawer) []Item { return itemsOf(d.Extras) },
		func(into, from *Drawer, low, high int) { into.Extras = from.Extras[low:high] }},
}

// itemsOf are the entries of a list as items.
func itemsOf[T any, P interface {
	*T
	Item
}](list []T) []Item {
	items := make([]Item, len(list))
	for i := range list {
		items[i] = P(&list[i])
	}
	return items
}

// Kinds are the kinds of part in the order of a drawer's lists.
func Kinds() []Kind {
	list := make([]Kind, len(kinds))
	for i := range kinds {
		list[i] = kinds[i].kind
	}
	return list
}

// index is the kind's place in the list of kinds, −1 for a word that is none.
func (k Kind) index() int { return slices.Index(Kinds(), k) }

// KindNamed is the kind of a word such as motor or motors, false if it is none.
func KindNamed(word string) (Kind, bool) {
	kind := Kind(strings.TrimSuffix(strings.ToLower(word), "s"))
	return kind, kind.index() >= 0
}

// Section is the key of the list that holds a kind: motors for motor.
func (k Kind) Section() string { return string(k) + "s" }

// Empty is a part of the kind with nothing in it, to read its keys from.
func (k Kind) Empty() Item { return kinds[k.index()].empty() }

// Kind is motor.
func (m *Motor) Kind() Kind { return KindMotor }

// Kind is prop.
func (p *Prop) Kind() Kind { return KindProp }

// Kind is pack.
func (p *Pack) Kind() Kind { return KindPack }

// Kind is frame.
func (f *Frame) Kind() Kind { return KindFrame }

// Kind is board.
func (b *Board) Kind() Kind { return KindBoard }

// Kind is extra.
func (e *Extra) Kind() Kind { return KindExtra }

// Grams is the mass of one motor in g, nil if it is not given.
func (m *Motor) Grams() *float64 { return m.MassG }

// Grams is the mass of one prop in g, nil if it is not given.
func (p *Prop) Grams() *float64 { return p.MassG }

// Grams is the pack's mass in g, nil if it is not given.
func (p *Pack) Grams() *float64 { return p.MassG }

// Grams is the frame's mass in g, nil if it is not given.
func (f *Frame) Grams() *float64 { return f.MassG }

// Grams is the board's mass in g, nil if it is not given.
func (b *Board) Grams() *float64 { return b.MassG }

// Grams is the extra's mass in g.
func (e *Extra) Grams() *float64 { return &e.MassG }

// Items are the drawer's parts of a kind in their order; changes reach the drawer.
func (d *Drawer) Items(kind Kind) []Item { return kinds[kind.index()].items(d) }

// All yields the drawer's parts, kind by kind.
func (d *Drawer) All() iter.Seq[Item] {
	return func(yield func(Item) bool) {
		for i := range kinds {
			for _, item := range kinds[i].items(d) {
				if !yield(item) {
					return
				}
			}
		}
	}
}

// Item is the part of a kind and id, nil if there is none.
func (d *Drawer) Item(kind Kind, id string) Item {
	for _, item := range d.Items(kind) {
		if item.Base().ID == id {
			return item
		}
	}
	return nil
}

// IDs lists the ids of a kind in the drawer's order.
func (d *Drawer) IDs(kind Kind) []string {
	items := d.Items(kind)
	ids := make([]string, 0, len(items))
	for _, item := range items {
		if id := item.Base().ID; id != "" {
			ids = append(ids, id)
		}
	}
	return ids
}

// Take makes the drawer's list of a kind a stretch of another's, from low to high without the latter.
func (d *Drawer) Take(kind Kind, from *Drawer, low, high int) {
	kinds[kind.index()].take(d, from, low, high)
}
