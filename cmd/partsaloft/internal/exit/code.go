// Package exit holds how a command line ends: the exit codes, and the errors that lead to them.
package exit

import (
	"context"
	"errors"
	"fmt"

	"partsaloft/cmd/internal/answer"
)

// Exit codes.
const (
	CodeOK          = 0
	CodeFailure     = 1
	CodeUsage       = 2
	CodeData        = 3
	CodeNothing     = 4
	CodeInterrupted = 130
)

// UsageError is a command line that asks for what there is not.
type UsageError struct{ error }

func (e UsageError) Unwrap() error { return e.error }

// Usage says that err is one of the command line.
func Usage(err error) error { return UsageError{err} }

// Usagef is Usage of an error made from words.
func Usagef(format string, args ...any) error { return UsageError{fmt.Errorf(format, args...)} }

// DataError is a file that cannot be used as it is.
type DataError struct{ error }

func (e DataError) Unwrap() error { return e.error }

// Data says that err is one of a file.
func Data(err error) error { return DataError{err} }

// ErrNothing is returned after the result was written: no combination can be flown.
var ErrNothing = errors.New("no combination can be flown")

// Faulty is returned after the faults of a file were written as the result.
var Faulty = DataError{errors.New("the drawer has faults")}

// ErrBestSoFar is returned after an interrupted search showed the best that it had found.
var ErrBestSoFar = fmt.Errorf("what is shown is the best so far: %w", context.Canceled)

// Code is the exit code that an error asks for.
func Code(err error) int {
	var usage UsageError
	var data DataError
	switch {
	case err == nil:
		return CodeOK
	case errors.Is(err, context.Canceled):
		return CodeInterrupted
	case errors.As(err, &usage):
		return CodeUsage
	case errors.As(err, &data):
		return CodeData
	case errors.Is(err, ErrNothing):
		return CodeNothing
	}
	return CodeFailure
}

// Asked tells the command line what an answer refused.
func Asked(err error) error {
	var ask answer.AskError
	var drawer answer.DrawerError
	switch {
	case errors.As(err, &ask):
		return UsageError{err}
	case errors.As(err, &drawer):
		return DataError{err}
	}
	return err
}

// AsData marks an error of a file's content, except for one that says already what it is.
func AsData(err error) error {
	if errors.As(err, new(UsageError)) || errors.As(err, new(DataError)) {
		return err
	}
	return DataError{err}
}
