package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
)

var update = flag.Bool("update", false, "write the golden files anew")

// ran is what one command line left behind.
type ran struct {
	code     int
	out, err string
}

func run(t *testing.T, args ...string) ran {
	t.Helper()
	return runIn(t, context.Background(), session.Streams{}, args...)
}

func runIn(t *testing.T, ctx context.Context, streams session.Streams, args ...string) ran {
	t.Helper()
	var out, err bytes.Buffer
	streams.Out, streams.Err = &out, &err
	code := Run(ctx, args, streams)
	return ran{code, out.String(), err.String()}
}

// skipLong leaves out what takes long and adds nothing under the race detector: tests of what is said, where one of
// what every command does runs the same goroutines.
func skipLong(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("takes long")
	}
}

// long reports whether tests are to run in their long form.
func long() bool { return os.Getenv("PARTSALOFT_LONG") != "" }

// golden compares with a file of testdata, which -update writes.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run go test -update to write it", err)
	}
	if got != string(want) {
		t.Errorf("%s differs from what was printed (go test -update writes it anew):\n%s", name,
			firstDifference(got, string(want)))
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			other := "(nothing)"
			if i < len(w) {
				other = w[i]
			}
			return "got:  " + g[i] + "\nwant: " + other
		}
	}
	return "the golden file goes on"
}

func writeTemp(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// loadDrawer reads the drawer in a file.
func loadDrawer(t *testing.T, path string) *inventory.Drawer {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read(filepath.Base(path), bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestUsageErrors(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"fly"}, `there is no command "fly"`},
		{[]string{"rank", "--fast"}, "rank has no flag --fast"},
		{[]string{"rank", "drawer.yaml", "more.yaml"}, "more.yaml"},
		{[]string{"rank", "--format", "xml"}, "--format must be one of table, json, csv, markdown"},
		{[]string{"rank", "--method", "quick"}, "--method must be one of auto, exact, genetic"},
		{[]string{"rank", "--top", "0"}, "--top must be from 1"},
		{[]string{"rank", "--top", "many"}, "--top"},
		{[]string{"rank", "--max-evals", "-1"}, "--max-evals"},
		{[]string{"rank", "--altitude-m", "20000"}, "--altitude-m must be from -500 to 9000"},
		{[]string{"rank", "--temperature-c", "nan"}, "--temperature-c must be from -40 to 60"},
		{[]string{"rank", "--drawer", ""}, "--drawer names no file"},
		{[]string{"rank", "--style", "cruze"}, "not a built-in style (cruise, freestyle, race, indoor, hall)"},
		{[]string{"styles", "--weights", "grip"}, "write AXIS=NUMBER"},
		{[]string{"styles", "--weights", "grip=0"}, "all weights are 0"},
		{[]string{"styles", "--limit", "weight=..250"}, "unknown figure \"weight\"; use the key of a figure"},
		{[]string{"styles", "--limit", "all_up_g=250"}, "write ..250 (at most)"},
	} {
		got := run(t, c.args...)
		if got.code != 2 || got.out != "" || !strings.Contains(got.err, c.says) || strings.Count(got.err, "Usage:") != 1 {
			t.Errorf("%v: exit %d, want 2 and %q:\n%s%s", c.args, got.code, c.says, got.out, got.err)
		}
	}
}

func TestBadDataNamesFileAndLineAndPrintsNoUsage(t *testing.T) {
	bad := writeTemp(t, "drawer.yaml", "motors:\n  - id: a\n    stator: \"1404\"\n    kv: -920\n")
	style := writeTemp(t, "style.yaml", "weights: {grip: 1, speed: 2}\nflying: {segments: [{kind: hover, share_pct: "+
		"40}]}\n")
	missing := filepath.Join(t.TempDir(), "nowhere.yaml")
	for _, c := range []struct {
		args []string
		says []string
	}{
		{[]string{"rank", "--drawer", bad}, []string{"drawer.yaml:4:9: motor a: kv ", "-920"}},
		{[]string{"rank", "--drawer", missing}, []string{"nowhere.yaml: there is no such file"}},
		{[]string{"rank", "--drawer", t.TempDir()}, []string{"is a folder, not a file"}},
		{[]string{"styles", "--style", style}, []string{"style.yaml:1:", "weights.speed", "style.yaml:2:", "add up to 100"}},
		{[]string{"styles", "--style", missing}, []string{"there is no such file"}},
	} {
		got := run(t, c.args...)
		if got.code != 3 || got.out != "" || strings.Contains(got.err, "Usage:") {
			t.Errorf("%v: exit %d, want 3:\n%s%s", c.args, got.code, got.out, got.err)
		}
		for _, says := range c.says {
			if !strings.Contains(got.err, says) {
				t.Errorf("%v: %q is missing in:\n%s", c.args, says, got.err)
			}
		}
	}
}

