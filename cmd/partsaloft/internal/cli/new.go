package cli

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"partsaloft/cmd/partsaloft/internal/render"
)

// starter is a commented drawer to begin with.
//
//go:embed starter.yaml
var starter []byte

func newNew(s *session) *cobra.Command {
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
			if err := writeNew(args[0], starter); err != nil {
				return err
			}
			name := filepath.Base(args[0])
			_, err := fmt.Fprintln(s.streams.Out, render.Wrap(render.Clean(fmt.Sprintf("%s is written. Put your parts in, then: partsaloft check --drawer %s", name, shellWord(args[0]))), render.Width, ""))
			return err
		},
	}
}

// shellWord is a path as it is typed: in quotes if a shell would take it apart.
func shellWord(path string) string {
	if strings.ContainsFunc(path, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_./\\:~+,@%", r)
	}) {
		return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
	}
	return path
}

// writeNew puts a file in place whole, and only if there is none yet.
func writeNew(path string, content []byte) (err error) {
	if _, statErr := os.Lstat(path); statErr == nil {
		return existsError(path)
	}
	f, err := temporary(path, 0o666)
	var refused *fs.PathError
	if errors.As(err, &refused) {
		err = fmt.Errorf("%s: %w", path, refused.Err)
	}
	if err != nil {
		return fmt.Errorf("nothing was written: %w", err)
	}
	defer os.Remove(f.Name())
	if err := fill(f, content); err != nil {
		return fmt.Errorf("nothing was written: %w", err)
	}
	// A link, unlike a rename, fails if another run was faster.
	switch err := os.Link(f.Name(), path); {
	case os.IsExist(err):
		return existsError(path)
	case err == nil:
		return nil
	}
	if _, statErr := os.Lstat(path); statErr == nil {
		return existsError(path)
	}
	if err := os.Rename(f.Name(), path); err != nil { // no links on this file system
		return fmt.Errorf("nothing was written: %w", err)
	}
	return nil
}

func existsError(path string) error {
	return dataError{fmt.Errorf("%s exists already and is left as it is: name another file, or take that one away first", filepath.Base(path))}
}
