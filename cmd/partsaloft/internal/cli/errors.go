package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/strict"
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

// noArguments refuses words that are no flags. Most often they are the drawer's file.
func noArguments(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return fmt.Errorf("%s takes no word by itself, got %q: a drawer is named with --drawer FILE", c.Name(), args[0])
}

// flagError says in a pilot's words what is wrong with a flag's value.
func flagError(c *cobra.Command, err error) error {
	var invalid *pflag.InvalidValueError
	if !errors.As(err, &invalid) {
		return unknownFlag(c, err)
	}
	what := map[string]string{
		"int": "a whole number", "int64": "a whole number", "uint64": "a whole number from 0", "float64": "a number",
		"float64Slice": "numbers with commas between, such as 11.1,14.8", "bool": "true or false",
	}[invalid.GetFlag().Value.Type()]
	if what == "" {
		return err
	}
	return fmt.Errorf("--%s must be %s, got %q", invalid.GetFlag().Name, what, invalid.GetValue())
}

// shellWord is a word as it is typed: in quotes if a shell would take it apart.
func shellWord(word string) string {
	if word != "" && !strings.ContainsFunc(word, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != filepath.Separator &&
			!strings.ContainsRune("-_./:+,@%=", r)
	}) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// unknownCommand says which word of a command line names no command, and which command is near; if all its words are
// known, err is what is wrong.
func unknownCommand(root *cobra.Command, args []string, err error) error {
	found, rest, missing := root.Find(args)
	if missing == nil || found != root || root.ParseFlags(rest) != nil || root.Flags().NArg() == 0 {
		return err
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	word := root.Flags().Arg(0)
	return fmt.Errorf("there is no command %q%s", word, didYouMean(word, names))
}

// unknownFlag says which flag is near one that the command does not have.
func unknownFlag(c *cobra.Command, err error) error {
	var missing *pflag.NotExistError
	if !errors.As(err, &missing) {
		return err
	}
	name := missing.GetSpecifiedName()
	if len(name) < 2 {
		return fmt.Errorf("there is no flag -%s", name)
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := strict.Nearest(name, names); near != "" {
		return fmt.Errorf("%s has no flag --%s; did you mean --%s?", c.Name(), name, near)
	}
	return fmt.Errorf("%s has no flag --%s", c.Name(), name)
}

func didYouMean(word string, known []string) string {
	if near := strict.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %s?", near)
	}
	return ""
}

// strictHelp makes help and completion refuse what there is not, which they would pass over. It has to
// follow SetOut, for completion keeps the stream that it is made with.
func strictHelp(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "help":
			c.Args = func(_ *cobra.Command, args []string) error {
				found, rest, err := root.Find(args)
				if len(args) == 0 || err == nil && found != nil && len(rest) == 0 {
					return nil
				}
				var names []string
				for _, c := range root.Commands() {
					names = append(names, c.Name())
				}
				return fmt.Errorf("there is no help on %q%s", strings.Join(args, " "), didYouMean(args[0], names))
			}
		case "completion":
			c.RunE = func(c *cobra.Command, args []string) error {
				var shells []string
				for _, shell := range c.Commands() {
					shells = append(shells, shell.Name())
				}
				return usagef("name a shell: %s", phrase.Words(shells))
			}
			c.Args = cobra.ArbitraryArgs
		}
	}
}
