package cli

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/cmd/partsaloft/internal/topics"
)

// Property: topics fit a terminal, and every command and flag that they name is there.
func TestTopicsNameWhatThereIs(t *testing.T) {
	root := newRoot(&commands{&session.Session{}})
	flag := regexp.MustCompile(`--([a-z][a-z-]+)`)
	command := regexp.MustCompile(`"partsaloft ([a-z-]+)`)
	for _, topic := range topics.New() {
		got := run(t, "help", topic.Name())
		if got.code != 0 || got.err != "" || len(got.out) < 200 {
			t.Fatalf("%s: exit %d\n%s%s", topic.Name(), got.code, got.out, got.err)
		}
		for _, line := range strings.Split(got.out, "\n") {
			if utf8.RuneCountInString(line) > render.Width+4 {
				t.Errorf("%s: a line of %d characters: %s", topic.Name(), utf8.RuneCountInString(line), line)
			}
		}
		for _, m := range command.FindAllStringSubmatch(got.out, -1) {
			if found, _, err := root.Find([]string{m[1]}); err != nil || found == root && m[1] != "help" {
				t.Errorf("%s names the command %s, which there is not", topic.Name(), m[1])
			}
		}
		for _, m := range flag.FindAllStringSubmatch(got.out, -1) {
			if !slices.ContainsFunc(root.Commands(), func(c *cobra.Command) bool { return c.Flag(m[1]) != nil }) {
				t.Errorf("%s names the flag --%s, which there is not", topic.Name(), m[1])
			}
		}
	}
	codes := run(t, "help", "exit-codes").out
	for _, code := range []string{"0 ", "1 ", "2 ", "3 ", "4 ", "130 "} {
		if !strings.Contains("\n"+codes, "\n"+code) {
			t.Errorf("exit code %s is not explained", code)
		}
	}
}

// Property: the style that the topic shows is one.
func TestTheTopicsStyleIsSound(t *testing.T) {
	text := ""
	for _, topic := range topics.New() {
		if topic.Name() == "style" {
			text = topic.Long
		}
	}
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "  ") {
			lines = append(lines, strings.TrimPrefix(line, "  "))
		}
	}
	if _, err := session.ReadStyle("onshore.yaml", []byte(strings.Join(lines, "\n"))); err != nil {
		t.Error(err)
	}
}

// Property: what pilots look for leads to a topic, no word leads to two, and an unknown word offers the nearest.
func TestWordsOfPilotsFindTheirTopic(t *testing.T) {
	for word, topic := range map[string]string{
		"battery": "packs", "lipo": "packs", "plug": "packs", "kv": "motors", "esc": "motors", "propeller": "props",
		"whoop": "props", "mass": "weight", "grams": "weight", "250g": "weight", "weights": "style", "grip": "score",
		"osd": "throttle", "heat": "throttle", "trust": "certainty", "accuracy": "errors", "log": "readings",
		"model": "physics", "csv": "formats", "spreadsheet": "formats", "quickstart": "start", "camera": "drawer",
	} {
		if got, want := run(t, "help", word), run(t, "help", topic); got.code != 0 || got.out != want.out {
			t.Errorf("help %s does not lead to %s: exit %d\n%.200s%s", word, topic, got.code, got.out, got.err)
		}
	}
	taken := map[string]string{}
	for _, c := range newRoot(&commands{&session.Session{}}).Commands() {
		for _, word := range append([]string{c.Name()}, c.Aliases...) {
			if taken[word] != "" {
				t.Errorf("%s leads to %s and to %s", word, taken[word], c.Name())
			}
			taken[word] = c.Name()
		}
	}
	for word, want := range map[string]string{"batery": "did you mean battery?", "wombats": "lists the commands and topics"} {
		if got := run(t, "help", word); got.code != 2 || !strings.Contains(got.err, want) {
			t.Errorf("help %s: exit %d, %s", word, got.code, got.err)
		}
	}
}

// Property: every line of README's table of errors stands in the table that help prints.
func TestReadmesErrorsAreThoseOfTheTopic(t *testing.T) {
	readme, err := os.ReadFile("../../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := regexp.MustCompile(`(?m)^\| (.+) \| (.+) \| ([\d.]+) / ([\d.]+) % \| (.+) \|$`).FindAllStringSubmatch(
		string(readme), -1)
	if len(rows) < 8 {
		t.Fatalf("%d rows", len(rows))
	}
	all := strings.Join(strings.Fields(run(t, "help", "errors").out), " ")
	for _, row := range rows {
		if want := "from " + row[2] + " " + row[3] + " / " + row[4] + " % ("; !strings.Contains(all, want) ||
			!strings.Contains(all, row[1]+" from ") || !strings.Contains(all, ") "+row[5]) {
			t.Errorf("not in the table that help prints: %s", row[0])
		}
	}
}
