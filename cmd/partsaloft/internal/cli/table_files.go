package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

func newExport(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "export KIND [DRAWER]",
		Short: "Write a list of parts as CSV, for a spreadsheet",
		Long: `export writes the drawer's list of motors, props, packs, frames, boards or extras as CSV. The headings
are the drawer's keys; lists keep their brackets. import brings the sheet back. Comments stay behind.`,
		Example: `  partsaloft export motors --drawer drawer.yaml --output motors.csv
  partsaloft export packs`,
		Args: cobra.MatchAll(cobra.RangeArgs(1, 2), knownKind),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return sections(), cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := s.TakeDrawer(args[1:], session.Any); err != nil {
				return err
			}
			return s.export(c.Context(), args[0])
		},
	}, session.UsesDrawer|session.UsesOutput)
}

func newImport(s *commands) *cobra.Command {
	var only bool
	c := &cobra.Command{
		Use:   "import [KIND] FILE.csv",
		Short: "Bring parts from a spreadsheet (CSV) into a drawer",
		Long: `import reads a CSV file and writes the drawer with its parts. Headings may be your own, such as Motor,
Qty, Weight (g), KV, S, Capacity: each row is read as new reads a line, rows that are not a part yet are
shown with the reason and kept as comments, and other columns go to the note. Without KIND the sheet
says what each row is: by a column Type, by its headings, or by a row such as "Motors" over others.

Where the headings are the drawer's keys, as export writes them, a part whose id the drawer has gets the
sheet's values, others are added, and keys without a heading stay as they are.

Comments and order stay. Without a drawer it begins with an empty one. The drawer that was read is not
changed: give --output another name. Commas, semicolons or tabs may part the cells; decimal commas are
fine.`,
		Example: `  partsaloft import my-parts.csv --output new-drawer.yaml
  partsaloft import motors motors.csv --drawer drawer.yaml --output new-drawer.yaml`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				if _, isKind := inventory.KindNamed(strings.ToLower(args[0])); isKind {
					return fmt.Errorf("name the file too, such as import %s parts.csv", args[0])
				}
				return nil
			}
			return cobra.MatchAll(cobra.ExactArgs(2), knownKind)(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			var kind inventory.Kind
			if len(args) == 2 {
				kind, _ = inventory.KindNamed(strings.ToLower(args[0]))
			}
			return s.importSheet(c.Context(), kind, args[len(args)-1], only)
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return sections(), cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"csv"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.Flags().BoolVar(&only, "only", false, "take the parts out that the sheet does not have")
	return s.Take(c, session.UsesDrawer|session.UsesOutput)
}

// sections are the lists of a drawer that hold parts.
func sections() []string {
	var list []string
	for _, kind := range inventory.Kinds() {
		list = append(list, kind.Section())
	}
	return list
}

func knownKind(_ *cobra.Command, args []string) error {
	if _, ok := inventory.KindNamed(strings.ToLower(args[0])); !ok {
		return fmt.Errorf("%q is not a list of parts: the lists are %s", args[0], strings.Join(sections(), ", "))
	}
	return nil
}

// drawerSource is the text of the drawer that the options name, or of the embedded one, found sound.
func (s *commands) drawerSource() (name string, text []byte, err error) {
	if name, text, err = s.DrawerText(); err != nil {
		return "", nil, err
	}
	if _, err := s.Drawer(name, text); err != nil {
		return "", nil, exit.Data(err)
	}
	return name, text, nil
}

func (s *commands) export(ctx context.Context, kindWord string) error {
	kind, _ := inventory.KindNamed(strings.ToLower(kindWord))
	_, text, err := s.drawerSource()
	if err != nil {
		return err
	}
	rows, err := edit.Rows(text, kind)
	if err != nil {
		return exit.Data(err)
	}
	var b bytes.Buffer
	if err := render.CSV(&b, rows); err != nil {
		return err
	}
	return s.Put(ctx, b.Bytes())
}

func (s *commands) importSheet(ctx context.Context, kind inventory.Kind, path string, only bool) error {
	content, err := s.Read(path)
	if err != nil {
		return err
	}
	if kind == "" || !edit.IsKeySheet(content, kind) {
		if only {
			return exit.Usagef("--only needs a sheet with the drawer's keys as its headings, as export writes one")
		}
		return s.importOwn(ctx, kind, path, content)
	}
	var sheet *edit.Sheet
	if ended := s.Await(func() {
		sheet, err = edit.ReadSheet(filepath.Base(path), kind, bytes.NewReader(content))
	}); ended != nil {
		return ended
	}
	if err != nil {
		return exit.Data(err)
	}
	name, text := "the new drawer", []byte(nil)
	if s.FindDrawer() {
		if name, text, err = s.drawerSource(); err != nil {
			return err
		}
	}
	var changed []byte
	var done *edit.Merged
	if ended := s.Await(func() { changed, done, err = edit.Merge(name, text, sheet, only) }); ended != nil {
		return ended
	}
	if err != nil {
		return exit.Data(err)
	}
	if err := s.Put(ctx, changed); err != nil {
		return err
	}
	s.Remark("%s", mergedSentence(kind, done))
	return nil
}

// enter enters a list of parts, as long as there is no interrupt.
func (s *commands) enter(b *intake.Batch) (*intake.Listed, []byte, error) {
	head := s.Head()
	var d *intake.Listed
	var text []byte
	var err error
	if ended := s.Await(func() { d, text, err = b.Enter(head) }); ended != nil {
		return &intake.Listed{}, nil, ended
	}
	return d, text, err
}

// importOwn is importSheet for a sheet with headings of the pilot's own.
func (s *commands) importOwn(ctx context.Context, kind inventory.Kind, path string, content []byte) error {
	b := intake.Batch{Drawer: "the new drawer", List: session.FileName(path), Lines: content, Sheet: true, Kind: kind}
	if s.FindDrawer() {
		var err error
		if b.Drawer, b.Text, err = s.drawerSource(); err != nil {
			return err
		}
	}
	d, text, err := s.enter(&b)
	if err != nil && !errors.Is(err, intake.ErrNoPart) {
		return exit.Data(err)
	}
	told := render.Page{}
	if d.Words.ReadAs != nil {
		told.Add(render.Paragraph("Check how this was read:"), render.List(d.Words.ReadAs))
	}
	if d.Words.Unclear != nil {
		told.Add(render.Paragraph("Not understood, and kept in the part's note:"), render.List(d.Words.Unclear))
	}
	told.Add(notReadBlocks(d)...)
	var said bytes.Buffer
	if err := told.Text(&said, render.Screen{}); err != nil {
		return err
	}
	if err != nil {
		return exit.Data(fmt.Errorf("%s%s: no row of it is a part, so nothing was written", said.String(), d.List))
	}
	if err := s.Put(ctx, text); err != nil {
		return err
	}
	if !s.Options.Quiet && said.Len() > 0 {
		fmt.Fprint(s.Streams.Err, said.String())
	}
	s.Remark("Read %s from %s.", d.Words.Holds, d.List)
	return nil
}

func mergedSentence(kind inventory.Kind, m *edit.Merged) string {
	var words []string
	for _, list := range []struct {
		name string
		ids  []string
	}{{"changed", m.Changed}, {"added", m.Added}, {"taken out", m.Gone}} {
		if len(list.ids) > 0 {
			words = append(words, fmt.Sprintf("%s %s", list.name, strings.Join(list.ids, ", ")))
		}
	}
	words = append(words, fmt.Sprintf("%d as before", len(m.Kept)))
	return fmt.Sprintf("Of the %s: %s.", kind.Section(), strings.Join(words, "; "))
}
