package search

import (
	"context"
	"math"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
)

// Property: packs come longest flight first, and what is said to beat a pack weighs less and flies
// longer.
func TestPacksAreOrderedAndBeatenTruly(t *testing.T) {
	p, list := adviceCase(t, "race", synthetic.Mid)
	packs, err := Packs(context.Background(), p, list[0], quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(packs) < 3 {
		t.Fatalf("%d packs", len(packs))
	}
	byID := map[string]*PackChoice{}
	for i := range packs {
		byID[packs[i].Combination.Pack.ID] = &packs[i]
	}
	last := math.Inf(1)
	for i := range packs {
		x := &packs[i]
		time, _ := x.Performance.Get(figure.StyleTime)
		if time > last {
			t.Errorf("%s flies %g s after one of %g", x.Combination.Pack.ID, time, last)
		}
		last = time
		if x.Beaten != "" {
			y := byID[x.Beaten]
			other, _ := y.Performance.Get(figure.StyleTime)
			if y.MassKg >= x.MassKg || other <= time {
				t.Errorf("%s (%g kg, %g s) is not beaten by %s (%g kg, %g s)", x.Combination.Pack.ID, x.MassKg, time, x.Beaten,
					y.MassKg, other)
			}
		}
	}
}

// Property: lighter swaps reach the class and are feasible.
func TestLighterReachesTheClass(t *testing.T) {
	p, list := adviceCase(t, "cruise", "m1507-37 p3.5-26x3 k4i-3200 f3.5-yawl b22-24")
	const classKg = 0.25
	swaps, err := Lighter(context.Background(), p, list[0], classKg, quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(swaps) == 0 {
		t.Fatal("no swap gets there")
	}
	for _, w := range swaps {
		if w.Craft.MassKg() > classKg || !w.Feasible() {
			t.Errorf("%s → %s: %g kg, feasible %v", w.From, w.To, w.Craft.MassKg(), w.Feasible())
		}
	}
}
