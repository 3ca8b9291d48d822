package cli

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
)

const partsList = `My parts

# Motors
- 4x 1404 4600kv 9g 9x9
- blue ones, 2
Props:
3x2.4x3, 16 pcs
LiPos
1. 4S 650 75C XT30 72g x3, bought used
3 inch frame 9x9 25.5x25.5 31g
AIO 20A 2-4S 25.5x25.5 8.2g
`

// A list becomes a drawer that ranks; what is no part stands in it as a comment, and is told with its line.
func TestNewFromAList(t *testing.T) {
	folder := t.TempDir()
	list, drawer := filepath.Join(folder, "parts.txt"), filepath.Join(folder, "d.yaml")
	if err := os.WriteFile(list, []byte(partsList), 0o600); err != nil {
		t.Fatal(err)
	}
	got := run(t, "new", drawer, list)
	if got.code != 0 || got.err != "" {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	for _, want := range []string{"1 motor, 1 prop, 1 pack, 1 frame and 1 board", "k4s-650", "line 9: k4s-650: bought used",
		"line 5: blue ones, 2: kv is missing", "partsaloft rank --drawer "} {
		if !strings.Contains(strings.Join(strings.Fields(got.out), " "), want) {
			t.Errorf("it does not say %q:\n%s", want, got.out)
		}
	}
	text, err := os.ReadFile(drawer)
	if err != nil || !strings.Contains(string(text), "# line 5: blue ones, 2: ") {
		t.Errorf("%v\n%s", err, text)
	}
	if got := run(t, "rank", "--drawer", drawer, "--quiet"); got.code != 0 {
		t.Errorf("rank: exit %d\n%s%s", got.code, got.out, got.err)
	}
	if got := run(t, "new", list); got.code != 3 || !strings.Contains(got.err, "to read it as a list of parts: partsaloft new") {
		t.Errorf("over the list: exit %d, %s", got.code, got.err)
	}
	if got := run(t, "new", drawer, list); got.code != 3 || !strings.Contains(got.err, "exists already") {
		t.Errorf("over a file: exit %d, %s", got.code, got.err)
	}
}

// The standard input is a list too, to start a drawer or to add to one.
func TestAListFromTheStandardInput(t *testing.T) {
	drawer := filepath.Join(t.TempDir(), "d.yaml")
	in := func(text string) session.Streams { return session.Streams{In: strings.NewReader(text)} }
	if got := runIn(t, context.Background(), in(partsList), "new", drawer, "-", "--format", "json"); got.code != 0 {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.err)
	} else {
		var d struct {
			Parts   []intake.Part
			NotRead []intake.Left `json:"not_read"`
		}
		if err := json.Unmarshal([]byte(got.out), &d); err != nil || len(d.Parts) != 5 || len(d.NotRead) != 1 ||
			d.NotRead[0].Line != 5 || d.Parts[2].NotUnderstood[0] != "bought used" {
			t.Errorf("%v\n%s", err, got.out)
		}
	}
	got := runIn(t, context.Background(), in("motor 2004 2900kv\nstrap 5g\n?"), "add", drawer, "-")
	if got.code != 0 || !strings.Contains(got.out, "Added 1 motor and 1 extra to d.yaml") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	text, _ := os.ReadFile(drawer)
	d, err := inventory.Read("d.yaml", strings.NewReader(string(text)))
	if err != nil || len(d.Motors) != 2 || len(d.Extras) != 1 || !strings.Contains(string(text), "# line 3: ?: ") {
		t.Errorf("%v\n%s", err, text)
	}
	if got := runIn(t, context.Background(), in("strap 5g"), "new", filepath.Join(t.TempDir(), "e.yaml"), "-"); !strings.Contains(
		got.out, "Nothing can be built yet: add motors, props, packs, frames and boards.") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	before := string(text)
	got = runIn(t, context.Background(), in("# nothing\n\nhello there\n"), "add", drawer, "-")
	text, _ = os.ReadFile(drawer)
	if got.code != 3 || !strings.Contains(got.err, "no line of it is a part") || string(text) != before {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

// The empty drawer has no parts; what it shows as examples can be uncommented, and parts can be added to it.
func TestNewWritesAnEmptyDrawer(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mine.yaml")
	if got := run(t, "new", path); got.code != 0 || !strings.Contains(got.out, "mine.yaml is written") {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read("mine.yaml", strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	for item := range d.All() {
		t.Errorf("it holds %s", item.Base().ID)
	}
	var lines []string
	for line := range strings.Lines(string(text)) {
		if rest, ok := strings.CutPrefix(line, "  # "); ok {
			line = "  " + rest
		}
		lines = append(lines, line)
	}
	if d, err = inventory.Read("mine.yaml", strings.NewReader(strings.Join(lines, ""))); err != nil || len(d.Packs) != 2 {
		t.Errorf("its examples, uncommented: %v", err)
	}
	for _, part := range []string{"motor 1404 4600kv x4", "strap 4g"} {
		if got := run(t, "add", path, part); got.code != 0 {
			t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
		}
	}
	if got := run(t, "check", "--drawer", path, "--fix"); got.code != 0 || !strings.Contains(got.out, "\nprops:\n") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

// add starts a drawer that is missing, and says so.
func TestAddStartsADrawer(t *testing.T) {
	path := filepath.Join(t.TempDir(), "d.yaml")
	got := run(t, "add", path, "motor 1404 4600kv x4")
	text, _ := os.ReadFile(path)
	if got.code != 0 || !strings.Contains(got.err, "d.yaml is new") || !strings.HasPrefix(string(text), "motors:\n  - id: ") {
		t.Errorf("exit %d\n%s%s\n%s", got.code, got.out, got.err, text)
	}
}
