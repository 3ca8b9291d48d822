package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
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
	for _, s := range []string{"weights: {grip: 1e6, top_speed: 1e-9}", "flying: {speed_mps: 100, segments: [{kind: turn, share_pct: 100, load_factor: 20}]}", "limits: {all_up_g: ..1e300}", "flying: {segments: [{kind: hover, share_pct: 1e-300}, {kind: punch, share_pct: 100}]}", "flying: {landing_cell_v: 4, reserve_pct: 80}"} {
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
		s, faults := w.Style()
		for _, fault := range faults {
			if catalogue.Problem(&fault.Problem) == "" {
				t.Errorf("no words at %s", fault.Path)
			}
		}
		if faults != nil {
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
	c := inventory.Combination{Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0], Frame: &d.Frames[0], Board: &d.Boards[0]}
	c.Extras = d.Following(c.Frame, c.Board)
	air, err := d.Air.SI()
	if err != nil {
		tb.Fatal(err)
	}
	return c, air
}

// Property: whatever stands behind --pick, it ends in words or in a combination that its own ids name again.
func FuzzPickedCraft(f *testing.F) {
	for _, s := range []string{pick, "motor=,prop==,extras=+,+", "pack=*,motor=a~b", pick + ",extras=", "motor=x", strings.ReplaceAll(pick, "=", " = ")} {
		f.Add(s)
	}
	text, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		f.Fatal(err)
	}
	d, err := inventory.Read("club.yaml", bytes.NewReader(text))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := picked(d, text)
		if err != nil {
			if strings.TrimSpace(strings.TrimPrefix(err.Error(), "--pick:")) == "" {
				t.Errorf("%q: no words", text)
			}
			return
		}
		parts := c.Parts()
		if again, err := d.Combination(&parts); err != nil || again.Key() != c.Key() {
			t.Errorf("%q picks %s, which comes back as %v, %v", text, c.Key(), again.Key(), err)
		}
	})
}

// Property: whatever stands behind --change, it ends in words or in a craft whose figures are finite or
// undefined, and what it was tried on stays as it was.
func FuzzChangedCraft(f *testing.F) {
	for _, s := range []string{"pack.capacity_mah=850", "craft.mass_g=+12", "craft.mass_g=-1e9", "motor.kv=-10%", "air.temperature_c=-5", "air.altitude_m=9000", "prop.blade=tip", "prop.pitch_in=+100%", "a.b=c=d", "pack.cells=1e300", "frame.drag_area_cm2=2", "board.esc_current_a=+1e-300", "motor.resistance_mohm=20000", "frame.rotors=12"} {
		f.Add(s)
	}
	base, air := exampleCombination(f)
	before := fmt.Sprintf("%+v %+v %+v %+v %+v", *base.Motor, *base.Prop, *base.Pack, *base.Frame, *base.Board)
	freestyle, ok := objective.Preset("freestyle")
	if !ok {
		f.Fatal("no such style")
	}
	f.Fuzz(func(t *testing.T, text string) {
		change, err := parseChange(text, inventory.Air{})
		if err == nil {
			err = tryChange(&base, text)
		}
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Errorf("%q: no words", text)
			}
			return
		}
		r, varied, err := search.Vary(context.Background(), space.Problem{Drawer: &inventory.Drawer{}, Air: air, Style: freestyle}, base, []search.Change{change}, predict.Sampling{Draws: 2, Workers: 1})
		if after := fmt.Sprintf("%+v %+v %+v %+v %+v", *base.Motor, *base.Prop, *base.Pack, *base.Frame, *base.Board); after != before {
			t.Fatalf("%q changed what it was tried on:\n%s\n%s", text, before, after)
		}
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Errorf("%q: no words", text)
			}
			return
		}
		if r.Misfits != nil || len(varied) != 1 {
			t.Fatalf("%q: %v, %d changes", text, r.Misfits, len(varied))
		}
		v := &varied[0]
		if v.Misfits != nil {
			return
		}
		for q := range figure.Count {
			if x, why := v.Performance.Get(q); why == physics.Defined && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("%q: %s is %g", text, figure.Of(q).Key, x)
			}
			if d := v.Deltas[q]; d.Why == physics.Defined && (math.IsNaN(d.Value+d.Low+d.High) || math.IsInf(d.Value+d.Low+d.High, 0)) {
				t.Errorf("%q: %s differs by %+v", text, figure.Of(q).Key, d)
			}
		}
	})
}
