package search

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
)

// Property: a spread list is the greedy choice from all feasible candidates in order, whether by
// enumeration or by proof, and no two of it are alike.
func TestSpreadAgainstGreedy(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	ctx := context.Background()
	compared := 0
	for seed := range uint64(120) {
		style := objective.PresetNames()[seed%4]
		s := space(t, generate(3000+seed, small(rng), seed%2 == 0), style)
		o := Options{Top: 1 + int(seed%5), Workers: 2, Spread: true}
		all := tally{best: best{n: 1 << 20}}
		s.plain(ctx, &o, &all)
		want := spreadOut(all.best.list, o.Top)
		for i := range want {
			for j := range want[:i] {
				if want[i].candidate.alike(want[j].candidate) {
					t.Fatalf("%v and %v are alike", want[i], want[j])
				}
			}
		}
		p, err := s.proveFrom(ctx, &o, 40)
		if err != nil || !p.whole {
			t.Fatal(err)
		}
		plain := tally{triples: triples{}}
		s.plain(ctx, &o, &plain)
		for name, got := range map[string][]scored{"proof": p.picks.list, "enumeration": spreadOut(plain.triples.sorted(), o.Top)} {
			if len(got) != len(want) {
				t.Fatalf("drawer %d, %s: %d picked, greedy picks %d", seed, name, len(got), len(want))
			}
			for i := range want {
				if got[i] != want[i] {
					t.Fatalf("drawer %d, %s, place %d: %v, greedy %v", seed, name, i+1, got[i], want[i])
				}
			}
		}
		if len(want) > 1 {
			compared++
		}
	}
	if compared < 30 {
		t.Errorf("only %d lists of more than one", compared)
	}
}

// Property: after a proof the best on each axis is the best of all feasible candidates there.
func TestChampionsAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	ctx := context.Background()
	for seed := range uint64(60) {
		s := space(t, generate(4000+seed, small(rng), seed%2 == 0), objective.PresetNames()[seed%4])
		o := Options{Top: 3, Workers: 2}
		var plain tally
		s.plain(ctx, &o, &plain)
		p, err := s.proveFrom(ctx, &o, 40)
		if err != nil {
			t.Fatal(err)
		}
		for a := range plain.champion {
			if got, want := p.champion[a].verdict.Axes[a], plain.champion[a].verdict.Axes[a]; got != want {
				t.Errorf("drawer %d, %s: %g, enumeration %g", seed, objective.Axis(a), got, want)
			}
		}
	}
}

// The wish for something new: without a fleet it changes nothing; at full weight the list is in the
// order of how unlike the fleet it is; a craft of the fleet itself comes last.
func TestNovel(t *testing.T) {
	d := club(t)
	plain := search(t, space(t, d, "freestyle"), Options{Top: 3, Draws: 2})
	best := plain.Best[0].Combination
	d.Fleet = []inventory.FleetCraft{{Name: "Finch", Parts: best.Parts()}}
	s := space(t, d, "freestyle")
	r := search(t, s, Options{Top: 5, Draws: 2, Novel: 0.4})
	if r.Best[0].Combination.Key() == best.Key() {
		t.Error("the craft that flies already is first")
	}
	last := 1e9
	for i := range r.Best {
		b := &r.Best[i]
		if now := preferred(b.Verdict.Score, 0.4, b.Unlike); now > last || !strings.Contains(b.UnlikeText, "your Finch") {
			t.Errorf("place %d: %g after %g, %s", i+1, now, last, b.UnlikeText)
		} else {
			last = now
		}
	}
	result := s.predict(best, s.si.propellers[0])
	result.Performance = plain.Best[0].Performance
	result.setUnlike(s.flyingFleet(), 1)
	if result.Unlike > 1e-9 || result.UnlikeText != "much like your Finch" {
		t.Errorf("the fleet's own craft is unlike it by %g: %s", result.Unlike, result.UnlikeText)
	}
	d.Fleet = nil
	bare := search(t, space(t, d, "freestyle"), Options{Top: 3, Draws: 2, Novel: 0.4})
	for i := range bare.Best {
		if bare.Best[i].Combination.Key() != plain.Best[i].Combination.Key() {
			t.Errorf("without a fleet place %d changes", i+1)
		}
	}
	if _, err := s.Search(context.Background(), Options{Novel: 2}); err == nil {
		t.Error("a weight of 2 is taken")
	}
}
