package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func writeTable(t *testing.T, text string) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "t.csv"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return folder
}

// Property: every fault of a table is said with its file and line.
func TestTableFaults(t *testing.T) {
	for name, tt := range map[string]struct {
		text string
		says []string
	}{
		"empty":  {"", []string{"t.csv: no head line"}},
		"column": {"a\n1\n", []string{`t.csv:1: column "b" is missing`}},
		"twice":  {"a,b,a\n1,2,3\n", []string{`t.csv:1: column "a" stands there twice`}},
		"ragged": {"a,b\n1\n", []string{"t.csv", "line 2"}},
		"number": {"a,b\n1,x\ny,2\n", []string{`t.csv:2: b must be a number, got "x"`,
			`t.csv:3: a must be a number, got "y"`}},
		"missing":  {"a,b\n1,\n", []string{"t.csv:2: b is empty"}},
		"infinite": {"a,b\n1,Inf\nNaN,2\n", []string{"t.csv:2: b must be a number", "t.csv:3: a must be a number"}},
	} {
		table, err := readTable(writeTable(t, tt.text), "t.csv", "a", "b")
		if err == nil {
			for i := range table.rows {
				table.number(i, "a")
				table.number(i, "b")
			}
			err = table.err()
		}
		for _, want := range tt.says {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: error %v does not say %q", name, err, want)
			}
		}
	}
	table, err := readTable(writeTable(t, "a,b,c\n1, 2.5 ,x\n,,\n"), "t.csv", "a", "b")
	if err != nil {
		t.Fatal(err)
	}
	if x := table.number(0, "b"); x != 2.5 {
		t.Errorf("b is %g, want 2.5", x)
	}
	if _, ok := table.maybe(1, "a"); ok || table.err() != nil {
		t.Errorf("an empty cell may be empty: %v", table.err())
	}
}

// Property: a missing folder and an unknown step are errors that say so.
func TestRunFaults(t *testing.T) {
	for _, args := range [][]string{nil, {"a", "b", "c"}, {"nowhere", "nothing"}, {filepath.Join(t.TempDir(), "none"),
		"props"}} {
		if err := run(&strings.Builder{}, args); err == nil {
			t.Errorf("%q ran", args)
		}
	}
	if err := run(&strings.Builder{}, []string{"x", "nothing"}); err == nil || !strings.Contains(err.Error(), "props") {
		t.Errorf("an unknown step gives %v, which does not name the steps", err)
	}
}
