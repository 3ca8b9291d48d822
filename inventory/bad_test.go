package inventory

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestBadDrawers is a regression test: each bad drawer gives exactly its golden codes and values.
func TestBadDrawers(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d bad drawers (%v), want at least 60", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, err := Read(filepath.Base(file), bytes.NewReader(text))
			var faults Faults
			if !errors.As(err, &faults) || d != nil {
				t.Fatalf("got drawer %v and error %v, want faults alone", d, err)
			}
			checkFaults(t, text, faults)
			got := faults.Error() + "\n"
			golden := strings.TrimSuffix(file, ".yaml") + ".txt"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
}

// checkFaults holds what every list of faults must hold: positions inside the text, in order, and
// lines that a terminal can show.
func checkFaults(t *testing.T, text []byte, faults Faults) {
	t.Helper()
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(text)), "\n")
	last := Fault{}
	for _, f := range faults {
		switch {
		case f.Code == "":
			t.Errorf("no code in %+v", f)
		case f.Line == 0 && f.Column != 0, f.Line < 0, f.Line > len(lines):
			t.Errorf("line outside the text: %v", f)
		case f.Line > 0 && (f.Column < 1 || f.Column > len([]rune(lines[f.Line-1]))+2):
			t.Errorf("column outside the line %q: %v", lines[f.Line-1], f)
		case f.Line > 0 && (f.Line < last.Line || f.Line == last.Line && f.Column < last.Column):
			t.Errorf("out of order: %v after %v", f, last)
		}
		if i := strings.IndexFunc(f.Error(), func(r rune) bool { return !unicode.IsPrint(r) }); i >= 0 {
			t.Errorf("unprintable character in %q", f.Error())
		}
		last = f
	}
	if bytes.Contains([]byte(faults.Error()), []byte("yaml:")) && !strings.Contains(faults.Error(), ".yaml:") {
		t.Errorf("the library's own message shines through: %v", faults)
	}
}
