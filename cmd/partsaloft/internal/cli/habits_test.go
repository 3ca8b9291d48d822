package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

// Property: short flags and values in capitals mean what the long ones in small letters do, and the drawer may stand as
// a word.
func TestShortFlagsAndCapitals(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	file := filepath.Join(t.TempDir(), "out.csv")
	long := run(t, "rank", "--drawer", drawer, "--style", "race", "--weights", "grip=2,top_speed=1", "--limit",
		"all_up_g=..900", "--with", "camera", "--top", "2", "--method", "exact", "--format", "csv", "--quiet")
	if long.code != exit.CodeOK || long.err != "" || strings.Count(long.out, "\n") != 3 {
		t.Fatalf("exit %d\n%s%s", long.code, long.out, long.err)
	}
	for _, args := range [][]string{
		{"rank", "-d", drawer, "-s", "Race", "-w", "Grip=2,TOP_SPEED=1", "--limit", "All_Up_g=..900", "--with", "Camera",
			"-n", "2", "--method", "Exact", "-f", "CSV", "-q"},
		{"rank", "-q", "-n2", drawer, "-srace", "-fcsv", "-wgrip=2,top_speed=1", "--limit", "all_up_g=..900", "--with",
			"camera"},
		{"--drawer", drawer, "--style", "race", "rank", "-q", "-n2", "-fcsv", "-wgrip=2,top_speed=1", "--limit",
			"all_up_g=..900", "--with", "camera"},
	} {
		if got := run(t, args...); got != long {
			t.Errorf("%v: exit %d\n%s%s", args, got.code, got.out, got.err)
		}
		got := run(t, append(args, "-o", file)...)
		if content, err := os.ReadFile(file); got.code != 0 || got.out != "" || err != nil || string(content) != long.out {
			t.Errorf("%v -o: exit %d, %v\n%s", args, got.code, err, got.err)
		}
	}
	for _, args := range [][]string{{"schema", "DRAWER"}, {"export", "Props", drawer}, {"plan", "Race", "-d", drawer, "--aim",
		"WORST"}} {
		if got := run(t, append(args, "-q")...); got.code != exit.CodeOK {
			t.Errorf("%v: exit %d\n%s", args, got.code, got.err)
		}
	}
}

// Property: the drawer is the one named, else $PARTSALOFT_DRAWER, else drawer.yaml here, else the embedded example, and
// what was found is said unless --quiet asks for silence.
func TestTheDrawerIsFound(t *testing.T) {
	one := func(id string) string { return "motors:\n  - {id: " + id + ", stator: \"1404\", kv: 3900}\n" }
	named, environment := writeTemp(t, "named.yaml", one("named")), writeTemp(t, "other.yaml", one("environment"))
	t.Chdir(t.TempDir())
	tell := func(streams session.Streams, args ...string) ran {
		return runIn(t, context.Background(), streams, append([]string{"export", "motors"}, args...)...)
	}
	if got := tell(session.Streams{}); got.code != 0 || !strings.Contains(got.out, "m1507-27") ||
		!strings.Contains(got.err, "embedded example") {
		t.Errorf("nothing named: exit %d\n%s%s", got.code, got.out, got.err)
	}
	if err := os.WriteFile("drawer.yaml", []byte(one("here")), 0o644); err != nil {
		t.Fatal(err)
	}
	from := session.Streams{Drawer: environment}
	for _, c := range []struct {
		got      ran
		id, says string
	}{
		{tell(session.Streams{}), "here", "Drawer: drawer.yaml in this folder."},
		{tell(session.Streams{}, "--quiet"), "here", ""},
		{tell(from), "environment", "other.yaml, named by $PARTSALOFT_DRAWER."},
		{tell(from, "-q"), "environment", ""},
		{tell(from, "-d", named), "named", ""},
		{tell(from, named), "named", ""},
		{tell(session.Streams{Drawer: environment, In: strings.NewReader(one("typed"))}, "-d", "-"), "typed", ""},
		{tell(session.Streams{In: strings.NewReader(one("typed"))}, "-"), "typed", ""},
	} {
		if c.got.code != 0 || !strings.Contains(c.got.out, "\n"+c.id+",") || !strings.Contains(c.got.err, c.says) ||
			c.says == "" && c.got.err != "" {
			t.Errorf("want %s and %q: exit %d\n%s%s", c.id, c.says, c.got.code, c.got.out, c.got.err)
		}
	}
	if got := tell(session.Streams{Drawer: "nowhere.yaml"}); got.code != exit.CodeData ||
		!strings.Contains(got.err, "named by $PARTSALOFT_DRAWER") || !strings.Contains(got.err, "there is no such file") {
		t.Errorf("exit %d\n%s", got.code, got.err)
	}
	// add takes the one that is found, unless a file is named.
	for _, args := range [][]string{{"add", "motor 2004 2900kv id=more"}, {"add", "motor", "2004", "2900kv", "id=again"}} {
		if got := run(t, args...); got.code != 0 || !strings.Contains(got.err, "Drawer: drawer.yaml in this folder.") {
			t.Errorf("%v: exit %d\n%s%s", args, got.code, got.out, got.err)
		}
	}
	if d := loadDrawer(t, "drawer.yaml"); d.Motor("more") == nil || d.Motor("again") == nil {
		t.Error("add left the drawer that it found as it was")
	}
	if got := run(t, "add", "drawer.yaml"); got.code != exit.CodeUsage {
		t.Errorf("add without a part: exit %d\n%s", got.code, got.err)
	}
	// What learn finds beside the drawer, and writes there, follows the drawer that was found.
	if got := run(t, "learn", "--output", "drawer.yaml"); got.code != exit.CodeUsage {
		t.Errorf("learn wrote over the drawer: exit %d\n%s", got.code, got.err)
	}
}

