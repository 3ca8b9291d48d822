package main

import (
	"path/filepath"
	"strings"
	"testing"
)

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
