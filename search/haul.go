package search

import "partsaloft/inventory"

// haul knows which parts of a space are bought.
type haul struct {
	space          *Space
	motors         []basket
	props, packs   []basket
	bodies         [][]basket // by body and supply
	full           []bool     // motors that take more than a basket
	bodiesTooLarge [][]bool
}

// newHaul looks the bought parts of a space up; places gives them by address.
func newHaul(s *Space, places map[any]int) *haul {
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
	for _, m := range s.motors {
		parts := []any{m}
		if m.Mixed != nil {
			parts = []any{m.Mixed.A, m.Mixed.B}
		}
		k, ok := of(parts...)
		h.motors, h.full = append(h.motors, k), append(h.full, !ok)
	}
	for _, p := range s.props {
		k, _ := of(p)
		h.props = append(h.props, k)
	}
	for _, p := range s.packs {
		k, _ := of(p)
		h.packs = append(h.packs, k)
	}
	for i := range s.bodies {
		b := &s.bodies[i]
		row, large := make([]basket, len(s.supplies)), make([]bool, len(s.supplies))
		for v, with := range b.with {
			parts := []any{s.frames[b.frame], s.boards[b.board]}
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
func (h *haul) each(most int, yield func(candidate, basket) bool) {
	s := h.space
	fit := &s.fit
	for f := range s.frames {
		first, end := s.bodyOf[f][0], s.bodyOf[f][1]
		ok := fit.motors[f].each(nil, func(m int) bool {
			if h.full[m] || h.motors[m].size() > most {
				return true
			}
			return fit.props[m].each(fit.propsOf[f], func(p int) bool {
				one, ok := join(h.motors[m], h.props[p], most)
				if !ok {
					return true
				}
				return fit.packs[m].each(fit.packsOf[f], func(k int) bool {
					two, ok := join(one, h.packs[k], most)
					if !ok {
						return true
					}
					v := s.supplyOf[k]
					for b := first; b < end; b++ {
						if s.bodies[b].with[v] == nil || h.bodiesTooLarge[b][v] {
							continue
						}
						if all, ok := join(two, h.bodies[b][v], most); ok && !yield(candidate{int32(m), int32(p), int32(k), int32(b)}, all) {
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
	h.each(most, func(candidate, basket) bool {
		n++
		return n <= 10*buyWhole
	})
	return n
}
