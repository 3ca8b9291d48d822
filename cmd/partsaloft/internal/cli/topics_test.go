package cli

import (
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
