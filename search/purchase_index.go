package search

import (
	"partsaloft/search/space"
)

// purchaseIndex knows which parts of a space are bought.
type purchaseIndex struct {
	space        *space.Space
	motors       []load
	props, packs []load
	bodies       [][]load // by body and supply
}

// load is the bought parts of a part or a body, if they fit into a basket.
type load struct {
	basket basket
	fits   bool
}

// newPurchaseIndex looks the bought parts of a space up. An offered extra is known by its id and its place
// in the offer, −1 for none.
func newPurchaseIndex(s *space.Space, o *offer, extra int) *purchaseIndex {
	x := &purchaseIndex{space: s}
	of := func(places ...int) load {
		l := load{emptyBasket, true}
		for _, place := range places {
			if place >= 0 && l.fits {
				l.basket, l.fits = l.basket.with(place)
			}
		}
		return l
	}
	for _, at := range s.MotorAt {
		second := -1
		if at[1] >= 0 {
			second = o.place(motorKind, at[1])
		}
		x.motors = append(x.motors, of(o.place(motorKind, at[0]), second))
	}
	for _, at := range s.PropAt {
		x.props = append(x.props, of(o.place(propKind, at)))
	}
	for _, at := range s.PackAt {
		x.packs = append(x.packs, of(o.place(packKind, at)))
	}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		row := make([]load, len(s.Supplies))
		for v, with := range b.With {
			places := []int{o.place(frameKind, s.FrameAt[b.Frame]), o.place(boardKind, s.BoardAt[b.Board])}
			for _, e := range with {
				if extra >= 0 && e.ID == o.parts[extra].ID {
					places = append(places, extra)
				}
			}
			row[v] = of(places...)
		}
		x.bodies = append(x.bodies, row)
	}
	return x
}

// join adds a load to a basket; false if the result holds more than most parts.
func (l *load) join(k basket, most int) (basket, bool) {
	if !l.fits {
		return k, false
	}
	for _, part := range l.basket {
		if part < 0 {
			continue
		}
		var ok bool
		if k, ok = k.with(part); !ok {
			return k, false
		}
	}
	return k, k.size() <= most
}

// each yields the candidates that fit with at most a number of bought parts, and these.
func (x *purchaseIndex) each(most int, yield func(space.Candidate, basket) bool) {
	s := x.space
	fit := &s.Compatible
	for f := range s.Frames {
		first, end := s.BodyOf[f][0], s.BodyOf[f][1]
		ok := fit.Motors[f].Each(nil, func(m int) bool {
			motor, ok := x.motors[m].join(emptyBasket, most)
			if !ok {
				return true
			}
			return fit.Props[m].Each(fit.PropsOf[f], func(p int) bool {
				rotor, ok := x.props[p].join(motor, most)
				if !ok {
					return true
				}
				return fit.Packs[m].Each(fit.PacksOf[f], func(k int) bool {
					train, ok := x.packs[k].join(rotor, most)
					if !ok {
						return true
					}
					v := s.SupplyOf[k]
					for b := first; b < end; b++ {
						if s.Bodies[b].With[v] == nil {
							continue
						}
						if all, ok := x.bodies[b][v].join(train, most); ok && !yield(space.NewCandidate(m, p, k, b), all) {
							return false
						}
					}
					return true
				})
			})
		})
		if !ok {
			return
		}
	}
}

// count counts them, as far as matters.
func (x *purchaseIndex) count(most int) int64 {
	var n int64
	x.each(most, func(space.Candidate, basket) bool {
		n++
		return n <= 10*buyWhole
	})
	return n
}
