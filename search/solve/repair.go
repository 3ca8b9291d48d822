package solve

import (
	"math/bits"

	"partsaloft/search/space"
)

// gene is one of the choices of a candidate.
type gene int

const (
	motorGene gene = iota
	propGene
	packGene
	frameGene
	boardGene // with its extras
	genes
)

// fitSets say which parts go together, as bitsets over places in the orders of physics, so that the part nearest to a
// wanted one is found by a scan of words. A motor, prop or supply is held against a frame as a whole: what the sets of
// a frame hold goes into some candidate with it.
type fitSets struct {
	motorsIn, propsIn   []space.Bitset // by frame
	suppliesIn          [][]int        // by frame: those that some body takes
	propsOf             []space.Bitset // by motor
	suppliesOf          []space.Bitset // by motor
	motorsOf, motorsAt  []space.Bitset // by prop, by supply
	packsAt, bodiesAt   []space.Bitset // by supply
	framesOf, framesFor []space.Bitset // by motor, by prop
	framesAt            []space.Bitset // by supply
	bodiesOf            [][2]int       // by frame: its first place in the order of bodies and one past the last
	usable              [genes][]int   // motors, props, packs and, of boards, bodies that go into some candidate
}

func newSets(n, members int) []space.Bitset {
	list := make([]space.Bitset, n)
	for i := range list {
		list[i] = space.NewBitset(members)
	}
	return list
}

func layFitSets(s *space.Space, o *orders) *fitSets {
	fit := &s.Compatible
	nm, np, nf, nv := len(s.Motors), len(s.Props), len(s.Frames), len(s.Supplies)
	t := &fitSets{
		motorsIn: newSets(nf, nm), propsIn: newSets(nf, np), suppliesIn: make([][]int, nf),
		propsOf: newSets(nm, np), suppliesOf: newSets(nm, nv), motorsOf: newSets(np, nm), motorsAt: newSets(nv, nm),
		packsAt: newSets(nv, len(s.Packs)), bodiesAt: newSets(nv, len(s.Bodies)),
		framesOf: newSets(nm, nf), framesFor: newSets(np, nf), framesAt: newSets(nv, nf),
		bodiesOf: make([][2]int, nf),
	}
	for m := range s.Motors {
		fit.Props[m].Each(nil, func(p int) bool {
			t.propsOf[m].Add(o.rank.props[p])
			t.motorsOf[p].Add(o.rank.motors[m])
			return true
		})
		fit.Packs[m].Each(nil, func(k int) bool {
			t.suppliesOf[m].Add(s.SupplyOf[k])
			t.motorsAt[s.SupplyOf[k]].Add(o.rank.motors[m])
			return true
		})
	}
	for k, v := range s.SupplyOf {
		t.packsAt[v].Add(o.rank.packs[k])
	}
	for b := range s.Bodies {
		for v, with := range s.Bodies[b].With {
			if with != nil {
				t.bodiesAt[v].Add(o.rank.bodies[b])
			}
		}
	}
	first := 0
	for _, f := range o.frames {
		t.bodiesOf[f] = [2]int{first, first + s.BodyOf[f][1] - s.BodyOf[f][0]}
		first = t.bodiesOf[f][1]
		t.layFrame(s, o, f)
	}
	t.layUsable(s)
	return t
}

// layUsable lists the parts that go into some candidate.
func (t *fitSets) layUsable(s *space.Space) {
	for m := range s.Motors {
		if !t.framesOf[m].Empty() {
			t.usable[motorGene] = append(t.usable[motorGene], m)
		}
	}
	for p := range s.Props {
		if !t.framesFor[p].Empty() {
			t.usable[propGene] = append(t.usable[propGene], p)
		}
	}
	for k, v := range s.SupplyOf {
		if !t.framesAt[v].Empty() {
			t.usable[packGene] = append(t.usable[packGene], k)
		}
	}
	for b := range s.Bodies {
		for v, with := range s.Bodies[b].With {
			if with != nil && t.motorsIn[s.Bodies[b].Frame].Meets(t.motorsAt[v]) {
				t.usable[boardGene] = append(t.usable[boardGene], b)
				break
			}
		}
	}
}

// layFrame fills in what goes with a frame.
func (t *fitSets) layFrame(s *space.Space, o *orders, f int) {
	fit, at := &s.Compatible, o.rank.frames[f]
	taken := space.NewBitset(len(s.Supplies))
	fit.PacksOf[f].Each(nil, func(k int) bool { taken.Add(s.SupplyOf[k]); return true })
	fit.Motors[f].Each(nil, func(m int) bool {
		if fit.Props[m].Meets(fit.PropsOf[f]) && t.suppliesOf[m].Meets(taken) {
			t.motorsIn[f].Add(o.rank.motors[m])
			t.framesOf[m].Add(at)
		}
		return true
	})
	fit.PropsOf[f].Each(nil, func(p int) bool {
		t.propsIn[f].Add(o.rank.props[p])
		if t.motorsIn[f].Meets(t.motorsOf[p]) {
			t.framesFor[p].Add(at)
		}
		return true
	})
	taken.Each(nil, func(v int) bool {
		t.suppliesIn[f] = append(t.suppliesIn[f], v)
		if t.motorsIn[f].Meets(t.motorsAt[v]) {
			t.framesAt[v].Add(at)
		}
		return true
	})
}