func TestCheckReportsFaultsAsItsResult(t *testing.T) {
	bad := writeTemp(t, "drawer.yaml", "motors:\n  - id: a\n    stator: \"1404\"\n    kv: -920\n    mass: 3\n")
	got := run(t, "check", "--drawer", bad)
	if got.code != 3 || !strings.Contains(got.out, "drawer.yaml:4:9: motor a: kv ") ||
		!strings.Contains(got.err, "2 faults") {
		t.Errorf("exit %d\n%s\n%s", got.code, got.out, got.err)
	}
	got = run(t, "check", "--drawer", bad, "--format", "json", "--quiet")
	var d struct {
		SchemaVersion int `json:"schema_version"`
		Drawer        string
		Faults        []answer.Fault
		Notes, Fits   []any
	}
	if err := json.Unmarshal([]byte(got.out), &d); err != nil {
		t.Fatal(err)
	}
	if got.code != 3 || got.err != "" || d.SchemaVersion != 3 || d.Drawer != "drawer.yaml" || len(d.Faults) != 2 ||
		d.Faults[0].Line != 4 || d.Faults[0].Path != "motors[0].kv" || d.Notes == nil || d.Fits == nil {
		t.Errorf("exit %d, %+v\n%s", got.code, d, got.err)
	}
}

func TestHelpAndVersionGoToStandardOutput(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"help", "rank"}, {"rank", "-h"}, {"--version"}, nil} {
		if got := run(t, args...); got.code != 0 || got.out == "" || got.err != "" {
			t.Errorf("%v: exit %d\n%s\n%s", args, got.code, got.out, got.err)
		}
	}
}

func TestQuietSaysNothingBesideTheResult(t *testing.T) {
	bench := []string{"bench", "--prop", "p3.5-26x3", "--rpm", "9000"}
	if loud := run(t, bench...); loud.code != 0 || !strings.Contains(loud.err, "embedded example") {
		t.Errorf("exit %d, %q", loud.code, loud.err)
	}
	if quiet := run(t, append(bench, "--quiet")...); quiet.code != 0 || quiet.err != "" {
		t.Errorf("exit %d, %q", quiet.code, quiet.err)
	}
}

func TestColourOnlyOnATerminalThatWantsIt(t *testing.T) {
	for _, c := range []struct {
		streams session.Streams
		want    bool
	}{
		{session.Streams{}, false}, {session.Streams{OutTerminal: true}, true},
		{session.Streams{OutTerminal: true, NoColor: true}, false},
		{session.Streams{ErrTerminal: true}, false},
	} {
		got := runIn(t, context.Background(), c.streams, "styles")
		if strings.Contains(got.out, "\x1b") != c.want {
			t.Errorf("%+v: escape sequences %v", c.streams, !c.want)
		}
	}
	file := filepath.Join(t.TempDir(), "styles.txt")
	runIn(t, context.Background(), session.Streams{OutTerminal: true}, "styles", "--output", file)
	if content, err := os.ReadFile(file); err != nil || bytes.ContainsRune(content, '\x1b') {
		t.Errorf("a file got escape sequences, or %v", err)
	}
}

func TestInterruptedWritesNothing(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	file := filepath.Join(t.TempDir(), "out.txt")
	got := runIn(t, ctx, session.Streams{}, "styles", "--output", file)
	if got.code != 130 || got.out != "" || !strings.Contains(got.err, "interrupted") {
		t.Errorf("exit %d, %q, %q", got.code, got.out, got.err)
	}
	if entries, _ := os.ReadDir(filepath.Dir(file)); len(entries) != 0 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestEveryFormatOfTheSmallCommands(t *testing.T) {
	small := smallClub(t)
	for _, command := range []string{"styles", "check"} {
		for _, format := range session.Formats {
			args := []string{command, "--format", format, "--quiet"}
			if format != "table" && command == "check" && !long() {
				args = append(args, "--drawer", small)
			}
			got := run(t, args...)
			if got.code != 0 || got.err != "" {
				t.Fatalf("%s as %s: exit %d\n%s", command, format, got.code, got.err)
			}
			if command == "styles" || format == "table" {
				golden(t, command+"."+format, got.out)
			}
			if format != "csv" {
				continue
			}
			if again := run(t, args...); again != got {
				t.Errorf("%s as %s: two runs differ", command, format)
			}
		}
	}
}
