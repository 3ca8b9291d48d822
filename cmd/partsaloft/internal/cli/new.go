package cli

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

// starter is a commented drawer to begin with.
//
//go:embed starter.yaml
var starter []byte

func newNew(s *commands) *cobra.Command {
	return &cobra.Command{
		Use:   "new FILE",
		Short: "Write a commented drawer to start from",
		Long: `new writes a drawer with one invented part of each kind and a comment on every key, for you to put
your own parts in. It does not overwrite a file.`,
		Example: "  partsaloft new my-drawer.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 || args[0] == "" {
				return errors.New("name the file to write, such as new my-drawer.yaml")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := c.Context().Err(); err != nil {
				return err
			}
			if s.Options.Output != "" {
				return exit.Usagef("new writes the file that follows it: leave out --output")
			}
			name := filepath.Base(args[0])
			err := files.Create(c.Context(), args[0], starter)
			switch {
			case errors.Is(err, fs.ErrExist):
				return exit.Data(fmt.Errorf(
					"%s exists already and is left as it is: name another file, or take that one away first", name))
			case err != nil:
				return fmt.Errorf("nothing was written: %w", err)
			}
			_, err = fmt.Fprintln(s.Streams.Out, render.Wrap(render.Clean(fmt.Sprintf("%s is written. Put your parts in, "+
				"then: partsaloft check --drawer %s", name, session.ShellWord(args[0]))), render.Width, ""))
			return err
		},
	}
}
