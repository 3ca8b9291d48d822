package cli

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/session"
)

func TestPageUsage(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"page", "--format", "json"}, "page has no flag --format"},
		{[]string{"page", "a.yaml", "b.yaml"}, "b.yaml"},
		{[]string{"page", "--weights", "grip"}, "write AXIS=NUMBER"},
	} {
		if got := run(t, c.args...); got.code != 2 || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: exit %d, want 2 and %q:\n%s", c.args, got.code, c.says, got.err)
		}
	}
	if got := runIn(t, context.Background(), session.Streams{OutTerminal: true}, "page"); got.code != 2 || got.out != "" ||
		!strings.Contains(got.err, "--output drawer.html") {
		t.Errorf("on a terminal: exit %d\n%s", got.code, got.err)
	}
	bad := writeTemp(t, "drawer.yaml", "motors:\n  - id: a\n    stator: \"1404\"\n    kv: -920\n")
	if got := run(t, "page", "--drawer", bad); got.code != 3 || !strings.Contains(got.err, "drawer.yaml:4:9") {
		t.Errorf("a bad drawer: exit %d\n%s", got.code, got.err)
	}
}

func TestPageIsWrittenWholeOrNotAtAll(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "drawer.html")
	drawer := filepath.Join("..", "..", "..", "..", "examples", "racer.yaml")
	got := run(t, "page", "--drawer", drawer, "--style", "race", "--output", path)
	if got.code != 0 || got.out != "" || !strings.Contains(got.err, "Written to "+path) {
		t.Fatalf("exit %d: %s%s", got.code, got.out, got.err)
	}
	page, err := os.ReadFile(path)
	if err != nil || !strings.HasPrefix(string(page), "<!doctype html>") || !strings.HasSuffix(string(page), "</html>\n") {
		t.Fatalf("%v: %.60q", err, page)
	}
	if strings.Contains(string(page), folder) {
		t.Error("the page names a folder of this machine")
	}
	// To the standard output go the same bytes; an interrupt leaves what was there.
	if again := run(t, "page", "--drawer", drawer, "--style", "race"); again.out != string(page) {
		t.Error("the standard output differs from the file")
	}
	ended, stop := context.WithCancel(context.Background())
	stop()
	if got := runIn(t, ended, session.Streams{}, "page", "--drawer", drawer, "--output", path); got.code != 130 {
		t.Errorf("interrupted: exit %d", got.code)
	}
	if left, _ := os.ReadFile(path); string(left) != string(page) {
		t.Error("an interrupt changed the file")
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 1 {
		t.Errorf("%d files are left", len(entries))
	}
}

// With limits that nothing keeps the page is written, for they can be loosened there; with nothing to
// show it is not.
func TestPageOfNothing(t *testing.T) {
	drawer := filepath.Join("..", "..", "..", "..", "examples", "racer.yaml")
	path := filepath.Join(t.TempDir(), "drawer.html")
	got := run(t, "page", "--drawer", drawer, "--limit", "all_up_g=..20", "--output", path)
	if _, err := os.Stat(path); got.code != 4 || err != nil || !strings.Contains(got.err, "loosen them in the page") {
		t.Errorf("exit %d, %v: %s", got.code, err, got.err)
	}
	for _, c := range []struct{ drawer, says string }{
		{"motors: []\n", "has no motors, props, packs, frames and boards"},
		{`
motors: [{id: m, stator: "1404", kv: 3900}]
props: [{id: p, size: 3x2x2}]
packs: [{id: k, size: 1S 200 10C}]
frames: [{id: f, mass_g: 4000, max_prop_in: 3}]
boards: [{id: b, esc_current_a: 20, cells: [1, 4]}]
`, "Nothing can be flown"},
	} {
		path := filepath.Join(t.TempDir(), "drawer.html")
		got := run(t, "page", "--drawer", writeTemp(t, "drawer.yaml", c.drawer), "--output", path)
		if _, err := os.Stat(path); got.code != 4 || err == nil || !strings.Contains(got.err, c.says) {
			t.Errorf("exit %d, %v, want 4 and %q: %s", got.code, err, c.says, got.err)
		}
	}
}

func TestQuoted(t *testing.T) {
	for word, want := range map[string]string{"drawer.yaml": "drawer.yaml", "my drawer.yaml": "'my drawer.yaml'",
		"o'hare.yaml": `'o'\''hare.yaml'`, "": "''", "$(id).yaml": "'$(id).yaml'"} {
		if got := session.ShellWord(word); got != want {
			t.Errorf("%q is quoted as %s, want %s", word, got, want)
		}
	}
}
