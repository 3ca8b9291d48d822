package solve

import (
	"context"
	"math/rand/v2"
	"testing"

	"partsaloft/objective"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Property: a spread list is the greedy choice from all feasible candidates in order, whether by
// enumeration or by proof, and no two of it are alike.
func TestSpreadAgainstGreedy(t *testing.T) {
	rng, twins := rand.New(rand.NewPCG(21, 22)), rand.New(rand.NewPCG(25, 26))
	ctx := context.Background()
	compared := 0
	for seed := range uint64(synthetic.Of(160)) {
		style := objective.PresetNames()[seed%4]
		d := synthetic.Generate(3000+seed, synthetic.Small(rng), seed%2 == 0)
		synthetic.AddTwins(d, twins)
		s := laidOut(t, d, style)
		o := Options{Top: 1 + int(seed%5), Workers: 2, Spread: true}
		all := Incumbents{Best: topN{N: 1 << 20}}
		Enumerate(ctx, s, &o, &all)
		want := Diverse(s, all.Best.List, o.Top)
		for i := range want {
			for j := range want[:i] {
				if s.Group(want[i].Candidate).Similar(s.Group(want[j].Candidate)) {
					t.Fatalf("%v and %v are alike", want[i], want[j])
				}
			}
		}
		p, err := proveFrom(ctx, s, &o, 40)
		if err != nil || !p.Whole {
			t.Fatal(err)
		}
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		for name, got := range map[string][]space.Scored{"proof": p.Picks.List,
			"enumeration": Diverse(s, plain.Groups.Sorted(), o.Top)} {
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
	if compared < synthetic.Of(30) {
		t.Errorf("only %d lists of more than one", compared)
	}
}

// Property: after a proof the best on each axis is the best of all feasible candidates there.
func TestChampionsAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	ctx := context.Background()
	for seed := range uint64(synthetic.Of(60)) {
		s := laidOut(t, synthetic.Generate(4000+seed, synthetic.Small(rng), seed%2 == 0), objective.PresetNames()[seed%4])
		o := Options{Top: 3, Workers: 2}
		var plain Incumbents
		Enumerate(ctx, s, &o, &plain)
		p, err := proveFrom(ctx, s, &o, 40)
		if err != nil {
			t.Fatal(err)
		}
		for a := range plain.Champions {
			if got, want := p.Champions[a].Evaluation.Axes[a], plain.Champions[a].Evaluation.Axes[a]; got != want {
				t.Errorf("drawer %d, %s: %g, enumeration %g", seed, objective.Axis(a), got, want)
			}
		}
	}
}
