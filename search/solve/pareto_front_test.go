package solve

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Hypervolumes worked out by hand: one point is a box; two boxes overlap in a third; a beaten
// point adds nothing; a staircase in two axes with the others full.
func TestHypervolume(t *testing.T) {
	for _, c := range []struct {
		points []objective.Axes
		want   float64
	}{
		{nil, 0},
		{[]objective.Axes{{50, 50, 50, 50}}, 0.0625},
		{[]objective.Axes{{100, 50, 100, 100}, {50, 100, 100, 100}}, 0.75},
		{[]objective.Axes{{80, 80, 80, 80}, {10, 80, 70, 80}}, 0.4096},
		{[]objective.Axes{{20, 100, 100, 60}, {60, 100, 100, 20}, {40, 100, 100, 40}}, 0.2*0.6 + 0.2*0.4 + 0.2*0.2},
		{[]objective.Axes{{50, 60, 70, 80}, {60, 50, 80, 70}}, 2*0.5*0.6*0.7*0.8 - 0.5*0.5*0.7*0.7},
	} {
		if got := Hypervolume(c.points); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v cover %g, want %g", c.points, got, c.want)
		}
	}
}

// Independent: the front of points at random, of whole ones with ties and of others, is what comparing all pairs gives;
// what it covers within a gap is what comparing with every member gives.
func TestFrontAgainstAllPairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for round := range 60 {
		var front ParetoFront
		var all []space.Scored
		for i := range 1 + rng.IntN(600) {
			s := space.Scored{Candidate: space.Candidate{Motor: int32(rng.IntN(1000)), Prop: int32(i)}}
			for a := range s.Evaluation.Axes {
				switch round % 3 {
				case 0:
					s.Evaluation.Axes[a] = 100 * rng.Float64()
				case 1:
					s.Evaluation.Axes[a] = float64(20 * rng.IntN(6))
				case 2: // near the surface of a ball, where few beat others
					s.Evaluation.Axes[a] = 100 * math.Abs(rng.NormFloat64())
				}
			}
			if x := &s.Evaluation.Axes; round%3 == 2 {
				long := math.Sqrt(x[0]*x[0]+x[1]*x[1]+x[2]*x[2]+x[3]*x[3]) / 100
				for a := range x {
					x[a] /= long
				}
			}
			all = append(all, s)
			front.add(&s)
		}
		var want []space.Scored
		for i := range all {
			if !slices.ContainsFunc(all, func(o space.Scored) bool {
				x, y := &o.Evaluation.Axes, &all[i].Evaluation.Axes
				return x.Dominates(y) || *x == *y && o.Candidate.Compare(all[i].Candidate) < 0
			}) {
				want = append(want, all[i])
			}
		}
		slices.SortFunc(want, func(a, b space.Scored) int { return a.Order(&b) })
		if got := front.Sorted(); !slices.Equal(got, want) || front.len() != len(want) {
			t.Fatalf("round %d: %d members of %d points, all pairs leave %d", round, len(got), len(all), len(want))
		}
		for range 500 {
			var x objective.Axes
			gap := float64(rng.IntN(3)) * 5 * rng.Float64()
			near := &want[rng.IntN(len(want))].Evaluation.Axes
			for a := range x {
				x[a] = min(near[a]+gap*(1.1-rng.Float64()), 100)
			}
			covered := slices.ContainsFunc(want, func(s space.Scored) bool {
				y := &s.Evaluation.Axes
				return y[0]+gap >= x[0] && y[1]+gap >= x[1] && y[2]+gap >= x[2] && y[3]+gap >= x[3]
			})
			if front.covers(&x, gap) != covered {
				t.Fatalf("round %d: %v within %g: covered %v", round, x, gap, covered)
			}
		}
	}
}

// Independent: nothing that plain enumeration finds lies further beyond the front than the gap says, however soon the
// proof stops; and with no gap left the fronts are equal.
func TestFrontGapAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	ctx := context.Background()
	open, closed := 0, 0
	for seed := range uint64(synthetic.Of(60)) {
		s := laidOut(t, synthetic.Generate(7000+seed, synthetic.Sizes{7, 8, 12, 6, 4}, seed%2 == 0),
			objective.PresetNames()[seed%5])
		o := Options{Top: 5, Workers: 2}
		p, err := newProof(ctx, s, &o, 40)
		if err != nil || !p.start(ctx) || !p.run(ctx) {
			t.Fatal(err)
		}
		p.closeFront(ctx, 1+rng.Int64N(p.evaluations()/8+1))
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		for _, m := range plain.Front.members() {
			if !p.Front.covers(&m.Evaluation.Axes, p.FrontGap) {
				t.Fatalf("drawer %d: %v lies over %g beyond the front", seed, m.Evaluation.Axes, p.FrontGap)
			}
		}
		switch {
		case p.FrontGap > 0 && p.FrontGap < 100:
			open++
		case p.FrontGap == 0:
			closed++
			if p.Front.len() != plain.Front.len() {
				t.Fatalf("drawer %d: %d on the front, enumeration has %d", seed, p.Front.len(), plain.Front.len())
			}
		}
	}
	if open < synthetic.Of(15) || closed < synthetic.Of(9) {
		t.Errorf("%d gaps left open, %d closed", open, closed)
	}
}
