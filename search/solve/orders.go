package solve

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
	"partsaloft/search/space"
)

// orders list the parts of each kind by physics, so that neighbours are similar: motors by stator
// volume and kV, props by diameter, pitch and blades, packs by cells and capacity, frames by
// mass, bodies of a frame by the mass of their board, then of their extras. rank inverts them.
type orders struct {
	space                        *space.Space
	fits                         *fitSets
	motors, props, packs, frames []int
	bodies                       []int // frames in order, and within a frame by what they carry
	rank                         struct{ motors, props, packs, frames, bodies []int }
	carried                      []load // by body
}

// load is what a body carries besides its frame.
type load struct {
	board             int
	boardKg, extrasKg float64
}

func (a load) order(b load) int {
	return cmp.Or(cmp.Compare(a.boardKg, b.boardKg), cmp.Compare(a.board, b.board), cmp.Compare(a.extrasKg, b.extrasKg))
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
	frameKg := make([]float64, len(s.Frames))
	for i, f := range s.Frames {
		frameKg[i] = f.Mass().Value
	}
	o.frames, o.rank.frames = sorted(len(s.Frames), func(a, b int) int { return cmp.Compare(frameKg[a], frameKg[b]) })
	o.carried = make([]load, len(s.Bodies))
	for i := range o.carried {
		o.carried[i] = loadOf(s, i)
	}
	o.bodies, o.rank.bodies = sorted(len(s.Bodies), func(a, b int) int {
		x, y := &s.Bodies[a], &s.Bodies[b]
		return cmp.Or(cmp.Compare(o.rank.frames[x.Frame], o.rank.frames[y.Frame]), o.carried[a].order(o.carried[b]))
	})
	o.fits = layFitSets(s, o)
	return o
}

// loadOf is what a body carries, with the first supply that it takes.
func loadOf(s *space.Space, body int) load {
	l := load{board: s.Bodies[body].Board}
	for v, with := range s.Bodies[body].With {
		if with != nil {
			si := &s.SI.Bodies[body][v]
			l.boardKg, l.extrasKg = si.Board.MassKg, si.ExtrasKg
			break
		}
	}
	return l
}

// bodyIn is the place of the body of a frame that carries what another does, or what comes next to that.
func (o *orders) bodyIn(frame int, like int32) int {
	span := o.fits.bodiesOf[frame]
	at, _ := slices.BinarySearchFunc(o.bodies[span[0]:span[1]], o.carried[like],
		func(body int, l load) int { return o.carried[body].order(l) })
	return min(span[0]+at, span[1]-1)
}

// span is the place of a candidate's gene, and how many places there are.
func (o *orders) span(c space.Candidate, g gene) (at, places int) {
	switch g {
	case motorGene:
		return o.rank.motors[c.Motor], len(o.motors)
	case propGene:
		return o.rank.props[c.Prop], len(o.props)
	case packGene:
		return o.rank.packs[c.Pack], len(o.packs)
	case frameGene:
		return o.rank.frames[o.space.Bodies[c.Body].Frame], len(o.frames)
	}
	span := o.fits.bodiesOf[o.space.Bodies[c.Body].Frame]
	return o.rank.bodies[c.Body] - span[0], span[1] - span[0]
}

// with is a candidate with another place of one gene, which may not fit.
func (o *orders) with(c space.Candidate, g gene, place int) space.Candidate {
	switch g {
	case motorGene:
		c.Motor = int32(o.motors[place])
	case propGene:
		c.Prop = int32(o.props[place])
	case packGene:
		c.Pack = int32(o.packs[place])
	case frameGene:
		c.Body = int32(o.bodies[o.bodyIn(o.frames[place], c.Body)])
	case boardGene:
		c.Body = int32(o.bodies[o.fits.bodiesOf[o.space.Bodies[c.Body].Frame][0]+place])
	}
	return c
}
