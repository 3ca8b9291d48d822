package cli

import (
	"context"
	"errors"
	"fmt"
)

// Exit codes.
const (
	exitOK          = 0
	exitFailure     = 1
	exitUsage       = 2
	exitData        = 3
	exitNothing     = 4
	exitInterrupted = 130
)

// usageError is a command line that asks for what there is not.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// dataError is a file that cannot be used as it is.
type dataError struct{ error }

func (e dataError) Unwrap() error { return e.error }

// errNothing is returned after the result was written: no combination is feasible.
var errNothing = errors.New("no combination is feasible")

// errFaulty is returned after the faults of a file were written as the result.
var errFaulty = dataError{errors.New("the drawer has faults")}

// errBestSoFar is returned after an interrupted search showed the best that it had found.
var errBestSoFar = fmt.Errorf("what is shown is the best so far: %w", context.Canceled)

// exitCode is the exit code that an error asks for.
func exitCode(err error) int {
	var usage usageError
	var data dataError
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &usage):
		return exitUsage
	case errors.As(err, &data):
		return exitData
	case errors.Is(err, errNothing):
		return exitNothing
	}
	return exitFailure
}
