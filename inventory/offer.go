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
	Motors []offered[Motor] `yaml:"motors" check:"each=motor"`
	Props  []offered[Prop]  `yaml:"props" check:"each=prop"`
	Packs  []offered[Pack]  `yaml:"packs" check:"each=pack"`
	Frames []offered[Frame] `yaml:"frames" check:"each=frame"`
	Boards []offered[Board] `yaml:"boards" check:"each=board"`
	Extras []offered[Extra] `yaml:"extras" check:"each=extra"`
}

// ReadOffer reads an offer; name stands for the file in messages. The error is a Faults that holds every
// fault at once. Frames and boards that an extra goes with may be parts of the pilot's drawer and are not
// checked.
func ReadOffer(name string, r io.Reader) (*Offer, error) {
	var f offerFile
	doc := strict.Read(name, r, &f)
	o := &Offer{Parts: &Drawer{Name: doc.File}, prices: map[Kind]map[string]Price{}}
	o.Parts.Motors = unwrap(o, f.Motors)
	o.Parts.Props = unwrap(o, f.Props)
	o.Parts.Packs = unwrap(o, f.Packs)
	o.Parts.Frames = unwrap(o, f.Frames)
	o.Parts.Boards = unwrap(o, f.Boards)
	o.Parts.Extras = unwrap(o, f.Extras)
	o.Parts.validateParts(doc)
	o.Parts.validateBenches(doc)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return o, nil
}

// unwrap takes the parts of a list, and notes their prices.
func unwrap[T any, P interface {
	*T
	Item
}](o *Offer, list []offered[T]) []T {
	parts := make([]T, len(list))
	prices := map[string]Price{}
	for i := range list {
		parts[i] = list[i].Part
		if list[i].Price != (Price{}) {
			prices[P(&parts[i]).Base().ID] = list[i].Price
		}
	}
	o.prices[P(new(T)).Kind()] = prices
	return parts
}
