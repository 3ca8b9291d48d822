package faults

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/strict"
)

// mistake is a drawer with a slip, what is said of it, and whether check --fix mends all of it.
type mistake struct {
	name, drawer, says string
	mended             bool
}

// readMistakes reads blocks of "== name", the drawer, "-- mended" or "-- left", and the sentences.
func readMistakes(t *testing.T, text string) []mistake {
	t.Helper()
	var list []mistake
	for block := range strings.SplitSeq(strings.TrimPrefix(text, "== "), "\n== ") {
		name, rest, _ := strings.Cut(block, "\n")
		drawer, answer, _ := strings.Cut(rest, "\n-- ")
		verdict, says, _ := strings.Cut(answer, "\n")
		list = append(list, mistake{name, drawer + "\n", strings.TrimRight(says, "\n"), verdict == "mended"})
	}
	return list
}

// Mistakes that pilots make in a drawer (common practice, no source), each with the sentences that they get for it. Whether
// it is mended was judged by hand; the sentences are refreshed by -update.
func TestMistakesOfPilots(t *testing.T) {
	const file = "testdata/mistakes.txt"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	mistakes := readMistakes(t, string(text))
	if len(mistakes) < 40 {
		t.Errorf("%d mistakes, want 40", len(mistakes))
	}
	var b strings.Builder
	for i := range mistakes {
		m := &mistakes[i]
		_, err := inventory.Read("drawer.yaml", strings.NewReader(m.drawer))
		var list strict.Faults
		if err != nil && !errors.As(err, &list) {
			t.Fatal(err)
		}
		var lines []string
		for k := range list {
			lines = append(lines, Fault(&list[k]))
		}
		says := strings.Join(lines, "\n")
		fixed, _, err := edit.Fix("drawer.yaml", []byte(m.drawer), func(*inventory.Drawer) map[string][]string { return nil })
		verdict := "left"
		if err == nil {
			verdict = "mended"
		}
		if says != m.says && !*update {
			t.Errorf("%s: it says\n%s\nwant\n%s", m.name, says, m.says)
		}
		if (err == nil) != m.mended {
			t.Errorf("%s: mended %v, %v\n%s", m.name, err == nil, err, fixed)
		}
		if _, faulty := inventory.Read("drawer.yaml", bytes.NewReader(fixed)); err == nil && faulty != nil {
			t.Errorf("%s: %v", m.name, faulty)
		}
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString("== " + m.name + "\n" + m.drawer + "-- " + verdict + "\n" + says)
	}
	if *update {
		if err := os.WriteFile(file, []byte(b.String()+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
