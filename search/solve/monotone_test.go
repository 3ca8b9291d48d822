package solve

import (
	"context"
	"math/rand/v2"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Property: the figures of every member of random branches lie in the branch's range, for every figure that has one.
func TestOuterRangesHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	var all figure.Set
	tried := map[figure.Quantity]int{}
	for q := range figure.Count {
		if _, ok := monotones(q); ok {
			all |= figure.SetOf(q)
		}
	}
	for seed := range uint64(synthetic.Of(120)) {
		d := synthetic.Generate(7000+seed, synthetic.Sizes{3, 3, 5 + rng.IntN(4), 2 + rng.IntN(3), 2 + rng.IntN(3)}, true)
		p := problem(t, d, objective.PresetNames()[seed%5])
		if seed%2 == 0 {
			p.Style = anyStyle(rng)
		}
		s, err := space.New(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		f, err := layRootNodes(s)
		if err != nil {
			t.Fatal(err)
		}
		x := newBounder(s)
		for i := range f.roots {
			if rng.IntN(4) > 0 {
				continue
			}
			n := node{root: int32(i)}
			for rng.IntN(2) == 0 && sizeOf(f, &n) > 2 {
				n = f.split(&n)[rng.IntN(2)]
			}
			b := f.branch(&n)
			light, poor := x.corner(&b, lightEnd), x.corner(&b, poorEnd)
			best, worst := light.EvaluateOnly(&p.Style.Flying, all), poor.EvaluateOnly(&p.Style.Flying, all)
			r := relaxation{light: &best, poor: &worst, mass: poor.MassKg() / light.MassKg(), ohm: x.ohmRatio(&b),
				spareA: x.spareA(&b)}
			eachUnder(f, &n, func(c space.Candidate) {
				craft := s.Craft(c)
				got := craft.EvaluateOnly(&p.Style.Flying, all)
				if !got.Hovers() {
					return
				}
				for q := range figure.Count {
					if !all.Has(1 << q) {
						continue
					}
					value, why := got.Get(q)
					if why != physics.Defined {
						continue
					}
					tried[q]++
					made := s.Combination(c)
					if o := r.outer(q); value < o.low*(1-1e-12) || value > o.high*(1+1e-12) {
						t.Errorf("drawer %d, %s of %s: %.6g, outside of %.6g to %.6g (mass %.3g, ohm %.3g)", seed,
							figure.Of(q).Key, made.Key(), value, o.low, o.high, r.mass, r.ohm)
					}
				}
			})
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	for q := range figure.Count {
		if all.Has(1<<q) && tried[q] < 3*synthetic.Of(120) {
			t.Errorf("%s was tried on %d members", figure.Of(q).Key, tried[q])
		}
	}
}
