package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
)

func newAdd(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   `add [FILE] "PART"`,
		Short: "Add a part to a drawer from a description in your words",
		Long: `add reads a part from free text, appends it to the drawer FILE and says what it understood of which
words. Comments, order and every other line of the file stay. Words that mean nothing to it are kept in
the part's note. If something that must be given is missing, or the file has faults, nothing is written.
If there is no such file, it is started. With "-" for PART, many parts are read from the standard input,
one a line, as new reads a list.

Name the kind: motor, prop, pack, frame, board, or an extra's role; it can be left out where kv, blades, mAh
or a wheelbase show it. Numbers carry their units; x4 is a count; any key of the drawer may be written as key=value. Without
FILE it is the drawer that --drawer names, or drawer.yaml in this folder.`,
		Example: `  partsaloft add drawer.yaml "motor 1404 3900kv 9.3g x4 12x12 2-4S"
  partsaloft add drawer.yaml "prop 5.1x4.3x3 3.9g bore 5mm nut 4cw 4ccw"
  partsaloft add drawer.yaml "pack 4S 1300 100C XT60 155g x2 id=big"
  partsaloft add drawer.yaml "frame 3 inch 31g 9x9 25.5x25.5 stack"
  partsaloft add drawer.yaml "board 20/25A 2-4S 25.5x25.5 8g XT30"
  partsaloft add drawer.yaml camera 14mm 2.1g 0.5W always`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) < 2 && s.Options.Drawer == "" && (isFile(args[0]) || !s.FindDrawer()) {
				return errors.New(`name a drawer and say what to add, such as add drawer.yaml "motor 1404 3900kv 9.3g x4"`)
			}
			if s.Options.Drawer != "" && len(args) > 1 && isFile(args[0]) {
				return fmt.Errorf("both --drawer and %s name a file to add to: name one", args[0])
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			path := s.Options.Drawer
			if path == "" && (isFile(args[0]) || isDrawerName(args[0]) || !s.FindDrawer()) {
				path, args = args[0], args[1:]
			} else {
				path = s.Options.Drawer
			}
			return s.add(c.Context(), path, strings.Join(args, " "))
		},
	}, session.UsesDrawer|session.UsesResult)
}

func isFile(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func (s *commands) add(ctx context.Context, path, words string) error {
	if path == session.StandardInput {
		return exit.Usagef("\"-\" cannot be added to: name the drawer's file")
	}
	// What is no file is refused before it is held, and so are words that are no part of a new one.
	_, err := s.Read(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	started := err != nil
	name := filepath.Base(path)
	if started && !isDrawerName(path) {
		return exit.Data(fmt.Errorf("%s: there is no such file; name a drawer first, such as drawer.yaml, which is started "+
			"where it is missing", name))
	}
	if started {
		if _, _, err = s.entered(name, nil, words); err != nil {
			return err
		}
	}
	held, err := files.Hold(ctx, path)
	if err != nil {
		return fmt.Errorf("nothing was added: %w", err)
	}
	defer held.Release()
	text, err := s.Read(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	changed, show, err := s.entered(name, text, words)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := held.Write(changed); err != nil {
		return fmt.Errorf("nothing was added: %w", err)
	}
	if started {
		s.Remark("%s is new.", name)
	}
	// The part is in: an interrupt is too late to keep the answer back.
	return show(context.WithoutCancel(ctx), path)
}

// entered is the text of a drawer with what words describe, and what shows that.
func (s *commands) entered(name string, text []byte, words string) ([]byte, func(context.Context, string) error,
	error) {
	if words == session.StandardInput {
		return s.enteredList(name, text)
	}
	d, changed, err := intake.Add(s.Head(), name, text, words)
	var list inventory.Faults
	var refused *intake.NotAdded
	switch {
	case errors.As(err, &refused):
		return nil, nil, exit.Usagef("nothing was added: %w%s", refused.Faults, readLines(refused.ReadAs))
	case errors.As(err, &list):
		return nil, nil, exit.Data(err)
	case err != nil:
		return nil, nil, exit.Data(fmt.Errorf("%s: nothing was added: %w", name, err))
	}
	return changed, func(ctx context.Context, _ string) error { return s.Deliver(ctx, d, session.Sheet{Page: addedPage(d)}) },
		nil
}

// enteredList is entered for the list on the standard input.
func (s *commands) enteredList(name string, text []byte) ([]byte, func(context.Context, string) error, error) {
	lines, err := s.Read(session.StandardInput)
	if err != nil {
		return nil, nil, err
	}
	b := intake.Batch{Drawer: name, Text: text, List: session.FileName(session.StandardInput), Lines: lines}
	d, changed, err := s.enter(&b)
	switch {
	case errors.Is(err, intake.ErrNoPart):
		return nil, nil, s.noPart(context.Background(), d, "nothing was added to "+name)
	case err != nil:
		return nil, nil, exit.Data(err)
	}
	return changed, func(ctx context.Context, path string) error {
		return s.Deliver(ctx, d, session.Sheet{
			Page: listPage(d, fmt.Sprintf("Added %s to %s:", d.Words.Holds, d.Drawer), path)})
	}, nil
}

// addedPage shows a part that was added.
func addedPage(d *intake.Added) render.Page {
	t := &render.Table{Columns: []render.Column{render.Left("key"), render.Left("value"), render.Left("from")}}
	for _, said := range d.Understood {
		t.Add(said.Key, said.Value, said.Words)
	}
	page := render.Page{render.Paragraph(fmt.Sprintf("Added the %s %s to %s:", d.Kind, d.ID, d.Drawer)), t}
	if d.ReadAs != nil {
		page.Add(render.Paragraph("Check how this was read:"), render.List(d.ReadAs))
	}
	if d.Unclear != nil {
		page.Add(render.Paragraph("Not understood, and kept in its note:"), render.List(d.Unclear))
	}
	return page
}

// readLines are how words of a part that was not added were read, each on a line of its own; "" if there are none.
func readLines(readAs []string) string {
	var b strings.Builder
	for _, sentence := range readAs {
		b.WriteString("\n" + sentence)
	}
	return b.String()
}
