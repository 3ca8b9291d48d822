package cli

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/examples"
)

// clubCopy puts the embedded drawer into a folder of its own, a cut of it in the short form.
func clubCopy(t *testing.T) string {
	t.Helper()
	if !long() {
		return smallClub(t)
	}
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		t.Fatal(err)
	}
	return writeTemp(t, "club.yaml", string(content))
}

// Regression: what learn prints for the embedded drawer, in every format, within the width of a
// page, the same twice.
func TestLearnGoldens(t *testing.T) {
	skipLong(t)
	for _, format := range session.Formats {
		got := run(t, "learn", "--format", format, "--quiet")
		if got.code != 0 || got.err != "" {
			t.Errorf("%s: exit %d\n%s", format, got.code, got.err)
		}
		golden(t, "learn."+format, got.out)
		if format == "json" && long() { // learning twice is compared in its table as well
			if again := run(t, "learn", "--format", format, "--quiet"); again != got {
				t.Errorf("%s: two runs differ: %s", format, firstDifference(again.out, got.out))
			}
		}
		for _, wrong := range []string{"NaN", "Inf", "%!", "e+0", "\x1b"} {
			if strings.Contains(got.out, wrong) {
				t.Errorf("%s prints %q", format, wrong)
			}
		}
		for line := range strings.Lines(got.out) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); format == "table" && n > render.Width {
				t.Errorf("a line of %d columns: %s", n, line)
			}
		}
	}
}

// learnJSON is what the tests read of learn's document.
type learnJSON struct {
	LearnedFile string `json:"learned_file"`
	Entries     []struct {
		Entry, Line int
		Readings    []struct {
			Key                    string
			Measured, SD           float64
			Before, After, LeftOut struct{ Value, Low, High *float64 }
			Fits                   bool
		}
	}
	Parts []struct {
		Kind, ID, Text string
		Changes        []struct {
			Factor, Low, High             float64
			DoubtBeforePct, DoubtAfterPct float64
			Readings                      int
		}
	}
	LeftOut struct{ Before, After float64 } `json:"left_out"`
}

// Property: the document has an entry for every entry of the log, every part says what was found
// in words, and on the whole the predictions come nearer to the readings.
func TestLearnDocument(t *testing.T) {
	var d learnJSON
	decode(t, run(t, "learn", "--format", "json", "--quiet").out, &d)
	if len(d.Entries) == 0 || len(d.Parts) == 0 || d.LearnedFile != "" {
		t.Fatalf("%d entries, %d parts, file %q", len(d.Entries), len(d.Parts), d.LearnedFile)
	}
	var before, after float64
	for i, e := range d.Entries {
		if e.Entry != i+1 || e.Line == 0 || len(e.Readings) == 0 {
			t.Errorf("entry %d: %+v", i, e)
		}
		for _, r := range e.Readings {
			if r.Before.Value == nil || r.After.Value == nil || r.SD <= 0 {
				t.Fatalf("entry %d: %+v", i, r)
			}
			before += (*r.Before.Value - r.Measured) * (*r.Before.Value - r.Measured) / (r.SD * r.SD)
			after += (*r.After.Value - r.Measured) * (*r.After.Value - r.Measured) / (r.SD * r.SD)
		}
	}
	if after >= before/2 {
		t.Errorf("squared errors in the readings' own: %.1f before, %.1f after", before, after)
	}
	for _, p := range d.Parts {
		if p.Text == "" || len(p.Changes) == 0 {
			t.Errorf("%s %s: %+v", p.Kind, p.ID, p)
		}
		for _, c := range p.Changes {
			if !(c.Low < c.Factor && c.Factor < c.High) {
				t.Errorf("%s %s: factor %g from %g to %g", p.Kind, p.ID, c.Factor, c.Low, c.High)
			}
		}
	}
	if d.LeftOut.After > d.LeftOut.Before {
		t.Errorf("left out: %+v", d.LeftOut)
	}
}

// The learned file lies beside the drawer, is used from then on and said so, and can be named or
// passed over; the drawer keeps its bytes.
func TestLearnedFileIsFoundAndUsed(t *testing.T) {
	skipLong(t)
	drawer := clubCopy(t)
	was, _ := os.ReadFile(drawer)
	bare := run(t, "rank", "--drawer", drawer, "--top", "2", "--quiet")
	got := run(t, "learn", "--drawer", drawer)
	file := filepath.Join(filepath.Dir(drawer), "club.learned.yaml")
	if got.code != 0 || !strings.Contains(strings.ReplaceAll(got.err, "\n", " "),
		"club.learned.yaml: the other commands use it") {
		t.Fatalf("exit %d\n%s", got.code, got.err)
	}
	if now, _ := os.ReadFile(drawer); string(now) != string(was) {
		t.Error("the drawer was written")
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(drawer), ".*.part")); left != nil {
		t.Errorf("left over: %v", left)
	}
	first, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	found := run(t, "rank", "--drawer", drawer, "--top", "2", "--quiet")
	if found.code != 0 || !strings.Contains(found.out, "corrected by club.learned.yaml, learned from") ||
		found.out == bare.out {
		t.Errorf("found: exit %d, %s", found.code, firstDifference(found.out, bare.out))
	}
	if !strings.Contains(strings.ToLower(found.out), "your readings") {
		t.Error("rank does not say what was moved")
	}
	if none := run(t, "rank", "--drawer", drawer, "--top", "2", "--quiet", "--learned", ""); none != bare {
		t.Errorf(`--learned "" is not as without a file: %s`, firstDifference(none.out, bare.out))
	}
	if named := run(t, "rank", "--drawer", drawer, "--top", "2", "--quiet", "--learned", file); named != found {
		t.Errorf("named and found differ: %s", firstDifference(named.out, found.out))
	}
	for _, args := range [][]string{
		{"explain", "1"}, {"compare", "1", "2"}, {"vary", "--pick", pick}, {"check"},
		{"bench", "--motor", "m1303.5-51", "--prop", "p2-24x3", "--volts", "7.4"},
	} {
		text, document := args[0] != "explain" || long(), args[0] == "explain" || args[0] == "bench" || long()
		if text {
			with := run(t, append(slices.Clone(args), "--drawer", drawer, "--quiet")...)
			if with.code != 0 || !strings.Contains(with.out, "corrected by club.learned.yaml") {
				t.Errorf("%v: exit %d\n%s%s", args, with.code, with.err, with.out)
			}
		}
		if !document {
			continue // their documents' heads are written as the others' are
		}
		got := run(t, append(slices.Clone(args), "--drawer", drawer, "--quiet", "--format", "json")...)
		if !strings.Contains(got.out, `"learned": "club.learned.yaml"`) {
			t.Errorf("%v does not say in JSON what it was corrected by", args)
		}
	}
	// Learning again starts from the drawer, not from what was learned.
	if again := run(t, "learn", "--drawer", drawer); again.out != got.out {
		t.Errorf("learning twice: %s", firstDifference(again.out, got.out))
	}
	if second, _ := os.ReadFile(file); string(second) != string(first) {
		t.Error("learning twice writes other bytes")
	}
}

