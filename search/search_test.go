package search

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"partsaloft/inventory"
	"partsaloft/objective"
)

// club reads the example drawer.
func club(t testing.TB) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Load("../examples/club.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func problem(t testing.TB, d *inventory.Drawer, style string) Problem {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	return Problem{Drawer: d, Air: air, Style: s}
}

func TestLook(t *testing.T) {
	if os.Getenv("LOOK") == "" {
		t.Skip()
	}
	for _, style := range objective.PresetNames() {
		start := time.Now()
		s, err := NewSpace(context.Background(), problem(t, club(t), style), 0)
		if err != nil {
			t.Fatal(err)
		}
		made := time.Since(start)
		r, err := s.Search(context.Background(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println("=====", style, "space", made, "search", time.Since(start)-made, s.candidates, s.fitted, s.powertrain, r.Evaluated, r.Infeasible, "front", r.FrontSize)
		for i := range r.Best {
			b := &r.Best[i]
			fmt.Printf("%.2f ahead %.2f best %.2f %s\n   %.1f\n", b.Verdict.Score, b.AheadShare, b.BestShare, b.Combination.Key(), b.Verdict.Axes)
			for _, w := range b.Broken {
				fmt.Println("  ", w.String())
			}
			for _, f := range objective.Figures() {
				v := b.Figures[f.Quantity]
				fmt.Printf("  %s %.3g [%.3g %.3g] %s;", f.Key, f.FromSI(v.Value), f.FromSI(v.Low), f.FromSI(v.High), v.Basis)
			}
			fmt.Println()
			if i == 2 {
				break
			}
		}
	}
}
