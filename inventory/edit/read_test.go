package edit

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
)

func mustRead(t testing.TB, text string) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Read("test.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	return d
}

// seeds are the bad drawers and the examples.
func seeds(f *testing.F) {
	f.Helper()
	for _, pattern := range []string{"../testdata/bad/*.yaml", "../../examples/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds at %s (%v)", pattern, err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
}

// linesOf are the estimates of a drawer in short.
func linesOf(d *inventory.Drawer) map[string][]string {
	lines := map[string][]string{}
	for _, g := range check.Gaps(d) {
		if low, high := g.Interval(); g.Value > 0 {
			lines[g.Path] = append(lines[g.Path], fmt.Sprintf("%s: %.2g (%.2g to %.2g)", g.Key, g.Value, low, high))
		}
	}
	return lines
}
