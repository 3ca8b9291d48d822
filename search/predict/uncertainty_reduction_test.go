package predict

import (
	"context"
	"math"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// bestOf are the best feasible results of a drawer for a built-in style.
func bestOf(t testing.TB, d *inventory.Drawer, style string, n int) ([]Result, objective.Style) {
	t.Helper()
	p := problem(t, d, style)
	list := allFeasible(t, p)
	return list[:min(len(list), n)], p.Style
}

// Independent: the score's doubt by slopes is about that of the draws.
func TestDoubtAgreesWithDraws(t *testing.T) {
	results, style := bestOf(t, synthetic.ExampleDrawer(t, "spare-parts.yaml"), "freestyle", 12)
	d := NewDraws(Sampling{Draws: 600, Seed: 3})
	for i := range results {
		r := &results[i]
		linear := scoredOf(r, &style).first
		scores := r.Propagate(context.Background(), &style, d, 0).Drawn(scoreFigure)
		half := (uncertain.Quantile(scores, uncertain.HighShare) - uncertain.Quantile(scores, uncertain.LowShare)) / 2
		if ratio := uncertain.HalfWidth() * linear / half; !(ratio > 0.75 && ratio < 1.3) {
			t.Errorf("%s: ±%.2f by slopes, ±%.2f by draws", r.Combination.Key(), uncertain.HalfWidth()*linear, half)
		}
	}
}

// Property: closing gaps takes doubt away, step by step, never more than there is.
func TestDoubtsFallStepByStep(t *testing.T) {
	drawer := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	results, style := bestOf(t, drawer, "freestyle", 40)
	d, err := ReduceUncertainty(context.Background(), &space.Problem{Drawer: drawer, Style: style}, results, 5, Sampling{})
	if err != nil || d.Combinations != len(results) || len(d.Steps) < 3 {
		t.Fatalf("%+v, %v", d, err)
	}
	last, seen := d.Before, map[string]bool{}
	for _, s := range d.Steps {
		if !(s.After > 0 && s.After < last) || s.Touches == 0 || s.Touches > len(results) || s.Halved > len(results) ||
			!(s.WithAfter < s.WithBefore) {
			t.Errorf("%s %s: %.3f after %.3f, touches %d, halves %d", s.Gap.ID, s.Gap.Key, s.After, last, s.Touches, s.Halved)
		}
		key := string(s.Gap.Kind) + s.Gap.ID + s.Gap.Key
		if seen[key] {
			t.Errorf("%s twice", key)
		}
		seen[key], last = true, s.After
	}
	// The first step brings at least half of what any single one brings, and no lesser effort does.
	first := d.Before - d.Steps[0].After
	for _, g := range check.Gaps(drawer) {
		var sum float64
		for i := range results {
			one := scoredOf(&results[i], &style)
			if has(&one.filled, &g) {
				_, one.now = one.with(&g)
			}
			sum += one.now
		}
		gain := d.Before - uncertain.HalfWidth()*sum/float64(len(results))
		if first < worthwhile*gain-1e-9 || gain > first+1e-9 && g.Effort() <= d.Steps[0].Gap.Effort() {
			t.Errorf("%s %s alone takes %.4f away with effort %d, the first step %s %s %.4f with %d", g.ID, g.Key, gain,
				g.Effort(),
				d.Steps[0].Gap.ID, d.Steps[0].Gap.Key, first, d.Steps[0].Gap.Effort())
		}
	}
	// Without a gap closed the doubt is that of the craft.
	nothing := check.Gap{Kind: inventory.KindExtra, ID: "none"}
	for i := range results {
		one := scoredOf(&results[i], &style)
		if has(&one.filled, &nothing) {
			t.Error("has an extra that there is not")
		}
	}
	if again, err := ReduceUncertainty(context.Background(), &space.Problem{Drawer: drawer, Style: style}, results, 5,
		Sampling{Workers: 1}); err != nil || again.Before != d.Before || len(again.Steps) != len(d.Steps) ||
		again.Steps[2].After != d.Steps[2].After {
		t.Errorf("one worker: %+v, %v", again, err)
	}
	if none, err := ReduceUncertainty(context.Background(), &space.Problem{Drawer: drawer, Style: style}, nil, 3,
		Sampling{}); err != nil || none.Combinations != 0 || none.Steps != nil {
		t.Errorf("%+v, %v", none, err)
	}
}

// Independent: a drawer that gives the key at the estimate has the doubt that was promised.
func TestAClosedGapKeepsItsPromise(t *testing.T) {
	drawer := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	results, style := bestOf(t, drawer, "cruise", 30)
	air, _ := drawer.Air.SI()
	for _, g := range check.Gaps(drawer) {
		if g.Value == 0 {
			continue
		}
		for i := range results {
			one := scoredOf(&results[i], &style)
			if !has(&one.filled, &g) {
				continue
			}
			filled, promised := one.with(&g)
			measured, err := Assess(context.Background(), space.Problem{Drawer: drawer, Air: air, Style: style},
				[]inventory.Combination{filled}, Sampling{Draws: 2})
			if err != nil {
				t.Fatal(err)
			}
			if got := scoredOf(&measured[0], &style).first; math.Abs(got/promised-1) > 0.02 {
				t.Errorf("%s %s: %.4f when measured, %.4f promised", g.ID, g.Key, got, promised)
			}
			got, _ := measured[0].Performance.Get(figure.AllUpMass)
			want, _ := results[i].Performance.Get(figure.AllUpMass)
			if math.Abs(got/want-1) > 1e-9 {
				t.Errorf("%s %s: the weight changed from %g to %g", g.ID, g.Key, want, got)
			}
			break
		}
	}
}

// Independent: a straight line has its slope, an edge on one side leaves that of the other, and a doubt
// made of edges alone is none.
func TestSlopeAtAnEdge(t *testing.T) {
	line := func(x float64) float64 { return 40 + 3*x }
	edged := func(low, high float64) func(float64) float64 {
		return func(x float64) float64 {
			if x < low || x > high {
				return 0
			}
			return line(x)
		}
	}
	for name, c := range map[string]struct {
		score      func(float64) float64
		here, want float64
	}{
		"line":            {line, 40, 3},
		"edge below":      {edged(-0.1, 9), 40, 3},
		"edge above":      {edged(-9, 0.1), 40, 3},
		"edges all round": {edged(-0.1, 0.1), 40, 0},
		"nothing":         {func(float64) float64 { return 0 }, 0, 0},
	} {
		if got := slope(c.score, c.here, 0.2); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: slope %g, want %g", name, got, c.want)
		}
	}
}