// repair turns any choice of motor, prop, pack and body into a candidate that fits, changing as
// little as it can: it keeps the gene held first, takes the nearest frame that goes with it, then for each of the
// others the part nearest to the wanted one that goes with those settled before; of bodies the one that carries what is
// most like it. It returns false if the held part
// goes into no candidate.
func (o *orders) repair(want space.Candidate, held gene) (space.Candidate, bool) {
	s, t := o.space, o.fits
	if s.FitsTogether(want) {
		return want, true
	}
	f := s.Bodies[want.Body].Frame
	frames := [...][]space.Bitset{motorGene: t.framesOf, propGene: t.framesFor, packGene: t.framesAt}
	if held < frameGene {
		of := [...]int{motorGene: int(want.Motor), propGene: int(want.Prop), packGene: s.SupplyOf[want.Pack]}[held]
		at := nearest(o.rank.frames[f], 0, len(o.frames), frames[held][of], nil)
		if at < 0 {
			return want, false
		}
		f = o.frames[at]
	}
	motor := o.motorIn(f, want, held)
	if motor < 0 {
		return want, false
	}
	prop := o.props[nearest(o.rank.props[want.Prop], 0, len(o.props), t.propsOf[motor], t.propsIn[f])]
	if held == propGene {
		prop = int(want.Prop)
	}
	pack := int(want.Pack)
	if held != packGene {
		pack = o.packIn(f, motor, want, held)
	}
	body := nearest(o.bodyIn(f, want.Body), t.bodiesOf[f][0], t.bodiesOf[f][1], t.bodiesAt[s.SupplyOf[pack]], nil)
	return space.NewCandidate(motor, prop, pack, o.bodies[body]), true
}

// motorIn is the motor nearest to the wanted one that goes with a frame and what is held; −1 if there is none.
func (o *orders) motorIn(f int, want space.Candidate, held gene) int {
	s, t := o.space, o.fits
	at, best := o.rank.motors[want.Motor], -1
	switch held {
	case motorGene:
		return int(want.Motor)
	case propGene:
		best = nearest(at, 0, len(o.motors), t.motorsIn[f], t.motorsOf[want.Prop])
	case packGene:
		best = nearest(at, 0, len(o.motors), t.motorsIn[f], t.motorsAt[s.SupplyOf[want.Pack]])
	case frameGene:
		best = nearest(at, 0, len(o.motors), t.motorsIn[f], nil)
	case boardGene:
		for v, with := range s.Bodies[want.Body].With {
			if with != nil {
				best = nearer(at, best, nearest(at, 0, len(o.motors), t.motorsIn[f], t.motorsAt[v]))
			}
		}
	}
	if best < 0 {
		return -1
	}
	return o.motors[best]
}

// packIn is the pack nearest to the wanted one that goes with a frame, a motor that has one there, and a body that
// is held.
func (o *orders) packIn(f, motor int, want space.Candidate, held gene) int {
	s, t := o.space, o.fits
	at, best := o.rank.packs[want.Pack], -1
	for _, v := range t.suppliesIn[f] {
		if t.suppliesOf[motor].Has(v) && (held != boardGene || s.Bodies[want.Body].With[v] != nil) {
			best = nearer(at, best, nearest(at, 0, len(o.packs), t.packsAt[v], nil))
		}
	}
	return o.packs[best]
}

// nearer is which of two places is nearer to a third, the lower one of two; −1 is none.
func nearer(at, a, b int) int {
	switch {
	case a < 0:
		return b
	case b < 0:
		return a
	}
	da, db := max(at-a, a-at), max(at-b, b-at)
	if da < db || da == db && a < b {
		return a
	}
	return b
}

// nearest is the place nearest to another, from first to before end, that is in both sets, the lower one of two; a nil
// set holds everything, −1 is none.
func nearest(at, first, end int, a, b space.Bitset) int {
	word := func(i int) uint64 {
		if b == nil {
			return a[i]
		}
		return a[i] & b[i]
	}
	at = min(max(at, first), end-1)
	below, above := -1, -1
	for i := at / 64; i >= first/64; i-- {
		w := word(i)
		if i == at/64 {
			w &= 2<<(at%64) - 1
		}
		if w != 0 {
			if below = i*64 + 63 - bits.LeadingZeros64(w); below < first {
				below = -1
			}
			break
		}
	}
	for i := at / 64; i <= (end-1)/64; i++ {
		w := word(i)
		if i == at/64 {
			w &^= 1<<(at%64) - 1
		}
		if w != 0 {
			if above = i*64 + bits.TrailingZeros64(w); above >= end {
				above = -1
			}
			break
		}
	}
	return nearer(at, below, above)
}
