package solve

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// byHand are the n best groups of a space, from a list of all feasible candidates in order.
func byHand(s *space.Space, n int) []space.Scored {
	var all []space.Scored
	s.Each(func(c space.Candidate) bool {
		if scored := s.Evaluate(c); scored.Evaluation.Feasible() {
			all = append(all, scored)
		}
		return true
	})
	slices.SortFunc(all, func(a, b space.Scored) int { return a.Order(&b) })
	seen := map[space.Group]bool{}
	var rows []space.Scored
	for _, scored := range all {
		if g := s.Group(scored.Candidate); !seen[g] && len(rows) < n {
			seen[g] = true
			rows = append(rows, scored)
		}
	}
	return rows
}

// Independent: enumeration, branch and bound and the genetic search list the best of the best groups as a sorted
// list of everything has them, on random drawers with twin packs.
func TestMethodsAgreeOnGroups(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	ctx := context.Background()
	rows, shared, skipped := 0, 0, int64(0)
	for seed := range uint64(synthetic.Of(150)) {
		d := synthetic.Generate(7000+seed, synthetic.Small(rng), seed%2 == 0)
		synthetic.AddTwins(d, rng)
		s := laidOut(t, d, objective.PresetNames()[seed%4])
		o := Options{Top: 1 + int(seed%8), Workers: 2, Seed: seed, MaxEvals: s.Fitted}
		want := byHand(s, o.Top)
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		proof, err := proveFrom(ctx, s, &o, 40)
		if err != nil || !proof.Whole {
			t.Fatal(err)
		}
		archive, err := Genetic(ctx, s, &o)
		if err != nil {
			t.Fatal(err)
		}
		found := map[string][]space.Scored{"enumeration": plain.Best.List, "proof": proof.Best.List}
		if int64(len(archive.Known)) == s.Fitted {
			found["genetic search of everything"] = archive.Best.List
		}
		for name, got := range found {
			if !slices.Equal(got, want) {
				t.Fatalf("drawer %d, %s: %v, by hand %v", seed, name, got, want)
			}
		}
		rows, skipped = rows+len(want), skipped+s.Fitted-proof.Evaluated
		for i := range want {
			members := 0
			for range s.Members(s.Group(want[i].Candidate)) {
				members++
			}
			if members > 1 {
				shared++
			}
		}
	}
	if rows < synthetic.Of(150) || 2*shared < rows || skipped == 0 {
		t.Errorf("%d rows, %d of them with variants, %d candidates skipped", rows, shared, skipped)
	}
}

// The genetic search finds the best groups of a drawer that it cannot look at whole.
func TestGeneticFindsBestGroups(t *testing.T) {
	d := synthetic.Generate(7500, synthetic.Sizes{12, 14, 12, 6, 5}, true)
	synthetic.AddTwins(d, rand.New(rand.NewPCG(43, 44)))
	for n, style := range objective.PresetNames() {
		if n >= synthetic.Of(4) {
			break
		}
		s := laidOut(t, d, style)
		o := Options{Top: 3, Workers: 2, Seed: 3, MaxEvals: s.Fitted / 4}
		want := byHand(s, o.Top)
		archive, err := Genetic(context.Background(), s, &o)
		if err != nil {
			t.Fatal(err)
		}
		if len(want) < o.Top || !slices.Equal(archive.Best.List, want) {
			t.Errorf("%s: %v after %d of %d, by hand %v", style, archive.Best.List, len(archive.Known), s.Fitted, want)
		}
	}
}
