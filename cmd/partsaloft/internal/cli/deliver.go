package cli

import (
	"bytes"
	"context"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
)

// document is what a command found: for other programs as JSON or as rows, with what to mind.
type document interface {
	Rows() *answer.Rows
	Mind() answer.Care
}

// deliver writes a document, or its page for people, in the form asked for, whole or not at all. Dangers stand first on
// the page.
func (s *session) deliver(ctx context.Context, d document, page render.Page) error {
	s.bar.end()
	var b bytes.Buffer
	var err error
	care := d.Mind()
	page.Add(render.Paragraph(s.correctedText()))
	if cautions := care.Cautions; len(cautions) > 0 {
		page.Add(render.Paragraph("Care: " + strings.Join(cautions, " ")))
	}
	if dangers := care.Dangers; len(dangers) > 0 {
		page = append(render.Page{render.List(dangers)}, page...)
	}
	screen := render.Screen{}
	if s.streams.OutTerminal && s.options.output == "" {
		screen = render.Screen{Columns: s.streams.Columns, Bold: !s.streams.NoColor}
	}
	switch s.options.format {
	case "json":
		err = answer.JSON(&b, d)
	case "csv":
		for _, danger := range care.Dangers {
			s.remark("%s", danger)
		}
		rows := d.Rows()
		table := render.Table{Rows: rows.Cells}
		for _, key := range rows.Keys {
			table.Columns = append(table.Columns, render.Left(key))
		}
		err = table.CSV(&b)
	case "markdown":
		err = page.Markdown(&b)
	default:
		err = page.Text(&b, screen)
	}
	if err != nil {
		return err
	}
	return s.put(ctx, b.Bytes())
}

// put writes a result where it is wanted, whole or not at all.
func (s *session) put(ctx context.Context, content []byte) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if s.options.output == "" {
		_, err := s.streams.Out.Write(content)
		return err
	}
	if err := s.write(ctx, "--output", s.options.output, content); err != nil {
		return err
	}
	s.remark("Written to %s.", s.options.output)
	return nil
}
