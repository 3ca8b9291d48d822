package solve

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
	"partsaloft/search/space"
)

// orders list the parts of each kind by physics, so that neighbours are similar: motors by stator
// volume and kV, props by diameter, pitch and blades, packs by cells and capacity, frames by
// mass, bodies of a frame by their mass. rank inverts them.
type orders struct {
	space                        *space.Space
	fits                         *fitSets
	motors, props, packs, frames []int
	bodies                       []int // frames in order, and within a frame by mass
	rank                         struct{ motors, props, packs, frames, bodies []int }
}

func layOrders(s *space.Space) *orders {
	o := &orders{space: s}
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
	o.motors, o.rank.motors = sorted(len(s.Motors), func(a, b int) int {
		x, y := s.Motors[a], s.Motors[b]
		return cmp.Or(cmp.Compare(volume(x), volume(y)), cmp.Compare(x.KV, y.KV))
	})
	o.props, o.rank.props = sorted(len(s.Props), func(a, b int) int {
		x, y := s.Props[a], s.Props[b]
		return cmp.Or(cmp.Compare(x.DiameterIn, y.DiameterIn), cmp.Compare(x.PitchIn, y.PitchIn),
			cmp.Compare(x.Blades, y.Blades))
	})
	o.packs, o.rank.packs = sorted(len(s.Packs), func(a, b int) int {
		x, y := s.Packs[a], s.Packs[b]
		return cmp.Or(cmp.Compare(x.Cells, y.Cells), cmp.Compare(x.CapacityMAh, y.CapacityMAh))
	})
	frameKg, bodyG := make([]float64, len(s.Frames)), make([]float64, len(s.Bodies))
	for i, f := range s.Frames {
		frameKg[i] = f.Mass().Value
	}
	o.frames, o.rank.frames = sorted(len(s.Frames), func(a, b int) int { return cmp.Compare(frameKg[a], frameKg[b]) })
	for i := range bodyG {
		bodyG[i] = bodyMassG(s, frameKg, i)
	}
	o.bodies, o.rank.bodies = sorted(len(s.Bodies), func(a, b int) int {
		x, y := &s.Bodies[a], &s.Bodies[b]
		return cmp.Or(cmp.Compare(o.rank.frames[x.Frame], o.rank.frames[y.Frame]), cmp.Compare(bodyG[a], bodyG[b]))
	})
	o.fits = layFitSets(s, o)
	return o
}

// bodyMassG is the mass of a body's parts as far as the drawer gives it: enough to put like beside
// like.
func bodyMassG(s *space.Space, frameKg []float64, i int) float64 {
	b := &s.Bodies[i]
	mass := frameKg[b.Frame] * 1000
	if m := s.Boards[b.Board].MassG; m != nil {
		mass += *m
	}
	for _, with := range b.With {
		if with != nil {
			for _, e := range with {
				mass += e.MassG
			}
			break
		}
	}
	return mass
}
