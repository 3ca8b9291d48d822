package cli

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Property: whatever the bytes, a style file ends in faults or in a style that passes its own check and
// judges a craft in numbers.
func FuzzStyle(f *testing.F) {
	files, err := filepath.Glob("../../../../examples/styles/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds (%v)", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, s := range []string{"weights: {grip: 1e6, top_speed: 1e-9}",
		"flying: {speed_mps: 100, segments: [{kind: turn, share_pct: 100, load_factor: 20}]}", "limits: {all_up_g: ..1e300}",
		"flying: {segments: [{kind: hover, share_pct: 1e-300}, {kind: punch, share_pct: 100}]}",
		"flying: {landing_cell_v: 4, reserve_pct: 80}"} {
		f.Add([]byte(s))
	}
	craft := exampleCraft(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		var w objective.Written
		doc := strict.Read("style.yaml", bytes.NewReader(text), &w)
		if err := doc.Err(); err != nil {
			var faults strict.Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("%v (%T)", err, err)
			}
			return
		}
		s, list := w.Style()
		for _, fault := range list {
			if faults.Problem(&fault.Problem) == "" {
				t.Errorf("no words at %s", fault.Path)
			}
		}
		if list != nil {
			return
		}
		if err := s.Check(); err != nil {
			t.Fatalf("passes and yet: %v", err)
		}
		p := craft.Evaluate(&s.Flying)
		v := s.Evaluate(&craft, &p)
		if !(v.Score >= 0 && v.Score <= 100+1e-9) {
			t.Errorf("a score of %g", v.Score)
		}
		for q := range figure.Count {
			if x, why := p.Get(q); why == physics.Defined && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("%s is %g", figure.Of(q).Key, x)
			}
		}
	})
}

// exampleCraft is a craft of the starter drawer.
func exampleCraft(tb testing.TB) physics.Craft {
	tb.Helper()
	c, air := exampleCombination(tb)
	prop, err := c.Prop.Propeller(air)
	if err != nil {
		tb.Fatal(err)
	}
	craft, err := c.Craft(prop)
	if err != nil {
		tb.Fatal(err)
	}
	return craft
}

// exampleCombination is a combination of the starter drawer, and its air.
func exampleCombination(tb testing.TB) (inventory.Combination, rotor.Air) {
	tb.Helper()
	d, err := inventory.Read("starter.yaml", bytes.NewReader(starter))
	if err != nil {
		tb.Fatal(err)
	}
	c := inventory.Combination{Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0], Frame: &d.Frames[0],
		Board: &d.Boards[0]}
	c.Extras = d.Following(c.Frame, c.Board)
	air, err := d.Air.SI()
	if err != nil {
		tb.Fatal(err)
	}
	return c, air
}
