package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

func newAdd(s *commands) *cobra.Command {
	return &cobra.Command{
		Use:   `add [FILE] "PART"`,
		Short: "Add a part to a drawer from a description in your words",
		Long: `add reads a part from free text, appends it to the drawer FILE and says what it understood of which
words. Comments, order and every other line of the file stay. Words that mean nothing to it are kept in
the part's note. If something that must be given is missing, or the file has faults, nothing is written.

Name the kind: motor, prop, pack, frame, board, or an extra's role; it can be left out where kv, blades, mAh
or a wheelbase show it. Numbers carry their units; x4 is a count; any key of the drawer may be written as key=value. Without FILE name the drawer with
--drawer.`,
		Example: `  partsaloft add drawer.yaml "motor 1404 3900kv 9.3g x4 12x12 2-4S"
  partsaloft add drawer.yaml "prop 5.1x4.3x3 3.9g bore 5mm nut 4cw 4ccw"
  partsaloft add drawer.yaml "pack 4S 1300 100C XT60 155g x2 id=big"
  partsaloft add drawer.yaml "frame 3 inch 31g 9x9 25.5x25.5 stack"
  partsaloft add drawer.yaml "board 20/25A 2-4S 25.5x25.5 8g XT30"
  partsaloft add drawer.yaml camera 14mm 2.1g 0.5W always`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 && (s.Options.Drawer == "" || len(args) < 1) {
				return errors.New(`name a drawer and say what to add, such as add drawer.yaml "motor 1404 3900kv 9.3g x4"`)
			}
			if _, err := os.Stat(args[0]); err == nil && s.Options.Drawer != "" && len(args) > 1 {
				return fmt.Errorf("both --drawer and %s name a file to add to: name one", args[0])
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			path := s.Options.Drawer
			if path == "" {
				path, args = args[0], args[1:]
			}
			return s.add(c.Context(), path, strings.Join(args, " "))
		},
	}
}

// addDocument is the JSON of add.
type addDocument struct {
	answer.Head
	Kind          string     `json:"kind"`
	ID            string     `json:"id"`
	Understood    []saidJSON `json:"understood"`
	NotUnderstood []string   `json:"not_understood"`
	// ReadAs says how words were read whose meaning is the trade's habit.
	ReadAs []string `json:"read_as,omitempty"`
}

// saidJSON is a key with its value and the words that it was read from, empty for what was made up.
type saidJSON struct {
	Key   string `json:"key"`
	Value string `json:"value"`
	Words string `json:"words"`
}

func (s *commands) add(ctx context.Context, path, words string) error {
	// What is no file is refused before it is held.
	if _, err := s.ReadParts(path); err != nil {
		return err
	}
	held, err := files.Hold(ctx, path)
	if err != nil {
		return fmt.Errorf("nothing was added: %w", err)
	}
	defer held.Release()
	text, err := s.ReadParts(path)
	if err != nil {
		return err
	}
	name := filepath.Base(path)
	drawer := &inventory.Drawer{Name: name}
	if !edit.Blank(text) {
		if drawer, err = inventory.Read(name, bytes.NewReader(text)); err != nil {
			return exit.Data(err)
		}
	}
	part, err := edit.Describe(words, drawer)
	if err != nil {
		return exit.Usagef("nothing was added: %w%s", err, readLines(part))
	}
	changed, err := edit.Append(name, text, part)
	if err != nil {
		return exit.Data(fmt.Errorf("%s: nothing was added: %w", name, err))
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := held.Write(changed); err != nil {
		return fmt.Errorf("nothing was added: %w", err)
	}
	// The part is in: an interrupt is too late to keep the answer back.
	d := addedDocument(s.Head(), name, part)
	if drawer, err = inventory.Read(name, bytes.NewReader(changed)); err != nil {
		return exit.Data(err)
	}
	d.Care = answer.CareOf(&answer.Scene{Drawer: drawer})
	page := render.Page{render.Paragraph(fmt.Sprintf("Added the %s %s to %s:", d.Kind, d.ID, name)), d.understood()}
	if d.ReadAs != nil {
		page.Add(render.Paragraph("Check how this was read:"), render.List(d.ReadAs))
	}
	if part.Unclear != nil {
		var list render.List
		for _, words := range part.Unclear {
			p := part.Unknown(words)
			if way := faults.Way(&p); way != "" {
				words += " (" + way + ")"
			}
			list = append(list, words)
		}
		page.Add(render.Paragraph("Not understood, and kept in its note:"), list)
	}
	return s.Deliver(context.WithoutCancel(ctx), d, session.Sheet{Page: page})
}

func addedDocument(head answer.Head, drawer string, part *edit.Described) *addDocument {
	head.Drawer = drawer
	d := &addDocument{Head: head, Kind: string(part.Kind), ID: part.ID, Understood: []saidJSON{},
		NotUnderstood: append([]string{}, part.Unclear...)}
	for _, said := range part.Understood {
		d.Understood = append(d.Understood, saidJSON{said.Key, said.Value, said.Words})
	}
	for i := range part.Readings {
		d.ReadAs = append(d.ReadAs, faults.Problem(&part.Readings[i]))
	}
	return d
}

// readLines are how words of a part that was not added were read, each on a line of its own; "" if there are none.
func readLines(part *edit.Described) string {
	var b strings.Builder
	if part != nil {
		for i := range part.Readings {
			b.WriteString("\n" + faults.Problem(&part.Readings[i]))
		}
	}
	return b.String()
}

// Rows is what was understood as a table of plain values.
func (d *addDocument) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"key", "value", "from"}}
	for _, said := range d.Understood {
		rows.Add(said.Key, said.Value, said.Words)
	}
	return rows
}

func (d *addDocument) understood() *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("key"), render.Left("value"), render.Left("from")}}
	for _, said := range d.Understood {
		t.Add(said.Key, said.Value, said.Words)
	}
	return t
}
