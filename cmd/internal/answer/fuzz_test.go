package answer

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Property: whatever stands behind --pick, it ends in words or in a combination that its own ids name again.
func FuzzPickedCraft(f *testing.F) {
	for _, s := range []string{pick, "motor=,prop==,extras=+,+", "pack=*,motor=a~b", pick + ",extras=", "motor=x",
		strings.ReplaceAll(pick, "=", " = ")} {
		f.Add(s)
	}
	d := club(f)
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
	for _, s := range []string{"pack.capacity_mah=850", "craft.mass_g=+12", "craft.mass_g=-1e9", "motor.kv=-10%",
		"air.temperature_c=-5", "air.altitude_m=9000", "prop.blade=tip", "prop.pitch_in=+100%", "a.b=c=d", "pack.cells=1e300",
		"frame.drag_area_cm2=2", "board.esc_current_a=+1e-300", "motor.resistance_mohm=20000", "frame.rotors=12"} {
		f.Add(s)
	}
	base, err := picked(club(f), pick)
	if err != nil {
		f.Fatal(err)
	}
	air, err := inventory.Air{}.SI()
	if err != nil {
		f.Fatal(err)
	}
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
		r, varied, err := search.WhatIf(context.Background(), space.Problem{Drawer: &inventory.Drawer{}, Air: air,
			Style: freestyle}, base, []search.Change{change}, predict.Sampling{Draws: 2, Workers: 1})
		if after := fmt.Sprintf("%+v %+v %+v %+v %+v", *base.Motor, *base.Prop, *base.Pack, *base.Frame,
			*base.Board); after != before {
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
			if d := v.Deltas[q]; d.Why == physics.Defined && (math.IsNaN(d.Value+d.Low+d.High) ||
				math.IsInf(d.Value+d.Low+d.High, 0)) {
				t.Errorf("%q: %s differs by %+v", text, figure.Of(q).Key, d)
			}
		}
	})
}

func FuzzPick(f *testing.F) {
	f.Add(pick)
	f.Add("motor=,prop==,extras=+,+")
	f.Add("pack=*,motor=a~b")
	f.Fuzz(func(t *testing.T, text string) {
		parts, _, err := parsePick(text)
		if err == nil && (parts.Motor == "" || parts.Prop == "" || parts.Pack == "" || parts.Frame == "" ||
			parts.Board == "") {
			t.Errorf("%q: %+v without a fault", text, parts)
		}
	})
}

func FuzzChange(f *testing.F) {
	for _, seed := range []string{"pack.capacity_mah=850", "craft.mass_g=+12", "motor.kv=-10%", "air.temperature_c=-5",
		"prop.blade=tip", "a.b=c=d", "pack.cells=1e300"} {
		f.Add(seed)
	}
	parts := inventory.Combination{Motor: &inventory.Motor{KV: 3000}, Prop: &inventory.Prop{PitchIn: 2, DiameterIn: 3,
		Blades: 3},
		Pack: &inventory.Pack{Cells: 3, CapacityMAh: 500, DischargeC: 50}, Frame: &inventory.Frame{MassG: new(float64)},
		Board: &inventory.Board{EscCurrentA: 20}}
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := parseChange(text, inventory.Air{}); err != nil {
			return
		}
		_ = tryChange(&parts, text)
		if parts.Motor.KV != 3000 || parts.Pack.Cells != 3 {
			t.Errorf("%q: trying a change made it", text)
		}
	})
}
