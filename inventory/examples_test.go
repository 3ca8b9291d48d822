package inventory

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"partsaloft/physics/rotor"
	"path/filepath"
	"testing"
)

// TestExamplesRead: every example drawer reads without a fault, the shop's list with its prices.
func TestExamplesRead(t *testing.T) {
	for _, path := range exampleFiles(t) {
		if filepath.Base(path) == "shop.yaml" {
			o, err := ReadOffer(filepath.Base(path), bytes.NewReader(example(t, path)))
			if err != nil {
				t.Errorf("\n%v", err)
				continue
			}
			for _, id := range o.Parts.IDs(KindMotor) {
				if o.Price(KindMotor, id) == (Price{}) {
					t.Errorf("%s: motor %s has no price", path, id)
				}
			}
			continue
		}
		if _, err := Read(filepath.Base(path), bytes.NewReader(example(t, path))); err != nil {
			t.Errorf("\n%v", err)
		}
	}
}

func example(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func exampleFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 2 {
		t.Fatal("no example drawers", err)
	}
	return files
}

// TestExamplesFit is a property test over combinations drawn from the examples: the quick answer
// agrees with the findings, a key names its combination, and every combination that passes the
// rules is a craft that physics accepts.
func TestExamplesFit(t *testing.T) {
	for _, path := range exampleFiles(t) {
		d, err := Read(filepath.Base(path), bytes.NewReader(example(t, path)))
		if err != nil {
			continue
		}
		t.Run(filepath.Base(path), func(t *testing.T) { drawFits(t, d) })
	}
}

func drawFits(t *testing.T, d *Drawer) {
	const draws = 3000
	rng := rand.New(rand.NewPCG(7, 11))
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	motors := d.MixedMotors()
	for i := range d.Motors {
		motors = append(motors, &d.Motors[i])
	}
	keys, crafts := map[string]string{}, 0
	props := map[string]*rotor.Propeller{}
	for range draws {
		c := Combination{
			Motor: motors[rng.IntN(len(motors))], Prop: &d.Props[rng.IntN(len(d.Props))], Pack: &d.Packs[rng.IntN(len(d.Packs))],
			Frame: &d.Frames[rng.IntN(len(d.Frames))], Board: &d.Boards[rng.IntN(len(d.Boards))],
		}
		c.Extras = d.Following(c.Frame, c.Board)
		adapters, _ := d.Bridges(&c)
		c.Extras = append(c.Extras, adapters...)
		c.sortExtras()
		checkFindings(t, &c)
		print := fmt.Sprintf("%s %s %s %s %s %v", c.Motor.ID, c.Prop.ID, c.Pack.ID, c.Frame.ID, c.Board.ID, c.Parts().Extras)
		if other, ok := keys[c.Key()]; ok && other != print {
			t.Fatalf("key %s names %s and %s", c.Key(), other, print)
		}
		keys[c.Key()] = print
		if c.FirstFault() != NoRule {
			continue
		}
		if props[c.Prop.ID] == nil {
			if props[c.Prop.ID], err = rotor.New(c.Prop.Spec(), air); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := c.Craft(props[c.Prop.ID]); err != nil {
			t.Errorf("%v", err)
		}
		crafts++
	}
	if crafts == 0 {
		t.Error("nothing drawn fits together")
	}
}

func BenchmarkRead(b *testing.B) {
	text := example(b, "../examples/club.yaml")
	for b.Loop() {
		if _, err := Read("club.yaml", bytes.NewReader(text)); err != nil {
			b.Fatal(err)
		}
	}
}
