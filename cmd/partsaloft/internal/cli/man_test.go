package cli

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

// Every command and topic has a manual page with its flags and without a date in its title, the same at every run; a
// file that is none is left alone, and then nothing is written.
func TestManualPages(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "manual")
	if got := run(t, "man", folder); got.code != exit.CodeOK {
		t.Fatal(got.err)
	}
	title := regexp.MustCompile(`(?m)^\.TH "PARTSALOFT[A-Z-]*" "1" "" "partsaloft" ""$`)
	first := map[string]string{}
	for _, c := range newRoot(&commands{&session.Session{}}).Commands() {
		if c.Name() == "help" || c.Hidden {
			continue
		}
		name := "partsaloft-" + c.Name() + ".1"
		first[name] = readFile(t, filepath.Join(folder, name))
		if !title.MatchString(first[name]) || !strings.Contains(first[name], ".SH NAME") {
			t.Errorf("%s begins with %.80s", name, first[name])
		}
	}
	rank := filepath.Join(folder, "partsaloft-rank.1")
	if page := readFile(t, rank); !strings.Contains(page, "variants") || !strings.Contains(page, "partsaloft rank") {
		t.Errorf("the page of rank:\n%.600s", page)
	}
	if err := os.WriteFile(filepath.Join(folder, "partsaloft-add.1"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(rank); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "man", folder); got.code != exit.CodeData || !strings.Contains(got.err, "nothing was written") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	if _, err := os.Stat(rank); err == nil {
		t.Error("a page was written all the same")
	}
	if err := os.Remove(filepath.Join(folder, "partsaloft-add.1")); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "man", folder); got.code != exit.CodeOK {
		t.Fatal(got.err)
	}
	for name, text := range first {
		if readFile(t, filepath.Join(folder, name)) != text {
			t.Errorf("%s differs at the second run", name)
		}
	}
}