// Property: what comes on the standard input is read whole once, and is no file that anything is written beside.
func TestTheDrawerOnTheStandardInput(t *testing.T) {
	text, err := os.ReadFile("../../../../examples/racer.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	with := func(args ...string) ran {
		return runIn(t, context.Background(), session.Streams{In: bytes.NewReader(text)}, args...)
	}
	if got := with("rank", "-", "-n1", "-fcsv"); got.code != 0 || strings.Count(got.out, "\n") != 2 || got.err != "" {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	if got := with("check", "--drawer", "-", "-q"); got.code != 0 || !strings.Contains(got.out, "standard input") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	if got := with("learn", "-d", "-"); got.code != 0 || !strings.Contains(got.err, "Nothing was written") {
		t.Errorf("exit %d\n%s", got.code, got.err)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if got := runIn(t, context.Background(), session.Streams{}, "rank", "-"); got.code != exit.CodeData ||
		!strings.Contains(got.err, "standard input") {
		t.Errorf("nothing on the standard input: exit %d\n%s", got.code, got.err)
	}
}

// Regression: which shared flags each command takes. A flag that a command would not look at is not among them.
func TestCommandsTakeTheFlagsThatTheyUse(t *testing.T) {
	const search = "drawer style weights limit with altitude-m temperature-c method max-evals seed learned output "
	for command, want := range map[string]string{
		"rank": search + "top format", "explain": search + "top format", "compare": search + "format",
		"vary": search + "format", "plan": strings.Replace(search, "style ", "", 1) + "format",
		"buy": search + "top format", "check": search + "format", "page": search + "top",
		"flight": "drawer altitude-m temperature-c style format output",
		"listen": "drawer altitude-m temperature-c learned style seed format output", "record": "drawer style format output",
		"learn":  "drawer altitude-m temperature-c style format output",
		"bench":  "drawer altitude-m temperature-c learned seed format output",
		"styles": "style weights limit format output", "schema": "output",
		"export": "drawer output", "import": "drawer output", "add": "drawer format output", "new": "format",
	} {
		c, _, err := newRoot(&commands{&session.Session{}}).Find([]string{command})
		if err != nil {
			t.Fatal(err)
		}
		uses := strings.Fields(want)
		for _, name := range uses {
			if c.Flags().Lookup(name) == nil {
				t.Errorf("%s has no --%s", command, name)
			}
		}
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if slices.Contains(strings.Fields(search+"top format"), f.Name) && !strings.Contains(" "+want+" ", " "+f.Name+" ") {
				t.Errorf("%s takes --%s", command, f.Name)
			}
		})
	}
}

// Property: a build is the same whether it is named by --pick or by its parts, in any order and in capitals; of some of
// its parts the best with them is meant.
func TestBuildsAreNamedByTheirParts(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	tell := func(args ...string) string {
		t.Helper()
		got := run(t, append(args, "-d", drawer, "-q", "-f", "json")...)
		if got.code != exit.CodeOK {
			t.Fatalf("%v: exit %d\n%s", args, got.code, got.err)
		}
		return got.out
	}
	keys := strings.Split(pick, ",")
	var ids []string
	for _, key := range keys {
		_, id, _ := strings.Cut(key, "=")
		ids = append(ids, strings.ToUpper(id))
	}
	slices.Reverse(ids)
	for _, command := range []string{"explain", "vary"} {
		want := tell(command, "--pick", pick)
		for _, words := range [][]string{keys, {pick}, ids} {
			if got := tell(append([]string{command}, words...)...); got != want {
				t.Errorf("%s %v: %s", command, words, firstDifference(got, want))
			}
		}
	}
	var ranking, one rankJSON
	decode(t, tell("rank", "-n20"), &ranking)
	for _, r := range ranking.Results {
		p := r.Parts
		decode(t, tell("explain", p.Motor, p.Prop, "pack="+p.Pack), &one)
		if got := one.Results[0].Parts; got.Motor != p.Motor || got.Prop != p.Prop || got.Pack != p.Pack ||
			got.Frame != p.Frame || got.Board != p.Board {
			t.Errorf("%s, %s and %s: the best is %+v, explained is %+v", p.Motor, p.Prop, p.Pack, p, got)
		}
	}
	both := tell("compare", "k4s-720", pick)
	if both != tell("compare", "pack=k4s-720", "--pick", pick) {
		t.Error("compare tells words and --pick apart")
	}
}

// Cells of a pack are voltages at 3.7 V each, and that is said.
func TestBenchTakesCells(t *testing.T) {
	drawer := smallClub(t)
	args := []string{"bench", "--motor", "m1507-27", "--prop", "p3.5-26x3", "-d", drawer, "-q", "--volts"}
	cells, volts := run(t, append(args, "4s, 3S")...), run(t, append(args, "14.8,11.1")...)
	says := "4S is read as 14.8 V at the ESC, 3.7 V a cell. 3S is read as 11.1 V at the ESC, 3.7 V a cell.\n\n"
	if cells.code != 0 || strings.Replace(cells.out, says, "", 1) != volts.out || !strings.Contains(cells.out, says) {
		t.Errorf("exit %d\n%s%s", cells.code, cells.err, firstDifference(cells.out, volts.out))
	}
}
