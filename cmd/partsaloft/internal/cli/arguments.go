package cli

import (
	"path/filepath"
	"strings"
	"unicode"

	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

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
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != filepath.Separator && !strings.ContainsRune("-_./:+,@%=", r)
	}) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
