package solve

import (
	"math/rand/v2"
	"testing"

	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// repairByTrial is repair the plain way: among all candidates that fit and hold the held part, the one whose frame,
// then motor, then prop, then pack is nearest to what is wanted, and which carries what is most like it: of the bodies of
// its frame by what they carry, the nearest to the first that carries no less.
func repairByTrial(o *orders, all []space.Candidate, want space.Candidate, held gene) (space.Candidate, bool) {
	s := o.space
	for _, c := range all {
		if c == want {
			return want, true
		}
	}
	apart := func(want, got int) int {
		if d := got - want; d > 0 {
			return 2 * d
		} else if d < 0 {
			return -2*d - 1 // the lower one of two
		}
		return 0
	}
	distance := func(rank []int, want, got int) int { return apart(rank[want], rank[got]) }
	bodies := func(want, got int32) int {
		carriesLess, last := 0, -1
		for b := range s.Bodies {
			if s.Bodies[b].Frame == s.Bodies[got].Frame {
				last++
				if o.carried[b].order(o.carried[want]) < 0 {
					carriesLess++
				}
			}
		}
		first := o.rank.bodies[s.BodyOf[s.Bodies[got].Frame][0]]
		for b := s.BodyOf[s.Bodies[got].Frame][0]; b < s.BodyOf[s.Bodies[got].Frame][1]; b++ {
			first = min(first, o.rank.bodies[b])
		}
		return apart(first+min(carriesLess, last), o.rank.bodies[got])
	}
	var best space.Candidate
	var least [5]int
	found := false
	for _, c := range all {
		if genesOf(s, c)[held] != genesOf(s, want)[held] {
			continue
		}
		d := [5]int{
			distance(o.rank.frames, s.Bodies[want.Body].Frame, s.Bodies[c.Body].Frame),
			distance(o.rank.motors, int(want.Motor), int(c.Motor)), distance(o.rank.props, int(want.Prop), int(c.Prop)),
			distance(o.rank.packs, int(want.Pack), int(c.Pack)), bodies(want.Body, c.Body),
		}
		less := !found
		for i := 0; i < len(d) && found; i++ {
			if d[i] != least[i] {
				less = d[i] < least[i]
				break
			}
		}
		if less {
			best, least, found = c, d, true
		}
	}
	return best, found
}

// genesOf are the parts of each gene; a body stands for its board, and for its frame.
func genesOf(s *space.Space, c space.Candidate) [genes]int32 {
	return [...]int32{c.Motor, c.Prop, c.Pack, int32(s.Bodies[c.Body].Frame), c.Body}
}

func whole(s *space.Space) []space.Candidate {
	var all []space.Candidate
	s.Each(func(c space.Candidate) bool { all = append(all, c); return true })
	return all
}

// Independent: whatever is asked for, repair gives the candidate that a search of all that fit finds nearest, or says
// that the held part fits nowhere.
func TestRepair(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	repaired, refused := 0, 0
	for seed := range uint64(40) {
		s := laidOut(t, synthetic.Generate(seed, synthetic.Small(rng), seed%2 == 0), "cruise")
		if s.Fitted == 0 {
			continue
		}
		all, o := whole(s), layOrders(s)
		for range 200 {
			want := space.NewCandidate(rng.IntN(len(s.Motors)), rng.IntN(len(s.Props)), rng.IntN(len(s.Packs)),
				rng.IntN(len(s.Bodies)))
			held := gene(rng.IntN(int(genes)))
			got, ok := o.repair(want, held)
			near, there := repairByTrial(o, all, want, held)
			if ok != there || ok && got != near {
				t.Fatalf("drawer %d: repairing %v holding %d gives %v, %v; by trial %v, %v", seed, want, held, got, ok, near, there)
			}
			if ok {
				repaired++
			} else {
				refused++
			}
		}
	}
	if repaired < 2000 || refused < 200 {
		t.Errorf("%d repaired, %d refused", repaired, refused)
	}
}

// Independent: the nearest place is the one that a scan outwards meets first.
func TestNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 11))
	for range 20_000 {
		n := 1 + rng.IntN(200)
		a, b := space.NewBitset(n), space.NewBitset(n)
		for i := range n {
			if rng.IntN(20) == 0 {
				a.Add(i)
			}
			if rng.IntN(3) > 0 {
				b.Add(i)
			}
		}
		first := rng.IntN(n)
		end := first + 1 + rng.IntN(n-first)
		at, want := rng.IntN(n), -1
		in := func(i int) bool { return i >= first && i < end && a.Has(i) && b.Has(i) }
		for d := 0; d < n && want < 0; d++ {
			switch {
			case in(at - d):
				want = at - d
			case in(at + d):
				want = at + d
			}
		}
		if got := nearest(at, first, end, a, b); got != want {
			t.Fatalf("nearest to %d of %v and %v in [%d, %d): %d, not %d", at, a, b, first, end, got, want)
		}
	}
}

// Property: steps of one gene anywhere, repaired, lead from any candidate that fits to any other, so that mutation
// leaves nothing out of reach.
func TestMutationReachesEverything(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	drawers := 0
	for seed := range uint64(synthetic.Of(60)) {
		s := laidOut(t, synthetic.Generate(500+seed, synthetic.Small(rng), seed%2 == 0), "cruise")
		if s.Fitted < 2 || s.Fitted > 2000 {
			continue
		}
		drawers++
		o, all := layOrders(s), whole(s)
		start := all[rng.IntN(len(all))]
		reached, queue := map[space.Candidate]bool{start: true}, []space.Candidate{start}
		for len(queue) > 0 {
			from := queue[0]
			queue = queue[1:]
			for g := range genes {
				_, places := o.span(from, g)
				for i := range places {
					if c, ok := o.repair(o.with(from, g, i), g); ok && !reached[c] {
						reached[c] = true
						queue = append(queue, c)
					}
				}
			}
		}
		if len(reached) != len(all) {
			t.Errorf("drawer %d: %d of %d reached from %v", seed, len(reached), len(all), start)
		}
	}
	if drawers < synthetic.Of(20) {
		t.Errorf("only %d drawers", drawers)
	}
}
