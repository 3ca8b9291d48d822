package solve

import (
	"context"
	"math/rand/v2"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Independent: with everything corrected, a candidate put together from tables is the craft that
// its combination converts to, and branch and bound gives what plain enumeration gives.
func TestLearnedInTheSearch(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	ctx := context.Background()
	compared := 0
	for seed := range uint64(40) {
		d := synthetic.Generate(4000+seed, synthetic.Small(rng), seed%2 == 0)
		synthetic.Correct(d, rng)
		s := laidOut(t, d, objective.PresetNames()[seed%5])
		s.Each(func(c space.Candidate) bool {
			made := s.Combination(c)
			want, err := made.Craft(s.Propeller(c))
			if err != nil {
				t.Fatal(err)
			}
			got := s.Craft(c)
			got.Uncertainty, want.Uncertainty = uncertain.Budget{}, uncertain.Budget{}
			got.Known = nil
			if got != want {
				t.Fatalf("%s:\n%+v\n%+v", made.Key(), got, want)
			}
			return rng.IntN(20) > 0
		})
		o := Options{Top: 3, Workers: 2}
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		p, err := proveFrom(ctx, s, &o, 40)
		if err != nil || !p.Whole {
			t.Fatal(err)
		}
		if len(p.Best.List) != len(plain.Best.List) {
			t.Fatalf("drawer %d: %d found, enumeration has %d", seed, len(p.Best.List), len(plain.Best.List))
		}
		for i := range plain.Best.List {
			compared++
			if p.Best.List[i] != plain.Best.List[i] {
				t.Fatalf("drawer %d, place %d: %+v, enumeration has %+v", seed, i+1, p.Best.List[i], plain.Best.List[i])
			}
		}
	}
	if compared < 30 {
		t.Errorf("only %d places compared", compared)
	}
}
