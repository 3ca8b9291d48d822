package reference

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
		table, err := Read(writeTable(t, tt.text), "t.csv", "a", "b")
		if err == nil {
			for i := range table.Rows {
				table.Number(i, "a")
				table.Number(i, "b")
			}
			err = table.Err()
		}
		for _, want := range tt.says {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: error %v does not say %q", name, err, want)
			}
		}
	}
	table, err := Read(writeTable(t, "a,b,c\n1, 2.5 ,x\n,,\n"), "t.csv", "a", "b")
	if err != nil {
		t.Fatal(err)
	}
	if x := table.Number(0, "b"); x != 2.5 {
		t.Errorf("b is %g, want 2.5", x)
	}
	if _, ok := table.Maybe(1, "a"); ok || table.Err() != nil {
		t.Errorf("an empty cell may be empty: %v", table.Err())
	}
}
