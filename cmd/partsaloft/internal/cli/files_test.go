package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

func TestNewWritesADrawerThatRanks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mine.yaml")
	if got := run(t, "new", path, "--example"); got.code != 0 || !strings.Contains(got.out, "mine.yaml is written") ||
		got.err != "" {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	if got := run(t, "check", "--drawer", path, "--quiet"); got.code != 0 {
		t.Errorf("check: exit %d\n%s", got.code, got.err)
	}
	if got := run(t, "rank", "--drawer", path, "--quiet"); got.code != 0 {
		t.Errorf("rank: exit %d\n%s", got.code, got.err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	got := run(t, "new", path)
	after, _ := os.ReadFile(path)
	if got.code != 3 || !strings.Contains(got.err, "exists already") || !bytes.Equal(before, after) {
		t.Errorf("over a file: exit %d, %s", got.code, got.err)
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

var commentedKey = regexp.MustCompile(`^(\s*)# ((?:  )*(?:- )?[a-z_0-9]+:.*)$`)

// Property: every key of a drawer stands in the starter, and its commented lines are sound as well.
func TestStarterShowsEveryKey(t *testing.T) {
	var lines []string
	for _, line := range strings.Split(string(starter), "\n") {
		lines = append(lines, commentedKey.ReplaceAllString(line, "$1$2"))
	}
	text := strings.Join(lines, "\n")
	if _, err := inventory.Read("starter.yaml", strings.NewReader(text)); err != nil {
		t.Errorf("with its comments read as keys: %v", err)
	}
	schema := inventory.Schema()
	var missing []string
	var walk func(s *strict.Schema, path string)
	walk = func(s *strict.Schema, path string) {
		for _, key := range s.Keys() {
			if !regexp.MustCompile(`\b` + key + `\b`).MatchString(text) {
				missing = append(missing, path+key)
			}
			if inner := s.At(key); inner != nil && key != "air" && key != "measured" {
				walk(inner, path+key+".")
				if items := inner.At("[]"); items != nil {
					walk(items, path+key+".")
				}
			}
		}
	}
	walk(schema, "")
	for _, key := range missing {
		if !strings.HasPrefix(key, "log.") { // help drawer lists them
			t.Errorf("the starter does not show %s", key)
		}
	}
}

func TestAddSaysWhatItUnderstood(t *testing.T) {
	path := writeTemp(t, "d.yaml", "# mine\nmotors:\n  - {id: a, stator: 1404, kv: 3900} # old\n# end\n")
	got := run(t, "add", path, "motor 2004 2900kv 16.5g x4 blue", "--format", "json")
	var d struct {
		Drawer, Kind, ID string
		Understood       []intake.Said
		NotUnderstood    []string `json:"not_understood"`
	}
	if err := json.Unmarshal([]byte(got.out), &d); err != nil || got.code != 0 {
		t.Fatalf("exit %d, %v\n%s%s", got.code, err, got.out, got.err)
	}
	if d.Kind != "motor" || d.ID != "m2004-2900" || len(d.NotUnderstood) != 1 || d.NotUnderstood[0] != "blue" ||
		len(d.Understood) != 6 || d.Drawer != "d.yaml" {
		t.Errorf("%+v", d)
	}
	want := "# mine\nmotors:\n  - {id: a, stator: 1404, kv: 3900} # old\n  - id: m2004-2900\n    count: 4\n    stator: " +
		"\"2004\"\n    kv: 2900\n    mass_g: 16.5\n    note: blue\n# end\n"
	if text, _ := os.ReadFile(path); string(text) != want {
		t.Errorf("the file holds\n%s", text)
	}
	if got := run(t, "add", "--drawer", path, "strap 1g"); got.code != 0 ||
		!strings.Contains(got.out, "Added the extra x-strap") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	// Words may stand outside of quotes, and the text names the kind of its columns.
	if got := run(t, "add", path, "prop", "5x4.3x3", "x8"); got.code != 0 ||
		!strings.Contains(got.out, "Added the prop p5x4.3x3 to d.yaml") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

func TestAddChangesNothingWhereItFails(t *testing.T) {
	sound := "motors:\n  - {id: a, stator: 1404, kv: 3900}\n"
	for _, c := range []struct {
		name, text string
		args       []string
		code       int
		says       string
	}{
		{"a key is missing", sound, []string{"motor 1404"}, 2, "kv is missing; write it with its unit"},
		{"no kind", sound, []string{"something blue"}, 2, "say what it is"},
		{"the drawer is faulty", "motors:\n  - {id: a, stator: 1404, kv: 3,9k}\n", []string{"motor 2004 2900kv"}, 3,
			"d.yaml:2:"},
		{"the id is taken", sound, []string{"motor 2004 2900kv id=a"}, 3, "is already used by another motor"},
		{"no words", sound, nil, 2, "name a drawer and say what to add"},
	} {
		path := writeTemp(t, "d.yaml", c.text)
		got := run(t, append([]string{"add", path}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%s: exit %d, want %d and %q\n%s%s", c.name, got.code, c.code, c.says, got.out, got.err)
		}
		if text, _ := os.ReadFile(path); string(text) != c.text {
			t.Errorf("%s: the file holds\n%s", c.name, text)
		}
		if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
			t.Errorf("%s: left behind: %v", c.name, entries)
		}
	}
	none := filepath.Join(t.TempDir(), "none.yaml")
	if got := run(t, "add", none, "motor 2004"); got.code != 2 || !strings.Contains(got.err, "kv is missing") {
		t.Errorf("no part for a new file: exit %d, %s", got.code, got.err)
	}
	if _, err := os.Stat(none); err == nil {
		t.Error("a drawer was started without a part")
	}
	if got := run(t, "add", "motor 2004 2900kv", "x4"); got.code != 3 || !strings.Contains(got.err, "name a drawer first") {
		t.Errorf("no file named: exit %d, %s", got.code, got.err)
	}
	if got := run(t, "add", t.TempDir(), "motor 2004 2900kv"); got.code != 3 || !strings.Contains(got.err, "is a folder") {
		t.Errorf("a folder: exit %d, %s", got.code, got.err)
	}
}

// Property: runs at once do not lose each other's parts.
func TestManyAddsAtOnce(t *testing.T) {
	path := writeTemp(t, "d.yaml", "motors:\n  - {id: a, stator: 1404, kv: 3900}\n")
	const runs = 12
	var wait sync.WaitGroup
	results := make([]ran, runs)
	for i := range runs {
		wait.Go(func() {
			var out, errs bytes.Buffer
			results[i].code = Run(context.Background(), []string{"add", path, fmt.Sprintf("motor 2004 2900kv id=r%d", i)},
				session.Streams{Out: &out, Err: &errs})
			results[i].err = errs.String()
		})
	}
	wait.Wait()
	for _, r := range results {
		if r.code != 0 {
			t.Errorf("exit %d, %s", r.code, r.err)
		}
	}
	if d := loadDrawer(t, path); len(d.Motors) != runs+1 {
		t.Errorf("%d motors, want %d", len(d.Motors), runs+1)
	}
}

func TestAddToALockedFile(t *testing.T) {
	path := writeTemp(t, "d.yaml", "motors:\n  - {id: a, stator: 1404, kv: 3900}\n")
	held, err := files.Hold(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if got := runIn(t, ctx, session.Streams{}, "add", path, "motor 2004 2900kv"); got.code != 130 {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	held.Release()
	if got := run(t, "add", path, "motor 2004 2900kv"); got.code != 0 {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}

// Property: of runs at once that write one new drawer, one does.
func TestManyNewAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "d.yaml")
	var wait sync.WaitGroup
	codes := make([]int, 8)
	for i := range codes {
		wait.Go(func() {
			var out, errs bytes.Buffer
			codes[i] = Run(context.Background(), []string{"new", path, "--example"}, session.Streams{Out: &out, Err: &errs})
		})
	}
	wait.Wait()
	wrote := 0
	for _, code := range codes {
		switch code {
		case exit.CodeOK:
			wrote++
		case exit.CodeData:
		default:
			t.Errorf("exit %d", code)
		}
	}
	text, err := os.ReadFile(path)
	if wrote != 1 || err != nil || !bytes.Equal(text, starter) {
		t.Errorf("%d wrote it, %v", wrote, err)
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}
