package search

// repair turns any choice of motor, prop, pack and body into a candidate that fits, changing as
// little as it can: it keeps the gene held first, then takes for each of the others the part
// nearest to the wanted one that goes with those settled before. It returns false if the held part
// goes into no candidate.
func (s *Space) repair(o *orders, want candidate, held gene) (candidate, bool) {
	if s.fitsTogether(want) {
		return want, true
	}
	frames := s.framesFor(want, held)
	f := nearest(o.frames, o.rank.frames, s.bodies[want.body].frame, frames)
	for f >= 0 {
		if c, ok := s.settle(o, want, held, f); ok {
			return c, true
		}
		// Rarely a frame takes the part but nothing that goes with it: try the next one.
		tried := f
		before := frames
		frames = func(g int) bool { return g != tried && before(g) }
		f = nearest(o.frames, o.rank.frames, s.bodies[want.body].frame, frames)
	}
	return want, false
}

// gene is one of the choices of a candidate.
type gene int

const (
	motorGene gene = iota
	propGene
	packGene
	bodyGene
	genes
)

func (s *Space) fitsTogether(c candidate) bool {
	f := s.bodies[c.body].frame
	return s.fit.motors[f].has(int(c.motor)) && s.fit.props[c.motor].has(int(c.prop)) && s.fit.propsOf[f].has(int(c.prop)) &&
		s.fit.packs[c.motor].has(int(c.pack)) && s.bodies[c.body].with[s.supplyOf[c.pack]] != nil
}

// framesFor says which frames may take the held part.
func (s *Space) framesFor(want candidate, held gene) func(int) bool {
	fit := &s.fit
	switch held {
	case motorGene:
		return func(f int) bool {
			return fit.motors[f].has(int(want.motor)) && fit.props[want.motor].meets(fit.propsOf[f]) && fit.packs[want.motor].meets(fit.packsOf[f])
		}
	case propGene:
		return func(f int) bool { return fit.propsOf[f].has(int(want.prop)) && !fit.packsOf[f].empty() }
	case packGene:
		return func(f int) bool { return fit.packsOf[f].has(int(want.pack)) }
	}
	frame := s.bodies[want.body].frame
	return func(f int) bool { return f == frame }
}

// settle fills in the genes for a frame, the held one first.
func (s *Space) settle(o *orders, want candidate, held gene, f int) (candidate, bool) {
	fit := &s.fit
	bodyTakes := func(pack int) bool { return held != bodyGene || s.bodies[want.body].with[s.supplyOf[pack]] != nil }
	motor := nearest(o.motors, o.rank.motors, int(want.motor), func(m int) bool {
		switch {
		case held == motorGene && m != int(want.motor), !fit.motors[f].has(m), !fit.packs[m].meets(fit.packsOf[f]):
			return false
		case held == propGene && !fit.props[m].has(int(want.prop)), held == packGene && !fit.packs[m].has(int(want.pack)):
			return false
		case held == bodyGene && fit.packs[m].each(fit.packsOf[f], func(k int) bool { return !bodyTakes(k) }):
			return false
		}
		return fit.props[m].meets(fit.propsOf[f])
	})
	if motor < 0 {
		return want, false
	}
	prop := nearest(o.props, o.rank.props, int(want.prop), func(p int) bool { return fit.props[motor].has(p) && fit.propsOf[f].has(p) })
	pack := nearest(o.packs, o.rank.packs, int(want.pack), func(k int) bool {
		return fit.packs[motor].has(k) && fit.packsOf[f].has(k) && bodyTakes(k)
	})
	if prop < 0 || pack < 0 {
		return want, false
	}
	supply := s.supplyOf[pack]
	body := nearest(o.bodies, o.rank.bodies, int(want.body), func(b int) bool { return s.bodies[b].frame == f && s.bodies[b].with[supply] != nil })
	if body < 0 {
		return want, false
	}
	return candidate{int32(motor), int32(prop), int32(pack), int32(body)}, true
}
