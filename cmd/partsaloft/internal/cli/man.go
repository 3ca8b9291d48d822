package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/partsaloft/internal/exit"
)

func newMan(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "man DIR",
		Short: "Write the manual pages of all commands into a folder",
		Long: `man writes one manual page a command and topic, partsaloft-rank.1 and so on, into the folder DIR, which
is made if it is missing. Pages of an earlier run are replaced; any other file of such a name is left
alone, and then nothing is written. Read one with: man DIR/partsaloft-rank.1`,
		Example: `  partsaloft man manual`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return exit.Usagef("name the folder: partsaloft man DIR")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return s.man(c.Context(), c.Root(), args[0]) },
	}, 0)
}

// manPage is a manual page under its file's name.
type manPage struct {
	name string
	text []byte
}

func (s *commands) man(ctx context.Context, root *cobra.Command, folder string) error {
	pages, err := manPages(root)
	if err != nil {
		return err
	}
	for _, p := range pages {
		old, err := os.ReadFile(filepath.Join(folder, p.name))
		if err == nil && !bytes.HasPrefix(old, titleOf(p.text)) {
			return exit.Data(fmt.Errorf("%s: not a manual page of partsaloft; nothing was written: move it, or name another folder",
				filepath.Join(folder, p.name)))
		}
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return exit.Data(fmt.Errorf("%s: cannot be made a folder; name another", folder))
	}
	for _, p := range pages {
		if err := s.Write(ctx, "man", filepath.Join(folder, p.name), p.text); err != nil {
			return err
		}
	}
	s.Remark("%s written to %s.", phrase.Plural(int64(len(pages)), "manual page is", "manual pages are"), folder)
	return nil
}

// titleOf is the first line of a manual page up to its title.
func titleOf(page []byte) []byte {
	at := bytes.Index(page, []byte(".TH "))
	if at < 0 {
		return page
	}
	end := at + 4 + bytes.IndexByte(page[at+4:], ' ')
	return page[:end]
}

// manPages are the manual pages of a command and of those under it, without a date.
func manPages(c *cobra.Command) ([]manPage, error) {
	c.DisableAutoGenTag = true
	c.InitDefaultHelpFlag()
	name := strings.ReplaceAll(c.CommandPath(), " ", "-")
	undated := time.Unix(0, 0).UTC()
	var b bytes.Buffer
	header := &doc.GenManHeader{Title: strings.ToUpper(name), Section: "1", Date: &undated, Source: "partsaloft"}
	if err := doc.GenMan(c, header, &b); err != nil {
		return nil, err
	}
	text := bytes.ReplaceAll(b.Bytes(), []byte(undated.Format(`"Jan 2006"`)), []byte(`""`))
	pages := []manPage{{name + ".1", text}}
	for _, under := range c.Commands() {
		if !under.IsAvailableCommand() && !under.IsAdditionalHelpTopicCommand() || under.Hidden {
			continue
		}
		more, err := manPages(under)
		if err != nil {
			return nil, err
		}
		pages = append(pages, more...)
	}
	return pages, nil
}