// A learned file that no longer holds is refused where it was named and passed over where it was
// found, both with the reason.
func TestStaleLearnedFile(t *testing.T) {
	drawer := clubCopy(t)
	if got := run(t, "learn", "--drawer", drawer); got.code != 0 {
		t.Fatal(got.err)
	}
	content, _ := os.ReadFile(drawer)
	if err := os.WriteFile(drawer, []byte(strings.Replace(string(content), "kv: 5150", "kv: 5250", 1)),
		0o644); err != nil {
		t.Fatal(err)
	}
	const why = "motor m1303.5-51 was learned with"
	file := filepath.Join(filepath.Dir(drawer), "club.learned.yaml")
	if got := run(t, "rank", "--drawer", drawer, "--learned", file); got.code != 3 || !strings.Contains(got.err, why) {
		t.Errorf("named: exit %d\n%s", got.code, got.err)
	}
	got := run(t, "check", "--drawer", drawer)
	if got.code != 0 || !strings.Contains(strings.ReplaceAll(got.err, "\n", " "), why) ||
		strings.Contains(got.out, "corrected by") {
		t.Errorf("found: exit %d\n%s", got.code, got.err)
	}
	if got := run(t, "rank", "--drawer", drawer, "--learned", drawer); got.code != 3 ||
		!strings.Contains(got.err, "schema_version") {
		t.Errorf("no learned file: exit %d\n%s", got.code, got.err)
	}
	if got := run(t, "rank", "--drawer", drawer, "--learned", "nowhere.yaml"); got.code != 3 ||
		!strings.Contains(got.err, "no such file") {
		t.Errorf("no file: exit %d\n%s", got.code, got.err)
	}
}

// Learn never writes over the drawer or over what it has not written, and says what a log lacks.
func TestLearnRefuses(t *testing.T) {
	drawer := clubCopy(t)
	other := filepath.Join(filepath.Dir(drawer), "notes.yaml")
	if err := os.WriteFile(other, []byte("mine: 1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	content, _ := os.ReadFile(drawer)
	head, log, _ := strings.Cut(string(content), "\nlog:")
	// Without benches as well there is nothing to learn from.
	bare := writeTemp(t, "bare.yaml", `
motors: [{id: m, stator: "1204", kv: 6700, cells: [2, 3]}]
props: [{id: p, size: 2.5x1.9x3}]
packs: [{id: k, size: 2S 560 70C}]
frames: [{id: f, mass_g: 20, max_prop_in: 3}]
boards: [{id: b, esc_current_a: 14, cells: [2, 3]}]
`)
	stranger := writeTemp(t, "stranger.yaml", head+"\nlog:"+strings.Replace(log, "motor: m1303.5-51", "motor: m1303.5-52",
		1))
	for _, c := range []struct {
		code int
		args []string
		says string
	}{
		{2, []string{"--drawer", drawer, "--output", drawer}, "which this command reads"},
		{2, []string{"--drawer", drawer, "--output", other}, "notes.yaml exists and is not a learned file"},
		{1, []string{"--drawer", drawer, "--output", filepath.Join(filepath.Dir(drawer), "no", "where.yaml")}, "is not kept"},
		{3, []string{"--drawer", bare}, "bare.yaml: has no log and no bench readings"},
		{3, []string{"--drawer", stranger}, "no motor is called m1303.5-52; did you mean m1303.5-51?"},
	} {
		got := run(t, append([]string{"learn"}, c.args...)...)
		if got.code != c.code || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: exit %d, want %d and %q\n%s", c.args, got.code, c.code, c.says, got.err)
		}
	}
	if got := run(t, "learn", "--drawer", stranger); !strings.Contains(got.err, "stranger.yaml:") ||
		!strings.Contains(got.err, "log[0].parts.motor") {
		t.Errorf("no line: %s", got.err)
	}
	if now, _ := os.ReadFile(other); string(now) != "mine: 1\n" {
		t.Error("it wrote over a file of another kind")
	}
	if got := run(t, "learn", "--drawer", bare); got.code != 3 {
		t.Errorf("exit %d", got.code)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(bare), "bare.learned.yaml")); err == nil {
		t.Error("a file was written although nothing was learned")
	}
}
