package search

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
)

// orders list the parts of each kind by physics, so that neighbours are similar: motors by stator
// volume and kV, props by diameter, pitch and blades, packs by cells and capacity, frames by
// mass, bodies of a frame by their mass. rank inverts them.
type orders struct {
	motors, props, packs, frames []int
	bodies                       []int // frames in order, and within a frame by mass
	rank                         struct{ motors, props, packs, frames, bodies []int }
}

func (s *Space) layOrders() *orders {
	o := &orders{}
	sorted := func(n int, compare func(a, b int) int) (order, rank []int) {
		order, rank = make([]int, n), make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Or(compare(a, b), cmp.Compare(a, b)) })
		for at, i := range order {
			rank[i] = at
		}
		return order, rank
	}
	volume := func(m *inventory.Motor) float64 { return m.StatorDiameterMm * m.StatorDiameterMm * m.StatorHeightMm }
	o.motors, o.rank.motors = sorted(len(s.motors), func(a, b int) int {
		x, y := s.motors[a], s.motors[b]
		return cmp.Or(cmp.Compare(volume(x), volume(y)), cmp.Compare(x.KV, y.KV))
	})
	o.props, o.rank.props = sorted(len(s.props), func(a, b int) int {
		x, y := s.props[a], s.props[b]
		return cmp.Or(cmp.Compare(x.DiameterIn, y.DiameterIn), cmp.Compare(x.PitchIn, y.PitchIn), cmp.Compare(x.Blades, y.Blades))
	})
	o.packs, o.rank.packs = sorted(len(s.packs), func(a, b int) int {
		x, y := s.packs[a], s.packs[b]
		return cmp.Or(cmp.Compare(x.Cells, y.Cells), cmp.Compare(x.CapacityMAh, y.CapacityMAh))
	})
	o.frames, o.rank.frames = sorted(len(s.frames), func(a, b int) int {
		return cmp.Compare(s.frames[a].MassG, s.frames[b].MassG)
	})
	o.bodies, o.rank.bodies = sorted(len(s.bodies), func(a, b int) int {
		x, y := &s.bodies[a], &s.bodies[b]
		return cmp.Or(cmp.Compare(o.rank.frames[x.frame], o.rank.frames[y.frame]), cmp.Compare(s.bodyMassG(a), s.bodyMassG(b)))
	})
	return o
}

// bodyMassG is the mass of a body's parts as far as the drawer gives it: enough to put like beside
// like.
func (s *Space) bodyMassG(i int) float64 {
	b := &s.bodies[i]
	mass := s.frames[b.frame].MassG
	if m := s.boards[b.board].MassG; m != nil {
		mass += *m
	}
	for _, with := range b.with {
		if with != nil {
			for _, e := range with {
				mass += e.MassG
			}
			break
		}
	}
	return mass
}

// nearest finds the index nearest to the wanted one in an order, among those that ok accepts; the
// lower one of two. It returns −1 if there is none.
func nearest(order, rank []int, want int, ok func(int) bool) int {
	at := rank[want]
	for d := 0; d < len(order); d++ {
		if at-d >= 0 && ok(order[at-d]) {
			return order[at-d]
		}
		if d > 0 && at+d < len(order) && ok(order[at+d]) {
			return order[at+d]
		}
		if at-d < 0 && at+d >= len(order) {
			break
		}
	}
	return -1
}
