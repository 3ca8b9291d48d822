package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/cli"
	"partsaloft/cmd/partsaloft/internal/session"
)

const examples = "../../examples/"

// outcome is what a command line left behind.
type outcome struct {
	code     int
	out, err string
}

// carryOut carries out a command line.
func carryOut(args ...string) outcome {
	var out, errs bytes.Buffer
	code := cli.Run(context.Background(), args, session.Streams{Out: &out, Err: &errs, NoColor: true})
	return outcome{code, out.String(), errs.String()}
}

// partsaloft carries out a command line that ends with a code, and returns what it printed.
func partsaloft(t *testing.T, code int, args ...string) string {
	t.Helper()
	got := carryOut(args...)
	if got.code != code {
		t.Fatalf("partsaloft %s: exit %d, want %d: %s", strings.Join(args, " "), got.code, code, got.err)
	}
	return got.out
}

// long reports whether tests are to run in their long form.
func long() bool { return os.Getenv("PARTSALOFT_LONG") != "" }
