package cli

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/strict"
)

func newCheck(s *commands) *cobra.Command {
	var fix, fits bool
	c := &cobra.Command{
		Use:   "check [DRAWER]",
		Short: "Check a drawer for errors; see what fits",
		Long: `check reads a drawer and lists every error with its line and how to fix it; without errors, the few
readings that would help most, what is possible but unlikely, and parts that fit no other. --fits shows
which parts fit together, with notes where something fits but should be checked. It exits with 3 if
there are errors.

With --fix it writes a copy instead: what can be fixed in one way only is fixed (3,9k becomes 3900, mass
becomes mass_g), keys and values get one order and form, comments stay, and what is estimated stands
as comments. Errors that only you can fix are listed with their place in the copy. The drawer itself is
not touched.`,
		Example: `  partsaloft check
  partsaloft check --fits
  partsaloft check --drawer drawer.yaml --format json
  partsaloft check --drawer drawer.yaml --fix --output tidy.yaml`,
		Args: exit.OneDrawer,
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := s.TakeDrawer(args, session.Any); err != nil {
				return err
			}
			if fix {
				return s.fix(c.Context())
			}
			return s.check(c.Context(), fits)
		},
	}
	c.Flags().BoolVar(&fix, "fix", false, "write a fixed and tidied copy, with estimates as comments, to --output or "+
		"the standard output")
	c.Flags().BoolVar(&fits, "fits", false, "show which parts fit together")
	return s.Take(c, session.UsesSearch)
}

var marks = [...]string{compat.Fits: "yes", compat.Remark: "note", compat.Unknown: "?", compat.Misfit: "–"}

func (s *commands) check(ctx context.Context, fits bool) error {
	ask, err := s.Ask()
	var faults inventory.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	if len(faults) > 0 {
		d := answer.Faulty(s.Head(), faults)
		if err := s.Deliver(ctx, d, session.Sheet{Page: render.Page{render.Lines(d.Words.Faults)}}); err != nil {
			return err
		}
		s.Remark("%s in %s.", phrase.Plural(int64(len(faults)), "fault", "faults"), faults[0].File)
		return exit.Faulty
	}
	// CSV shows the fits alone.
	d, err := answer.Check(ctx, ask, s.Options.Format != "csv")
	if err != nil {
		return exit.Asked(err)
	}
	return s.Deliver(ctx, d, session.Sheet{Page: checkPage(d, fits)})
}

// mostReadings is how many readings check asks for.
const mostReadings = 5

func checkPage(d *answer.Checked, fits bool) render.Page {
	page := render.Page{render.Paragraph(d.Words.Holds)}
	if fits {
		page.Add(render.Paragraph("In the tables: yes, they fit; note, they fit with a remark; ?, not enough is known; –, they " +
			"do not fit."))
		for _, text := range d.Words.TooMany {
			page.Add(render.Paragraph(text))
		}
		for i := range d.Matrices {
			page.Add(matrixBlocks(&d.Matrices[i])...)
		}
	}
	if d.Gaps != nil {
		page.Add(render.Heading("What to measure first"), render.Paragraph(d.Gaps.Sentence()), gapTable(d.Gaps))
	}
	if len(d.Words.Unlikely) > 0 {
		page.Add(render.Heading("Possible, but worth a second look"), render.Lines(d.Words.Unlikely))
	}
	page.Add(section("Parts that fit no other", d.Words.Lonely)...)
	if !fits {
		page.Add(render.Paragraph("Which parts fit together: partsaloft check --fits"))
		return page
	}
	page.Add(section("Fits, but check", d.Words.Remarks)...)
	return page
}

