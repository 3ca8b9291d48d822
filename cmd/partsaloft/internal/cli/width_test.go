package cli

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/cmd/partsaloft/internal/topics"
)

// onTerminal runs a command line on a terminal of so many columns.
func onTerminal(t *testing.T, columns int, args ...string) ran {
	t.Helper()
	return runIn(t, context.Background(), session.Streams{OutTerminal: true, ErrTerminal: true, Columns: columns,
		NoColor: true}, args...)
}

// tokens counts the words and numbers of a text, without the marks that a layout puts around them.
func tokens(text string) map[string]int {
	have := map[string]int{}
	for _, one := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \n();:,\\─", r) }) {
		have[one]++
	}
	return have
}

// Property: on a terminal no line is wider than that, unless one word is, and no value is lost.
func TestTerminalsGetLinesThatFit(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	folder := t.TempDir()
	lines := [][]string{
		{"rank", "-n4", "--variants", "-d", drawer}, {"rank", "--limit", "all_up_g=..20", "-d", drawer},
		{"explain", "1", "--packs", "--class-g", "100", "-d", drawer}, {"compare", "1", "2", "3", "-d", drawer},
		{"vary", "1", "-d", drawer}, {"plan", "race", "cruise", "-d", drawer}, {"check", "-d", drawer}, {"styles"},
		{"bench", "--motor", "m1507-27", "--prop", "p3.5-26x3,p3.5-23x2", "--volts", "3S,4S", "-d", drawer},
		{"bench", "--prop", "p3.5-26x3", "--rpm", "8000", "-d", drawer},
		{"learn", "-d", drawer, "-o", filepath.Join(folder, "x.learned.yaml")}, {"help"}, {"help", "completion"},
	}
	for _, c := range newRoot(&commands{&session.Session{}}).Commands() {
		lines = append(lines, []string{c.Name(), "--help"})
	}
	for _, topic := range topics.New() {
		lines = append(lines, []string{"help", topic.Name()})
	}
	for _, args := range lines {
		want := run(t, args...)
		for _, columns := range []int{60, 80, 120} {
			got := onTerminal(t, columns, args...)
			if got.code != want.code || len(got.out) < 100 {
				t.Fatalf("%v on %d columns: exit %d, want %d\n%s", args, columns, got.code, want.code, got.err)
			}
			for line := range strings.Lines(strings.ReplaceAll(got.out+got.err, "\r", "\n")) {
				n, longest := utf8.RuneCountInString(strings.TrimRight(line, "\n")), 0
				for _, word := range strings.Fields(line) {
					longest = max(longest, utf8.RuneCountInString(word))
				}
				if n > columns && longest < columns-15 {
					t.Errorf("%v: a line of %d columns on %d: %s", args, n, columns, line)
				}
			}
			have := tokens(got.out)
			for one, n := range tokens(want.out) {
				// The head of a column without a value may be left out.
				if have[one] < n && !(one == "by" && have[one] == n-1) {
					t.Errorf("%v on %d columns: %q stands there %d times, want %d", args, columns, one, have[one], n)
				}
			}
		}
	}
}

// Property: what goes wrong is told within the terminal as well.
func TestErrorsFitTheTerminal(t *testing.T) {
	bad := writeTemp(t, "drawer.yaml", "motors:\n  - id: a\n    stator: \"1404\"\n    kv: -920\n    mass: 3\n    colour: red\n")
	for _, args := range [][]string{{"rank", "-d", bad}, {"check", "-d", bad}, {"explain", "--pick", "motor=x,wing=y"},
		{"rank", "--weights", "grip"}, {"rank", "no-such-drawer.yaml"}} {
		got := onTerminal(t, 60, args...)
		if got.code == 0 || got.out+got.err == "" {
			t.Errorf("%v: exit %d", args, got.code)
		}
		for line := range strings.Lines(strings.ReplaceAll(got.out+got.err, "\r", "\n")) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 60 {
				t.Errorf("%v: a line of %d columns: %s", args, n, line)
			}
		}
		piped := run(t, args...)
		if a, b := strings.Fields(piped.out+piped.err), strings.Fields(got.out+got.err); strings.Join(a, " ") !=
			strings.Join(b, " ") {
			t.Errorf("%v: other words on a terminal:\n%s%s", args, got.out, got.err)
		}
	}
}
