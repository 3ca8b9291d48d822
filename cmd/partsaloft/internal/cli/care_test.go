package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestCareWhereNothingIsRanked: add, and check on a drawer with faults, say what to mind as every answer does; a pack
// that is added with damage in its note is a danger.
func TestCareWhereNothingIsRanked(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	care := func(args ...string) []string {
		t.Helper()
		r := run(t, args...)
		var d struct{ Care []string }
		if err := json.Unmarshal([]byte(r.out), &d); err != nil {
			t.Fatalf("%v: %v\n%s%s", args, err, r.out, r.err)
		}
		return d.Care
	}
	faulty := write("faulty.yaml", "packs: [{id: k, size: 3S 450 75C, mass_g: heavy}]\n")
	if got := care("check", "--drawer", faulty, "--format", "json"); len(got) == 0 ||
		!strings.Contains(got[0], "Lithium") {
		t.Errorf("care of a drawer with faults: %q", got)
	}
	sound := write("sound.yaml", "packs: [{id: k, size: 3S 450 75C}]\n")
	if got := care("add", sound, "strap 2g", "--format", "json"); len(got) == 0 || !strings.Contains(got[0], "Lithium") {
		t.Errorf("care of an added strap: %q", got)
	}
	got := care("add", sound, `pack 4S 1300 100C note="a bit puffed"`, "--format", "json")
	if len(got) == 0 || !strings.Contains(got[0], "puffed") {
		t.Errorf("care of an added pack that is puffed: %q", got)
	}
}
