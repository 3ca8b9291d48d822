package cli

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

// starter is a commented drawer with one part of each kind.
//
//go:embed starter.yaml
var starter []byte

func newNew(s *commands) *cobra.Command {
	var example bool
	c := &cobra.Command{
		Use:   "new FILE [LIST]",
		Short: "Start a drawer: from your list of parts, or empty",
		Long: `new writes a drawer. From LIST, a text file, it reads your parts in your own words, one a line; "-" reads
them from the standard input. Bullets, numbers, blank lines and # comments are fine, and a heading such
as "Motors:" says what the lines below it are. Lines that are not a part yet are shown with the reason and
kept in the drawer as comments.

Without LIST the drawer is empty, with an example of every key as a comment; with --example it holds
invented parts. A file that exists is never overwritten.`,
		Example: `  partsaloft new my-drawer.yaml parts.txt
  partsaloft new empty-drawer.yaml
  partsaloft new example-drawer.yaml --example`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0 || args[0] == "":
				return errors.New("name the file to write, such as new drawer.yaml")
			case len(args) > 2:
				return fmt.Errorf("new takes the file to write and one list of parts, got %d names", len(args))
			case len(args) == 2 && example:
				return errors.New("--example fills the drawer with invented parts: leave it or the list out")
			case args[0] == session.StandardInput:
				return errors.New(`"-" is no file to write: name one first, such as new drawer.yaml -`)
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := c.Context().Err(); err != nil {
				return err
			}
			if len(args) == 2 {
				return s.newFromList(c.Context(), args[0], args[1])
			}
			content, next := intake.Empty(starter), "Put your parts in"
			if example {
				content, next = starter, "Put your parts in place of the invented ones"
			}
			if err := s.create(c.Context(), args[0], content); err != nil {
				return err
			}
			return s.say("%s is written. %s, then: partsaloft check --drawer %s", filepath.Base(args[0]), next,
				session.ShellWord(args[0]))
		},
	}
	c.Flags().BoolVar(&example, "example", false, "fill the drawer with invented parts")
	return s.Take(c, session.UsesFormat)
}

// create writes a file that must not be there yet.
func (s *commands) create(ctx context.Context, path string, content []byte) error {
	err := files.Create(ctx, path, content)
	switch name := filepath.Base(path); {
	case errors.Is(err, fs.ErrExist) && !isDrawerName(path):
		return exit.Data(fmt.Errorf("%s exists already and is left as it is; to read it as a list of parts: "+
			"partsaloft new drawer.yaml %s", name, session.ShellWord(path)))
	case errors.Is(err, fs.ErrExist):
		return exit.Data(fmt.Errorf("%s exists already and is left as it is: name another file, or take that one away first",
			name))
	case err != nil:
		return fmt.Errorf("nothing was written: %w", err)
	}
	return nil
}

// isDrawerName reports whether a file is called as drawers are.
func isDrawerName(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	return ext == ".yaml" || ext == ".yml"
}

// say prints a sentence as the result.
func (s *commands) say(format string, args ...any) error {
	_, err := fmt.Fprintln(s.Streams.Out, render.Wrap(render.Clean(fmt.Sprintf(format, args...)), s.Screen().Width(), ""))
	return err
}

// newFromList writes a drawer with the parts of a list.
func (s *commands) newFromList(ctx context.Context, path, list string) error {
	lines, err := s.Read(list)
	if err != nil {
		return err
	}
	b := intake.Batch{Drawer: filepath.Base(path), List: session.FileName(list), Lines: lines}
	d, text, err := s.enter(&b)
	switch {
	case errors.Is(err, intake.ErrNoPart):
		return s.noPart(ctx, d, filepath.Base(path)+" is not written")
	case err != nil:
		return exit.Data(err)
	}
	if err := s.create(ctx, path, text); err != nil {
		return err
	}
	return s.Deliver(context.WithoutCancel(ctx), d, session.Sheet{
		Page: listPage(d, fmt.Sprintf("%s is written with %s from %s:", d.Drawer, d.Words.Holds, d.List), path)})
}

// noPart shows why no line of a list is a part.
func (s *commands) noPart(ctx context.Context, d *intake.Listed, outcome string) error {
	if err := s.Deliver(ctx, d, session.Sheet{Page: notReadBlocks(d)}); err != nil {
		return err
	}
	return exit.Data(fmt.Errorf("%s: no line of it is a part, so %s", d.List, outcome))
}

// listPage shows what became of a list, and what to type next for the drawer at a path.
func listPage(d *intake.Listed, lead, path string) render.Page {
	t := &render.Table{Columns: []render.Column{render.Right("line"), render.Left("part").Titled(), render.Left("read as").Wrapped(50)}}
	for i := range d.Parts {
		p := &d.Parts[i]
		t.Add(strconv.Itoa(p.Line), p.ID, p.Reading())
	}
	page := render.Page{render.Paragraph(lead), t}
	if d.Words.ReadAs != nil {
		page.Add(render.Paragraph("Check how this was read:"), render.List(d.Words.ReadAs))
	}
	if d.Words.Unclear != nil {
		page.Add(render.Paragraph("Not understood, and kept in the part's note:"), render.List(d.Words.Unclear))
	}
	page.Add(notReadBlocks(d)...)
	word := session.ShellWord(path)
	if d.Words.NotRead != nil {
		page.Add(render.Paragraph(fmt.Sprintf("Rewrite these lines one by one: partsaloft add %s \"…\"", word)))
	}
	if d.Words.Lacks != "" {
		page.Add(render.Paragraph(d.Words.Lacks))
	} else {
		page.Add(render.Paragraph(fmt.Sprintf("Next: partsaloft rank --drawer %s", word)))
	}
	return page
}

func notReadBlocks(d *intake.Listed) render.Page {
	if d.Words.NotRead == nil {
		return nil
	}
	return render.Page{render.Paragraph("Not in the drawer yet:"), render.List(d.Words.NotRead)}
}
