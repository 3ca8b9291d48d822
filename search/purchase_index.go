package search

import (
	"partsaloft/inventory"
	"partsaloft/search/space"
)

// haul knows which parts of a space are bought.
type haul struct {
	space          *space.Space
	motors         []basket
	props, packs   []basket
	bodies         [][]basket // by body and supply
	full           []bool     // motors that take more than a basket
	bodiesTooLarge [][]bool
}

// newHaul looks the bought parts of a space up; places gives them by address.
func newHaul(s *space.Space, places map[any]int) *haul {
	h := &haul{space: s}
	of := func(parts ...any) (basket, bool) {
		k := emptyBasket
		for _, part := range parts {
			if place, bought := places[part]; bought {
				var ok bool
				if k, ok = k.with(place); !ok {
					return k, false
				}
			}
		}
		return k, true
	}
	for _, m := range s.Motors {
		parts := []any{m}
		if m.Mixed != nil {
			parts = []any{m.Mixed.A, m.Mixed.B}
		}
		k, ok := of(parts...)
		h.motors, h.full = append(h.motors, k), append(h.full, !ok)
	}
	for _, p := range s.Props {
		k, _ := of(p)
		h.props = append(h.props, k)
	}
	for _, p := range s.Packs {
		k, _ := of(p)
		h.packs = append(h.packs, k)
	}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		row, large := make([]basket, len(s.Supplies)), make([]bool, len(s.Supplies))
		for v, with := range b.With {
			parts := []any{s.Frames[b.Frame], s.Boards[b.Board]}
			for _, e := range with {
				parts = append(parts, any((*inventory.Extra)(e)))
			}
			var ok bool
			row[v], ok = of(parts...)
			large[v] = !ok
		}
		h.bodies, h.bodiesTooLarge = append(h.bodies, row), append(h.bodiesTooLarge, large)
	}
	return h
}

// join puts two baskets together; false if the result holds more than most parts.
func join(a, b basket, most int) (basket, bool) {
	for _, part := range b {
		if part < 0 {
			continue
		}
		var ok bool
		if a, ok = a.with(part); !ok {
			return a, false
		}
	}
	return a, a.size() <= most
}

// each yields the candidates that fit with at most a number of bought parts, and these.
func (h *haul) each(most int, yield func(space.Candidate, basket) bool) {
	s := h.space
	fit := &s.Fit
	for f := range s.Frames {
		first, end := s.BodyOf[f][0], s.BodyOf[f][1]
		ok := fit.Motors[f].Each(nil, func(m int) bool {
			if h.full[m] || h.motors[m].size() > most {
				return true
			}
			return fit.Props[m].Each(fit.PropsOf[f], func(p int) bool {
				one, ok := join(h.motors[m], h.props[p], most)
				if !ok {
					return true
				}
				return fit.Packs[m].Each(fit.PacksOf[f], func(k int) bool {
					two, ok := join(one, h.packs[k], most)
					if !ok {
						return true
					}
					v := s.SupplyOf[k]
					for b := first; b < end; b++ {
						if s.Bodies[b].With[v] == nil || h.bodiesTooLarge[b][v] {
							continue
						}
						if all, ok := join(two, h.bodies[b][v], most); ok && !yield(space.NewCandidate(m, p, k, b), all) {
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
func (h *haul) count(most int) int64 {
	var n int64
	h.each(most, func(space.Candidate, basket) bool {
		n++
		return n <= 10*buyWhole
	})
	return n
}