// matrixBlocks show a matrix; columns are numbered where their ids would make it too wide.
func matrixBlocks(m *answer.FitMatrix) []render.Block {
	width := 0
	for _, id := range m.A {
		width = max(width, len(id))
	}
	for _, id := range m.B {
		width += 2 + max(len(id), 4)
	}
	numbered := width > render.Width
	t := &render.Table{Columns: []render.Column{render.Left(m.KindA)}}
	var legend []string
	for k, id := range m.B {
		head := id
		if numbered {
			head = strconv.Itoa(k + 1)
			legend = append(legend, head+" "+id)
		}
		t.Columns = append(t.Columns, render.Right(head))
	}
	for i, id := range m.A {
		row := []string{id}
		for _, severity := range m.Severities[i] {
			row = append(row, marks[severity])
		}
		t.Add(row...)
	}
	blocks := []render.Block{render.Heading(m.Title()), t}
	if numbered {
		blocks = append(blocks, render.Paragraph(fmt.Sprintf("Columns by %s: %s.", m.KindB, strings.Join(legend, ", "))))
	}
	return blocks
}

func gapTable(g *answer.Gaps) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("measure").Wrapped(44), render.Left("key"),
		render.Right("combinations\nwith it"), render.Right("uncertainty\nnow"), render.Right("\nthen")}}
	for _, m := range g.Measure[:min(len(g.Measure), mostReadings)] {
		t.Add(m.How, m.Key, fmt.Sprint(m.Combinations), "±"+catalogue.Fixed(m.DoubtWith, 1),
			"±"+catalogue.Fixed(m.DoubtThen, 1))
	}
	return t
}

// fix writes a normalised copy of the drawer; never in its own place.
func (s *commands) fix(ctx context.Context) error {
	name, text, err := s.DrawerText()
	if err != nil {
		return err
	}
	var fixed []byte
	var mended []strict.Fixed
	if ended := s.Await(func() { fixed, mended, err = edit.Fix(name, text, estimateLines) }); ended != nil {
		return ended
	}
	for _, m := range mended {
		if said := fixedSentence(name, &m.Fix); said != "" {
			s.Remark("%s", said)
		}
	}
	var faults inventory.Faults
	if errors.As(err, &faults) {
		left := phrase.Plural(int64(len(faults)), "fault is left", "faults are left")
		if fixed == nil {
			return exit.Data(fmt.Errorf("%w\n%s, and nothing could be fixed without you: no copy was written", faults, left))
		}
		if err := s.Put(ctx, fixed); err != nil {
			return err
		}
		return exit.Data(fmt.Errorf("%w\n%s in the copy, for you to fix", faults, left))
	}
	if err != nil {
		return exit.Data(err)
	}
	return s.Put(ctx, fixed)
}

// fixedSentence is what a fix changed, "" for spaces that only follow from another.
func fixedSentence(name string, f *strict.Fix) string {
	at := fmt.Sprintf("%s:%d:%d: ", name, f.At.Line, f.At.Column)
	if f.Added() {
		return at + strings.TrimRight(strings.TrimSpace(f.To), ",") + " is added"
	}
	if strings.TrimSpace(f.From+f.To) == "" && f.To != "" {
		switch {
		case strings.Contains(f.From, "\t"):
			return at + "tabs are now spaces"
		case strings.Trim(f.From, " ") == "":
			return ""
		}
	}
	return at + shownText(f.From) + " is now " + shownText(f.To)
}

// shownText is a text in a remark: spaces that are none are named.
func shownText(text string) string {
	if strings.TrimSpace(text) == "" {
		return fmt.Sprintf("%+q", text)
	}
	return text
}

// estimateLines are the estimates for what a drawer leaves out, by the path of the part.
func estimateLines(d *inventory.Drawer) map[string][]string {
	lines := map[string][]string{}
	for _, g := range check.Gaps(d) {
		if line := estimateRemark(&g); line != "" {
			lines[g.Path] = append(lines[g.Path], line)
		}
	}
	return lines
}

// estimateRemark is what is reckoned with for a key that is left out, with the digits that its interval
// supports.
func estimateRemark(g *check.Gap) string {
	if g.Value == 0 {
		return ""
	}
	low, high := g.Interval()
	at := ""
	if g.At != "" {
		at = " at " + g.At
	}
	return fmt.Sprintf("%s: %s%s (%s)", g.Key, catalogue.Number(g.Value, low, high), at,
		catalogue.Interval(g.Value, low, high))
}
