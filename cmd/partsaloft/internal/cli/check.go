package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
)

func newCheck(s *session) *cobra.Command {
	var fix bool
	c := &cobra.Command{
		Use:   "check",
		Short: "Read a drawer, say every fault with its line, and what fits what",
		Long: `check reads a drawer and says every fault with its line and the way out; then which parts go together,
with notes where something fits but wants a word or is not known, what to measure first for more certain
scores, and what is possible but unlikely. It exits with 3 if there are faults.

With --fix it writes a copy instead: what has one plain way out is mended (3,9k becomes 3900), keys and
values get one order and form, comments stay, and what is estimated stands as comments. The drawer
itself is not touched.`,
		Example: `  partsaloft check
  partsaloft check --drawer drawer.yaml --format json
  partsaloft check --drawer drawer.yaml --fix --output tidy.yaml`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if fix {
				return s.fix(c.Context())
			}
			return s.check(c.Context())
		},
	}
	c.Flags().BoolVar(&fix, "fix", false, "write a mended and tidied copy, with estimates as comments, to --output or the standard output")
	return c
}

// checkDocument is the JSON of check.
type checkDocument struct {
	answer.Head
	Faults []faultJSON `json:"faults"`
	Notes  []string    `json:"notes"`
	Fits   []fitJSON   `json:"fits"`
	Gaps   *gapsJSON   `json:"gaps"`
}

type faultJSON struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Part    string `json:"part"`
	Code    string `json:"code"`
	Message string `json:"message"`
}

// fitJSON says of two parts whether they go together: fits, note, unknown or fault, and why.
type fitJSON struct {
	Kinds   string   `json:"kinds"`
	A       string   `json:"a"`
	B       string   `json:"b"`
	Verdict string   `json:"verdict"`
	Why     []string `json:"why"`
}

func (s *session) check(ctx context.Context) error {
	drawer, err := s.loadDrawer()
	var faults inventory.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	if len(faults) > 0 {
		if err := s.deliver(ctx, faultsAnswer(s.head(faults[0].File, "", answer.Care{}), faults)); err != nil {
			return err
		}
		s.remark("%s in %s.", plural(int64(len(faults)), "fault", "faults"), faults[0].File)
		return errFaulty
	}
	var gaps *gapsJSON
	if s.options.format != "csv" { // which shows the fits alone
		if gaps, err = s.gaps(ctx, drawer); err != nil {
			return err
		}
	}
	care := answer.CareOf(&answer.Scene{Drawer: drawer, Stand: gaps.onStand()})
	return s.deliver(ctx, checkAnswer(s.head(drawer.Name, "", care), drawer, gaps, care))
}

func faultsAnswer(head answer.Head, faults inventory.Faults) reply {
	document := checkDocument{Head: head, Notes: []string{}, Fits: []fitJSON{}}
	rows := &render.Table{Columns: []render.Column{render.Left("file"), render.Left("line"), render.Left("column"), render.Left("path"), render.Left("message")}}
	var lines render.Lines
	for _, f := range faults {
		message := catalogue.Problem(&f.Problem)
		document.Faults = append(document.Faults, faultJSON{f.File, f.Line, f.Column, f.Path, f.Part, string(f.Code), message})
		rows.Add(f.File, fmt.Sprint(f.Line), fmt.Sprint(f.Column), f.Path, message)
		lines = append(lines, catalogue.Fault(&f))
	}
	return reply{document, rows, render.Page{lines}, answer.Care{}}
}

func checkAnswer(head answer.Head, d *inventory.Drawer, gaps *gapsJSON, care answer.Care) reply {
	document := checkDocument{Head: head, Faults: []faultJSON{}, Notes: []string{}, Fits: []fitJSON{}, Gaps: gaps}
	rows := &render.Table{Columns: []render.Column{render.Left("kinds"), render.Left("a"), render.Left("b"), render.Left("verdict"), render.Left("why")}}
	page := render.Page{render.Paragraph(fmt.Sprintf("%s has no faults: %s, %s, %s, %s, %s, %s.", d.Name,
		count(d.Motors, "kind of motor", "kinds of motor"), count(d.Props, "of prop", "of prop"), count(d.Packs, "of pack", "of pack"),
		count(d.Frames, "frame", "frames"), count(d.Boards, "board", "boards"), count(d.Extras, "extra", "extras")))}
	page.Add(render.Paragraph("In the tables: yes, they fit; note, they fit with a remark; ?, not enough is known; –, they do not fit."))
	all, tooMany := matrices(d)
	for _, text := range tooMany {
		page.Add(render.Paragraph(strings.ToUpper(text[:1]) + text[1:] + "."))
	}
	unlikely := inventory.Unlikely(d)
	for i := range unlikely {
		document.Notes = append(document.Notes, noteText(d, &unlikely[i]))
	}
	lonely := alone(all)
	document.Notes = append(document.Notes, lonely...)
	document.Notes = append(document.Notes, tooMany...)
	var remarks render.List
	for i := range all {
		m := &all[i]
		page.Add(m.blocks()...)
		remarks = append(remarks, m.remarks()...)
		for i, a := range m.a {
			for k, b := range m.b {
				cell := m.cells[i][k]
				document.Fits = append(document.Fits, fitJSON{m.kinds, a, b, cell.severity.String(), cell.why})
				rows.Add(m.kinds, a, b, cell.severity.String(), joined(cell.why))
				if cell.severity == inventory.Remark || cell.severity == inventory.Unknown {
					document.Notes = append(document.Notes, cell.why...)
				}
			}
		}
	}
	if gaps != nil {
		page.Add(gaps.blocks()...)
	}
	if len(unlikely) > 0 {
		var lines render.Lines
		for i := range unlikely {
			lines = append(lines, noteText(d, &unlikely[i]))
		}
		page.Add(render.Heading("Possible, but worth a second look"), lines)
	}
	if len(lonely) > 0 {
		page.Add(render.Heading("Parts that find no partner"), render.List(sentences(lonely)))
	}
	if len(remarks) > 0 {
		page.Add(render.Heading("What fits but wants a word"), remarks)
	}
	return reply{document, rows, page, care}
}

// noteText is a remark with its place in the file.
func noteText(d *inventory.Drawer, n *inventory.Note) string {
	if n.Line == 0 {
		return fmt.Sprintf("%s: %s", d.Name, n.Text)
	}
	if n.Path == "" {
		return fmt.Sprintf("%s:%d:%d: %s", d.Name, n.Line, n.Column, n.Text)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %s", d.Name, n.Line, n.Column, n.Path, n.Text)
}

func count[T any](list []T, one, many string) string { return plural(int64(len(list)), one, many) }
