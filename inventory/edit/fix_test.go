package edit

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/strict"
)

// Property: a sound drawer written anew holds the same, has every comment of the old one, and does not
// change when it is written once more.
func TestFixKeepsWhatADrawerSays(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples (%v)", len(files), err)
	}
	for _, file := range append(files, "../testdata/forms.yaml", "../../cmd/partsaloft/internal/cli/starter.yaml") {
		text, err := os.ReadFile(file)
		if err != nil || strings.HasSuffix(file, "shop.yaml") {
			continue
		}
		got, mended, err := Fix(file, text, linesOf)
		if err != nil || mended != nil {
			t.Errorf("%s: %v, %v", file, mended, err)
			continue
		}
		if !Same(mustRead(t, string(text)), mustRead(t, string(got))) {
			t.Errorf("%s: other parts", file)
		}
		for _, line := range strings.Split(string(text), "\n") {
			if _, comment, ok := strings.Cut(line, "# "); ok && !strings.Contains(string(got), comment) {
				t.Errorf("%s: the comment %q is lost", file, comment)
			}
		}
		gaps := 0
		drawer := mustRead(t, string(text))
		for _, g := range check.Gaps(drawer) {
			if g.Value > 0 {
				gaps++
			}
		}
		if n := strings.Count(string(got), strict.EstimateMark); n != gaps {
			t.Errorf("%s: %d estimates, want %d", file, n, gaps)
		}
		if again, _, err := Fix(file, got, linesOf); err != nil || !bytes.Equal(again, got) {
			t.Errorf("%s: changes again: %v", file, err)
		}
	}
}

// estimates hang on the laws of physics, which are held elsewhere.
var estimates = regexp.MustCompile(`(# estimated \w+:) [^\n]*`)

func TestFixMendsWhatIsPlain(t *testing.T) {
	const faulty = `# mine

frames:
  - {id: f1, Mass_g: 31, weight-limit: 5}
motors:
  - id: m1 # the red ones
    stator: 2207,5
    kv: 1,75k
    mass_g: ~31.5
    max-current-a: 40A
    cells: 4-6S
`
	half, mended, err := Fix("d.yaml", []byte(faulty), linesOf)
	var faults inventory.Faults
	if !errors.As(err, &faults) || len(faults) != 2 || len(mended) == 0 ||
		!strings.Contains(string(half), "    kv: 1750\n    mass_g: 31.5 # was ~31.5\n    max_current_a: 40\n") {
		t.Fatalf("%v, %v\n%s", mended, err, half)
	}
	got, mended, err := Fix("d.yaml", []byte(strings.Replace(faulty, "weight-limit: 5", "max_prop_in: 5", 1)), linesOf)
	want := `# mine

motors:
  - id: m1 # the red ones
    stator: "2207.5"
    kv: 1750
    mass_g: 31.5 # was ~31.5
    cells: [4, 6]
    max_current_a: 40
    # estimated resistance_mohm: …
    # estimated no_load_a: …

frames:
  - id: f1
    mass_g: 31
    max_prop_in: 5
    # estimated drag_area_cm2: …
`
	if err != nil || estimates.ReplaceAllString(string(got), "$1 …") != want {
		t.Errorf("%v\ngot\n%s\nwant\n%s", err, got, want)
	}
	said := map[string]string{}
	for _, m := range mended {
		said[m.From] = m.To
	}
	for from, to := range map[string]string{"Mass_g": "mass_g", "2207,5": "2207.5", "1,75k": "1750", "40A": "40",
		"4-6S": "[4, 6]", "max-current-a": "max_current_a"} {
		if said[from] != to {
			t.Errorf("%s became %q, want %s", from, said[from], to)
		}
	}
}

// leftAlone are slips that more than one thing may be meant by: the pilot decides.
func TestFixLeavesWhatIsNotPlain(t *testing.T) {
	for name, text := range map[string]string{
		"thousands or decimals":  "motors: [{id: m, stator: 1404, kv: 3900, mass_g: \"9,300\"}]\n",
		"a key of another unit":  "frames: [{id: f, mass_kg: 0.03, max_prop_in: 5}]\n",
		"an id that others name": "motors: [{id: m 1, stator: 1404, kv: 3900}]\nfleet: [{name: m 1, parts: {motor: m1}}]\n",
		"an interval":            "motors: [{id: m, stator: 1404, kv: 3900-4100}]\n",
		"a code":                 "props: [{id: p, size: \"53472\"}]\n",
		"a key given twice":      "motors: [{id: m, stator: 1404, kv: 3900, kv: 4100}]\n",
		"a range for one":        "motors: [{id: m, stator: 1404, kv: 3900, cells: 4}]\n",
	} {
		got, mended, err := Fix("d.yaml", []byte(text), linesOf)
		var faults inventory.Faults
		if !errors.As(err, &faults) || got != nil || mended != nil {
			t.Errorf("%s: %v, %v\n%s", name, mended, err, got)
		}
	}
}

// Regression: so many of the bad drawers are mended without a question.
func TestFixOnTheBadDrawers(t *testing.T) {
	files, err := filepath.Glob("../testdata/bad/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d bad drawers (%v)", len(files), err)
	}
	mended := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got, done, err := Fix(filepath.Base(file), text, linesOf)
		var faults inventory.Faults
		switch {
		case err == nil:
			mended++
			if len(done) == 0 {
				t.Errorf("%s: sound without a change:\n%s", file, got)
			}
		case !errors.As(err, &faults):
			t.Errorf("%s: %v", file, err)
		}
	}
	if mended < 14 {
		t.Errorf("%d bad drawers are mended, want 14", mended)
	}
}

// Property: whatever the bytes, fixing ends in faults or in a drawer that reads and stays as it is when
// it is fixed again.
func FuzzFix(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<16 {
			return
		}
		got, _, err := Fix("d.yaml", text, linesOf)
		if err != nil {
			var faults inventory.Faults
			if !errors.As(err, &faults) && strings.Contains(err.Error(), "(<nil>)") {
				t.Errorf("%v\n%s", err, text)
			}
			return
		}
		again, mended, err := Fix("d.yaml", got, linesOf)
		if err != nil || mended != nil || !Same(mustRead(t, string(got)), mustRead(t, string(again))) {
			t.Errorf("again: %v, %v\n%s\n%s", mended, err, got, again)
		}
	})
}

// Regression: what a file begins with stays at its beginning, though another key comes first in order.
func TestFixKeepsTheOpening(t *testing.T) {
	got, _, err := Fix("d.yaml",
		[]byte("# my drawer, spring\n\n# the motors\nmotors: [{id: m, stator: 1404, kv: 3900}]\n# the field\nair: "+
			"{altitude_m: 200}\n"), func(*inventory.Drawer) map[string][]string { return nil })
	want := "# my drawer, spring\n\n# the field\nair:\n  altitude_m: 200\n\n# the motors\nmotors:\n"
	if err != nil || !strings.HasPrefix(string(got), want) {
		t.Errorf("%v\n%s", err, got)
	}
	got, _, err = Fix("d.yaml",
		[]byte("# my drawer\nmotors: [{id: m, stator: 1404, kv: 3900}]\nair: {altitude_m: 200}\n"), func(*inventory.Drawer) map[string][]string { return nil })
	if err != nil || !strings.HasPrefix(string(got), "# my drawer\n\nair:\n") ||
		strings.Count(string(got), "# my drawer") != 1 {
		t.Errorf("%v\n%s", err, got)
	}
}
