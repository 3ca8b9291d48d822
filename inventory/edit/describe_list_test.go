package edit

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"partsaloft/inventory"
)

// outcome is what is read of a description, in one line: the kind with its keys but the id, what is not understood,
// what is asked, and which words are read by the trade's habits.
func outcome(text string) string {
	d, err := Describe(text, &inventory.Drawer{})
	var b strings.Builder
	if d == nil {
		b.WriteString("no part")
	} else {
		b.WriteString(string(d.Kind))
		note := strings.Join(d.Unclear, ", ")
		for _, s := range d.Understood {
			if s.Key != "id" && (s.Key != "note" || strings.Trim(s.Value, `"`) != note) {
				b.WriteString("; " + s.Key + " " + s.Value)
			}
		}
		for _, words := range d.Unclear {
			b.WriteString(" | not understood: " + words)
		}
		for _, p := range d.Readings {
			b.WriteString(" | " + string(p.Code))
		}
	}
	var faults inventory.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			if f.Code != "free.not_understood" {
				b.WriteString(" | asked: " + strings.TrimSpace(f.Path+" "+string(f.Code)))
			}
		}
	} else if err != nil {
		b.WriteString(" | error: " + err.Error())
	}
	return b.String()
}

// What pilots write on bags, in lists and in posts (common practice, no source), with what must be read and asked.
// Each line of the list was judged by hand; it is not refreshed by the program.
func TestDescriptions(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "descriptions.txt"))
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for line := range strings.Lines(string(text)) {
		description, want, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " => ")
		if !ok {
			continue
		}
		count++
		if got := outcome(description); got != want {
			t.Errorf("%s\ngot  %s\nwant %s", description, got, want)
		}
	}
	if count < 300 {
		t.Errorf("only %d descriptions", count)
	}
}

// No number of a description is lost: it was read, or is repeated as not understood (property).
func TestDescribeLosesNoNumber(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "descriptions.txt"))
	if err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`\d+(?:[.,]\d+)*`)
	kindNumber := regexp.MustCompile(`(?i)4 ?-?in-? ?1`)
	for line := range strings.Lines(string(text)) {
		description, _, _ := strings.Cut(line, " => ")
		d, _ := Describe(description, &inventory.Drawer{})
		if d == nil {
			continue
		}
		words := strings.Join(d.Unclear, " ")
		for _, s := range d.Understood {
			words += " " + s.Words
		}
		for _, n := range number.FindAllString(kindNumber.ReplaceAllString(description, ""), -1) {
			if !strings.Contains(words, n) {
				t.Errorf("%s: %s is neither read nor repeated: %s", description, n, words)
			}
		}
	}
}
