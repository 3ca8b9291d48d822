package cli

import (
	"bytes"
	"context"

	"partsaloft/cmd/internal/render"
)

// answer is what a command found, in every form that it can be asked for.
type answer struct {
	document any           // JSON
	rows     *render.Table // CSV
	page     render.Page   // for people
}

// deliver writes an answer in the form asked for, whole or not at all.
func (s *session) deliver(ctx context.Context, a answer) error {
	var b bytes.Buffer
	var err error
	a.page.Add(render.Paragraph(s.correctedText()))
	screen := render.Screen{}
	if s.streams.OutTerminal && s.options.output == "" {
		screen = render.Screen{Columns: s.streams.Columns, Bold: !s.streams.NoColor}
	}
	switch s.options.format {
	case "json":
		err = render.JSON(&b, a.document)
	case "csv":
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
