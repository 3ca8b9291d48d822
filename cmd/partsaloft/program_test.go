package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/cli"
)

const examples = "../../examples/"

// partsaloft runs a command line and returns what it printed.
func partsaloft(t *testing.T, code int, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if got := cli.Run(t.Context(), args, cli.Streams{Out: &out, Err: &errs}); got != code {
		t.Fatalf("partsaloft %s: exit %d, want %d: %s", strings.Join(args, " "), got, code, errs.String())
	}
	return out.String()
}

// long reports whether tests are to run in their long form.
func long() bool { return os.Getenv("PARTSALOFT_LONG") != "" }
