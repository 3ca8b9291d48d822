package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory/strict"
)

// unknownCommand says in one line which command was not found, and which is near.
func unknownCommand(root *cobra.Command, args []string, err error) error {
	if !strings.HasPrefix(err.Error(), "unknown command") {
		return err
	}
	for _, word := range args {
		if strings.HasPrefix(word, "-") || !strings.HasPrefix(err.Error(), fmt.Sprintf("unknown command %q", word)) {
			continue
		}
		var names []string
		for _, c := range root.Commands() {
			names = append(names, c.Name())
		}
		return fmt.Errorf("there is no command %q%s", word, didYouMean(word, names))
	}
	return err
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
				return usagef("name a shell: %s", catalogue.Words(shells))
			}
			c.Args = cobra.ArbitraryArgs
		}
	}
}
