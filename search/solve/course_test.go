package solve

import (
	"context"
	"testing"

	"partsaloft/search/internal/synthetic"
	"partsaloft/search/progress"
)

// Property: the share told never falls, ends with all, and lies between 30 and 70 of 100 when half of the evaluations and
// bounds are done, in drawers that its priors were not chosen on.
func TestCourseIsTrue(t *testing.T) {
	for _, c := range []struct {
		seed  uint64
		style string
		sizes synthetic.Sizes
	}{
		{25, "race", synthetic.Sizes{50, 60, 40, 16, 10}},
		{26, "cruise", synthetic.Sizes{40, 60, 40, 12, 12}},
		{27, "freestyle", synthetic.Sizes{60, 50, 40, 12, 10}},
	}[:synthetic.Of(3)] {
		s := laidOut(t, synthetic.Generate(c.seed, c.sizes, false), c.style)
		var work []int64
		var told []float64
		o := Options{Top: 10, Workers: 2}
		var p *Proof
		ctx := progress.Begin(context.Background(), func(now progress.Told) {
			if p != nil {
				work, told = append(work, p.evaluations()), append(told, now.Share)
			}
		})
		p, err := newProof(ctx, s, &o, warmEvals)
		if err != nil {
			t.Fatal(err)
		}
		p.prove(ctx)
		if !p.Whole || len(told) < 5 || told[len(told)-1] != 1 {
			t.Fatalf("seed %d: %d told, the last %v", c.seed, len(told), told[len(told)-1])
		}
		half := -1.0
		for i := range told {
			if i > 0 && told[i] < told[i-1] {
				t.Fatalf("seed %d: the share falls from %g to %g", c.seed, told[i-1], told[i])
			}
			if half < 0 && 2*work[i] >= work[len(work)-1] {
				half = told[i]
			}
		}
		if half < 0.3 || half > 0.7 {
			t.Errorf("seed %d, %s: %.0f of 100 told at half of %d evaluations", c.seed, c.style, 100*half, p.evaluations())
		}
		t.Logf("%s: %d fit, %d evaluations, %.2f at half", c.style, s.Fitted, p.evaluations(), half)
	}
}

// Property: a lean proof finds the list of one that keeps every node, on any number of workers.
func TestLeanProof(t *testing.T) {
	ctx := context.Background()
	for seed := range uint64(6) {
		s := laidOut(t, synthetic.Generate(60+seed, synthetic.Sizes{12, 16, 10, 6, 4}, seed%2 == 0), "freestyle")
		o := Options{Top: 5, Workers: 1 + int(seed)%3}
		whole, err := proveFrom(ctx, s, &o, 40)
		if err != nil {
			t.Fatal(err)
		}
		p, err := newProof(ctx, s, &o, 40)
		if err != nil {
			t.Fatal(err)
		}
		p.lean = true
		p.prove(ctx)
		if !p.Whole || p.Led || p.Fronted || len(p.aside) > 0 || len(p.Best.List) != len(whole.Best.List) {
			t.Fatalf("drawer %d: whole %v, %d kept aside, %d listed", seed, p.Whole, len(p.aside), len(p.Best.List))
		}
		for i := range p.Best.List {
			if p.Best.List[i] != whole.Best.List[i] {
				t.Errorf("drawer %d, place %d: %+v, else %+v", seed, i+1, p.Best.List[i], whole.Best.List[i])
			}
		}
	}
}

// Every root comes once, a sample of them first.
func TestSampledFirst(t *testing.T) {
	for _, n := range []int{1, 2, 255, 256, 700, 1000, 3808} {
		for _, step := range []int{0, 1, 2, 3, n / 256} {
			seen := make([]bool, n)
			for i := range n {
				at := sampledFirst(i, n, step)
				if seen[at] || step > 1 && i < n/step && at%step > 0 {
					t.Fatalf("%d of %d by %d: %d", i, n, step, at)
				}
				seen[at] = true
			}
		}
	}
}
