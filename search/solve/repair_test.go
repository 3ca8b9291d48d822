package solve

import (
	"math/rand/v2"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
	"testing"
)

// Property: whatever is asked for, repair gives a candidate that fits and holds the held gene, or
// says that the held part fits nowhere.
func TestRepair(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for seed := range uint64(40) {
		s := laidOut(t, synthetic.Generate(seed, synthetic.Small(rng), seed%2 == 0), "cruise")
		if s.Fitted == 0 {
			continue
		}
		fitsSomewhere := map[gene]map[int32]bool{}
		at := func(c space.Candidate, g gene) int32 { return [...]int32{c.Motor, c.Prop, c.Pack, c.Body}[g] }
		s.Each(func(c space.Candidate) bool {
			for g := range genes {
				if fitsSomewhere[g] == nil {
					fitsSomewhere[g] = map[int32]bool{}
				}
				fitsSomewhere[g][at(c, g)] = true
			}
			return true
		})
		o := layOrders(s)
		for range 200 {
			want := space.NewCandidate(rng.IntN(len(s.Motors)), rng.IntN(len(s.Props)), rng.IntN(len(s.Packs)),
				rng.IntN(len(s.Bodies)))
			held := gene(rng.IntN(int(genes)))
			got, ok := o.repair(want, held)
			if ok != fitsSomewhere[held][at(want, held)] {
				t.Fatalf("drawer %d: repairing %v holding %d: %v", seed, want, held, ok)
			}
			if ok && (!s.FitsTogether(got) || at(got, held) != at(want, held)) {
				t.Fatalf("drawer %d: %v became %v, holding %d", seed, want, got, held)
			}
		}
	}
}
