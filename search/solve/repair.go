package solve

import "partsaloft/search/space"

// repair turns any choice of motor, prop, pack and body into a candidate that fits, changing as
// little as it can: it keeps the gene held first, then takes for each of the others the part
// nearest to the wanted one that goes with those settled before. It returns false if the held part
// goes into no candidate.
func (o *orders) repair(want space.Candidate, held gene) (space.Candidate, bool) {
	s := o.space
	if s.FitsTogether(want) {
		return want, true
	}
	frames := o.framesFor(want, held)
	f := nearest(o.frames, o.rank.frames, s.Bodies[want.Body].Frame, frames)
	for f >= 0 {
		if c, ok := o.complete(want, held, f); ok {
			return c, true
		}
		// Rarely a frame takes the part but nothing that goes with it: try the next one.
		tried := f
		before := frames
		frames = func(g int) bool { return g != tried && before(g) }
		f = nearest(o.frames, o.rank.frames, s.Bodies[want.Body].Frame, frames)
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

// framesFor says which frames may take the held part.
func (o *orders) framesFor(want space.Candidate, held gene) func(int) bool {
	s := o.space
	fit := &s.Compatible
	switch held {
	case motorGene:
		return func(f int) bool {
			return fit.Motors[f].Has(int(want.Motor)) && fit.Props[want.Motor].Meets(fit.PropsOf[f]) &&
				fit.Packs[want.Motor].Meets(fit.PacksOf[f])
		}
	case propGene:
		return func(f int) bool { return fit.PropsOf[f].Has(int(want.Prop)) && !fit.PacksOf[f].Empty() }
	case packGene:
		return func(f int) bool { return fit.PacksOf[f].Has(int(want.Pack)) }
	}
	frame := s.Bodies[want.Body].Frame
	return func(f int) bool { return f == frame }
}

// complete fills in the genes for a frame, the held one first.
func (o *orders) complete(want space.Candidate, held gene, f int) (space.Candidate, bool) {
	s := o.space
	fit := &s.Compatible
	bodyTakes := func(pack int) bool { return held != bodyGene || s.Bodies[want.Body].With[s.SupplyOf[pack]] != nil }
	motor := nearest(o.motors, o.rank.motors, int(want.Motor), func(m int) bool {
		switch {
		case held == motorGene && m != int(want.Motor), !fit.Motors[f].Has(m), !fit.Packs[m].Meets(fit.PacksOf[f]):
			return false
		case held == propGene && !fit.Props[m].Has(int(want.Prop)), held == packGene && !fit.Packs[m].Has(int(want.Pack)):
			return false
		case held == bodyGene && fit.Packs[m].Each(fit.PacksOf[f], func(k int) bool { return !bodyTakes(k) }):
			return false
		}
		return fit.Props[m].Meets(fit.PropsOf[f])
	})
	if motor < 0 {
		return want, false
	}
	prop := nearest(o.props, o.rank.props, int(want.Prop),
		func(p int) bool { return fit.Props[motor].Has(p) && fit.PropsOf[f].Has(p) })
	pack := nearest(o.packs, o.rank.packs, int(want.Pack), func(k int) bool {
		return fit.Packs[motor].Has(k) && fit.PacksOf[f].Has(k) && bodyTakes(k)
	})
	if prop < 0 || pack < 0 {
		return want, false
	}
	supply := s.SupplyOf[pack]
	body := nearest(o.bodies, o.rank.bodies, int(want.Body),
		func(b int) bool { return s.Bodies[b].Frame == f && s.Bodies[b].With[supply] != nil })
	if body < 0 {
		return want, false
	}
	return space.NewCandidate(motor, prop, pack, body), true
}
