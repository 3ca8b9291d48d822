package cli

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"partsaloft/cmd/internal/render"
)

// inOrder fails unless the phrases stand in a text one after the other.
func inOrder(t *testing.T, what, text string, phrases ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(text), " ")
	if strings.ContainsAny(flat, "{}") {
		t.Errorf("%s: a value is missing:\n%s", what, text)
	}
	for _, phrase := range phrases {
		_, rest, found := strings.Cut(flat, phrase)
		if !found {
			t.Errorf("%s: %q is missing, or stands too early:\n%s", what, phrase, text)
			return
		}
		flat = rest
	}
}

var percentages = regexp.MustCompile(`([0-9.]+) % (?:duty|on the display)`)

// Property: what to build stands first and in words, then what it does, what limits it, dangers, ids, how sure that is,
// the table, and last what was searched. No line is over the width, no cap over 100 %.
func TestTheAnswerStandsFirst(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	styles := []string{"cruise", "freestyle"}
	if !long() {
		styles = styles[:1]
	}
	for _, style := range styles {
		args := []string{"--drawer", drawer, "--style", style, "--quiet"}
		rank := run(t, append([]string{"rank"}, args...)...).out
		inOrder(t, "rank", rank, "Build: ", "Expect ", "throttle", "Parts: motor ",
			"Allowing for uncertainty", "score", "Care:",
			"Searched: ")
		explain := run(t, append([]string{"explain", "2"}, args...)...).out
		inOrder(t, "explain", explain, "Rank 2: ", "Expect ", "throttle", "Parts: motor ", "Score", "Figures",
			"Care:", "Searched: ")
		var document struct {
			Advice  []string
			Results []struct{ Parts map[string]any }
		}
		decode(t, run(t, append([]string{"rank", "--format", "json"}, args...)...).out, &document)
		if len(document.Advice) < 3 {
			t.Fatalf("advice is %q", document.Advice)
		}
		for _, line := range document.Advice {
			for kind, id := range document.Results[0].Parts {
				words := strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(" ,;.", r) })
				if id, ok := id.(string); ok && slices.Contains(words, id) {
					t.Errorf("%s: the id of the %s stands before words: %s", style, kind, line)
				}
			}
			for _, m := range percentages.FindAllStringSubmatch(line, -1) {
				if x, err := strconv.ParseFloat(m[1], 64); err != nil || x > 100 {
					t.Errorf("%s: a cap of %s %%", style, m[1])
				}
			}
		}
		if lines := strings.Split(strings.TrimSpace(rank), "\n\n"); !strings.HasPrefix(lines[len(lines)-1], "Searched: ") {
			t.Errorf("%s: the last paragraph is %q", style, lines[len(lines)-1])
		}
		for line := range strings.Lines(rank + explain) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > render.Width {
				t.Errorf("%s: a line of %d columns: %s", style, n, line)
			}
		}
	}
}

// Property: the other commands say first what to do as well: which crafts, what to get or not, which of two, what to
// change; then what that is, and last what was searched.
func TestWhatToDoStandsFirst(t *testing.T) {
	drawer := smallClub(t)
	for command, phrases := range map[string][]string{
		"plan cruise": {"Build 1 craft from this drawer: cruise.", "cruise: ", "Expect ", "throttle", "Parts: ",
			"Searched: "},
		"compare 1 2": {"Take ", "rank 1: ", "rank 2: ", "Side by side", "score"},
		"vary 1":      {"Rank 1: ", "Expect ", "throttle", "Parts: ", "Score "},
		"buy":         {"uild", "Expect ", "throttle", "Parts: ", "Searched: "},
	} {
		got := run(t, append(strings.Fields(command), "--drawer", drawer, "--quiet")...)
		inOrder(t, command, got.out, phrases...)
		first, _, _ := strings.Cut(got.out, "\n")
		if !slices.ContainsFunc([]string{"Build ", "Take ", "Best change: ", "Leave it as it is", "Buy ", "Measure before you buy"},
			func(start string) bool { return strings.HasPrefix(first, start) }) {
			t.Errorf("%s: the first line says not what to do: %s", command, first)
		}
		for line := range strings.Lines(got.out) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > render.Width {
				t.Errorf("%s: a line of %d columns: %s", command, n, line)
			}
		}
	}
}
