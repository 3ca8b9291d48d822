package cli

import (
	"bytes"
	"context"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
)

// answer is what a command found, in every form that it can be asked for.
type reply struct {
	document any           // JSON
	rows     *render.Table // CSV
	page     render.Page   // for people
	care     answer.Care   // what to mind: dangers stand first on the page
}

// deliver writes an answer in the form asked for, whole or not at all.
func (s *session) deliver(ctx context.Context, a reply) error {
	var b bytes.Buffer
	var err error
	a.page.Add(render.Paragraph(s.correctedText()))
	if cautions := a.care.Cautions; len(cautions) > 0 {
		a.page.Add(render.Paragraph("Care: " + strings.Join(cautions, " ")))
	}
	if dangers := a.care.Dangers; len(dangers) > 0 {
		a.page = append(render.Page{render.List(dangers)}, a.page...)
	}
	screen := render.Screen{}
	if s.streams.OutTerminal && s.options.output == "" {
		screen = render.Screen{Columns: s.streams.Columns, Bold: !s.streams.NoColor}
	}
	switch s.options.format {
	case "json":
		err = answer.JSON(&b, a.document)
	case "csv":
		for _, danger := range a.care.Dangers {
			s.remark("%s", danger)
		}
		err = a.rows.CSV(&b)
	case "markdown":
		err = a.page.Markdown(&b)
	default:
		err = a.page.Text(&b, screen)
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
