package exit

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/strict"
)

// NoArguments refuses words that are no flags.
func NoArguments(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if c.Flags().Lookup("drawer") == nil {
		return fmt.Errorf("%s takes no word by itself, got %q", c.Name(), args[0])
	}
	return fmt.Errorf("%s takes no word by itself, got %q: a drawer is named with --drawer FILE", c.Name(), args[0])
}

// OneDrawer allows one word, the name of a drawer's file.
func OneDrawer(c *cobra.Command, args []string) error {
	if len(args) < 2 {
		return nil
	}
	return fmt.Errorf("%s takes one word, the drawer's file, got %q as well", c.Name(), args[1])
}

// FlagError says in a pilot's words what is wrong with a flag's value.
func FlagError(c *cobra.Command, err error) error {
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

// UnknownCommand says which word of a command line names no command, and which command is near; if all its words are
// known, err is what is wrong.
func UnknownCommand(root *cobra.Command, args []string, err error) error {
	found, rest, missing := root.Find(args)
	root.FParseErrWhitelist.UnknownFlags = true // those of the command that was meant
	if missing == nil || found != root || root.ParseFlags(rest) != nil || root.Flags().NArg() == 0 {
		return err
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	word := root.Flags().Arg(0)
	return fmt.Errorf("there is no command %q%s", word, DidYouMean(word, names))
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

// DidYouMean asks for the known word that is nearest, "" if none is near.
func DidYouMean(word string, known []string) string {
	if near := strict.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %s?", near)
	}
	return ""
}

// StrictHelp makes help and completion refuse what there is not, which they would pass over. It has to
// follow SetOut, for completion keeps the stream that it is made with.
func StrictHelp(root *cobra.Command) {
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
					names = append(append(names, c.Name()), c.Aliases...)
				}
				near := DidYouMean(args[0], names)
				if near == "" {
					near = `; "partsaloft --help" lists the commands and topics`
				}
				return fmt.Errorf("there is no help on %q%s", strings.Join(args, " "), near)
			}
		case "completion":
			c.RunE = func(c *cobra.Command, args []string) error {
				var shells []string
				for _, shell := range c.Commands() {
					shells = append(shells, shell.Name())
				}
				return Usagef("name a shell: %s", phrase.Words(shells))
			}
			c.Args = cobra.ArbitraryArgs
		}
	}
}
