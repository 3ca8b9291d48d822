package inventory

import (
	"io"

	"partsaloft/inventory/strict"
)

// Price is what a part costs, as the seller writes it.
type Price struct {
	Price    string `yaml:"price" check:"len=40"`
	Currency string `yaml:"currency" check:"len=16"`
}

// Offer is a list of parts that one could buy, in the keys of a drawer; a count is what one
// purchase brings.
type Offer struct {
	Parts  *Drawer
	prices map[Kind]map[string]Price
}

// Price is the price of a part, empty if the list does not say.
func (o *Offer) Price(kind Kind, id string) Price { return o.prices[kind][id] }

type offered[T any] struct {
	Part  T     `yaml:",inline"`
	Price Price `yaml:",inline"`
}

type offerFile struct {
	Motors []offered[Motor] `yaml:"motors"`
	Props  []offered[Prop]  `yaml:"props"`
	Packs  []offered[Pack]  `yaml:"packs"`
	Frames []offered[Frame] `yaml:"frames"`
	Boards []offered[Board] `yaml:"boards"`
	Extras []offered[Extra] `yaml:"extras"`
}

// ReadOffer reads an offer; name stands for the file in messages. The error is a Faults that holds every
// fault at once. Frames and boards that an extra goes with may be parts of the pilot's drawer and are not
// checked.
func ReadOffer(name string, r io.Reader) (*Offer, error) {
	var f offerFile
	doc := strict.Read(name, r, &f)
	o := &Offer{Parts: &Drawer{Name: doc.File}, prices: map[Kind]map[string]Price{}}
	o.Parts.Motors = unwrap(o, KindMotor, f.Motors, (*Motor).id)
	o.Parts.Props = unwrap(o, KindProp, f.Props, (*Prop).id)
	o.Parts.Packs = unwrap(o, KindPack, f.Packs, (*Pack).id)
	o.Parts.Frames = unwrap(o, KindFrame, f.Frames, (*Frame).id)
	o.Parts.Boards = unwrap(o, KindBoard, f.Boards, (*Board).id)
	o.Parts.Extras = unwrap(o, KindExtra, f.Extras, (*Extra).id)
	o.Parts.settleParts(doc)
	o.Parts.settleStands(doc)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return o, nil
}

func unwrap[T any](o *Offer, kind Kind, list []offered[T], id func(*T) string) []T {
	parts := make([]T, len(list))
	o.prices[kind] = map[string]Price{}
	for i := range list {
		parts[i] = list[i].Part
		if list[i].Price != (Price{}) {
			o.prices[kind][id(&parts[i])] = list[i].Price
		}
	}
	return parts
}
