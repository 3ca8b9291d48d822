package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory/check"
)

// estimated hangs on the laws of physics, which are held elsewhere.
var estimated = regexp.MustCompile(`(# estimated \w+:) [0-9.]+( at 10 V)? \([0-9.]+ to [0-9.]+\)`)

func TestFixWritesACopyAndLeavesTheDrawer(t *testing.T) {
	text := "motors:\n  - id: a # mine\n    kv: 3,9k\n    stator: 1404\n    mass_g: 9,3 g\n"
	path := writeTemp(t, "d.yaml", text)
	out := filepath.Join(t.TempDir(), "tidy.yaml")
	got := run(t, "check", "--drawer", path, "--fix", "--output", out)
	if got.code != 0 || got.out != "" || !strings.Contains(got.err, "d.yaml:3:9: 3,9k is now 3900") ||
		!strings.Contains(got.err, "9,3 g is now 9.3") {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	written, _ := os.ReadFile(out)
	want := "motors:\n  - id: a # mine\n    stator: \"1404\"\n    kv: 3900\n    mass_g: 9.3\n    # estimated " +
		"resistance_mohm: …\n    # estimated no_load_a: … at 10 V\n"
	plain := func(text string) string { return estimated.ReplaceAllString(text, "$1 …$2") }
	if plain(string(written)) != want {
		t.Errorf("written:\n%s", written)
	}
	if same, _ := os.ReadFile(path); string(same) != text {
		t.Errorf("the drawer has changed:\n%s", same)
	}
	if got := run(t, "check", "--drawer", out, "--quiet"); got.code != 0 {
		t.Errorf("the copy has faults: %s", got.out)
	}
	if got := run(t, "check", "--drawer", path, "--fix", "--quiet"); got.code != 0 || plain(got.out) != want ||
		got.err != "" {
		t.Errorf("to the standard output: exit %d\n%s%s", got.code, got.out, got.err)
	}
}

// What can be fixed is, though other faults are left; without anything to fix there is no copy.
func TestFixWritesWhatItCan(t *testing.T) {
	path := writeTemp(t, "d.yaml", "motors:\n  - {kv: 3.9k, stator: 1404, mass_kg: 0.01}\n")
	out := filepath.Join(t.TempDir(), "tidy.yaml")
	got := run(t, "check", "--drawer", path, "--fix", "--output", out)
	text, _ := os.ReadFile(out)
	if want := "motors:\n  - {id: m1404-3900, kv: 3900, stator: 1404, mass_kg: 0.01}\n"; string(text) != want ||
		got.code != 3 || !strings.Contains(got.err, "mass_kg") || !strings.Contains(got.err, "1 fault is left in the copy") ||
		!strings.Contains(got.err, "d.yaml:2:6: id: m1404-3900 is added") {
		t.Errorf("exit %d, %s\n%s", got.code, got.err, text)
	}
	path, out = writeTemp(t, "d.yaml", "motors:\n  - {id: a, kv: 3900, stator: 1404, mass_kg: 0.01}\n"),
		filepath.Join(t.TempDir(), "tidy.yaml")
	got = run(t, "check", "--drawer", path, "--fix", "--output", out)
	if _, err := os.Stat(out); err == nil || got.code != 3 || !strings.Contains(got.err, "no copy was written") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}

func TestCheckSaysWhatToMeasureFirst(t *testing.T) {
	drawer := filepath.Join("..", "..", "..", "..", "examples", "spare-parts.yaml")
	got := run(t, "check", "--drawer", drawer, "--format", "json", "--style", "cruise", "--quiet")
	var d struct{ Gaps *answer.Gaps }
	if err := json.Unmarshal([]byte(got.out), &d); err != nil || got.code != 0 {
		t.Fatalf("exit %d, %v\n%s", got.code, err, got.err)
	}
	g := d.Gaps
	if g == nil || g.Style != "cruise" || g.Combinations < 10 || !(g.Doubt > 0) || len(g.Measure) != 3 || g.Reason != "" {
		t.Fatalf("%+v", g)
	}
	parts := loadDrawer(t, drawer)
	last := g.Doubt
	for _, m := range g.Measure {
		open := false
		for _, gap := range check.Gaps(parts) {
			open = open || string(gap.Kind) == m.Part && gap.ID == m.ID && gap.Key == m.Key
		}
		if !open || m.How == "" || m.Combinations < 1 || !(m.DoubtAfter < last) || !(m.DoubtThen < m.DoubtWith) {
			t.Errorf("%+v after %.3f, a gap: %v", m, last, open)
		}
		last = m.DoubtAfter
	}
	text := run(t, "check", "--drawer", drawer, "--style", "cruise", "--quiet").out
	for _, says := range []string{"What to measure first", "These three measurements would narrow the score " +
		"from ±", g.Measure[0].ID} {
		if !strings.Contains(text, says) {
			t.Errorf("not said: %s", says)
		}
	}
}

func TestCheckWithoutACombinationSaysSo(t *testing.T) {
	path := writeTemp(t, "d.yaml", "motors:\n  - {id: a, kv: 3900, stator: 1404}\n")
	got := run(t, "check", "--drawer", path)
	if got.code != 0 || !strings.Contains(got.out, "No build can be flown in style freestyle") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	if got := run(t, "check", "--drawer", path, "--style", "nonsense"); got.code != 2 {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}
