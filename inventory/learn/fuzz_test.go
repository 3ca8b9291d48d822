package learn

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Property: whatever the bytes, a learned file ends in faults or in corrections; applied to a drawer they
// are refused in words or leave crafts whose figures are numbers.
func FuzzLearnedFile(f *testing.F) {
	r := learn(f, mustRead(f, hangar))
	r.Learned.Version = "test"
	whole := r.Learned.YAML()
	f.Add(whole)
	f.Add(bytes.ReplaceAll(whole, []byte("factor: 1."), []byte("factor: 40.")))
	f.Add(bytes.ReplaceAll(whole, []byte("correlation: 0"), []byte("correlation: 1")))
	f.Add(bytes.ReplaceAll(whole, []byte("correlation: -0"), []byte("correlation: -1")))
	f.Add([]byte("schema_version: 1\ntool_version: x\ndrawer: y\n"))
	f.Add([]byte("schema_version: 1\ntool_version: x\ndrawer: y\nparts:\n  - {kind: motor, id: a, figures: b, changes: " +
		"[{input: kv, factor: 1, doubt_before_pct: 4, doubt_after_pct: 2}]}\ntogether: [{a: motor a kv, b: motor a kv, " +
		"correlation: 1}]\n"))
	base := mustRead(f, hangar)
	flown, err := base.Combination(&base.Log[0].Parts)
	if err != nil {
		f.Fatal(err)
	}
	air, err := base.Air.SI()
	if err != nil {
		f.Fatal(err)
	}
	label, err := rotor.New(flown.Prop.Spec(), air)
	if err != nil {
		f.Fatal(err)
	}
	cruise := someWays()["cruise"]
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := Read("fuzz.learned.yaml", bytes.NewReader(text))
		if err != nil {
			var faults inventory.Faults
			if !errors.As(err, &faults) || len(faults) == 0 || l != nil {
				t.Fatalf("%v (%T) with %v", err, err, l)
			}
			return
		}
		if again, err := Read("again.yaml", bytes.NewReader(l.YAML())); err != nil || len(again.Parts) != len(l.Parts) {
			t.Errorf("what was read does not read again: %v\n%s", err, l.YAML())
		}
		d := *base
		d.Motors, d.Props, d.Packs = slices.Clone(base.Motors), slices.Clone(base.Props), slices.Clone(base.Packs)
		d.Frames, d.Boards, d.Extras = slices.Clone(base.Frames), slices.Clone(base.Boards), slices.Clone(base.Extras)
		if err := l.Apply(&d, "cruise", someWays()); err != nil {
			if err.Error() == "" {
				t.Error("no words")
			}
			return
		}
		c, err := d.Combination(&d.Log[0].Parts)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := c.Craft(c.Prop.Corrected(label))
		if err != nil {
			return // beyond what a craft may be, in words
		}
		p := craft.Evaluate(&cruise)
		for q := range figure.Count {
			if x, why := p.Get(q); why == physics.Defined && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("quantity %d is %g", q, x)
			}
		}
		for input, sd := range craft.Uncertainty.LnSD {
			if !(sd >= 0 && sd < 10) {
				t.Errorf("input %d is known to %g", input, sd)
			}
		}
	})
}
