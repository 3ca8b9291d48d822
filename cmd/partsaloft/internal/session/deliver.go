package session

import (
	"bytes"
	"context"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
)

// Document is what a command found: for other programs as JSON or as rows, with what to mind.
type Document interface {
	Rows() *answer.Rows
	Mind() answer.Care
	Advised() []string
}

// Sheet is what a command shows to people: under what to do and the dangers.
type Sheet struct {
	Page     render.Page
	Searched string // what was searched, the last line of all
}

// Deliver writes a document, or its sheet for people, in the form asked for, whole or not at all. What to do stands
// first on the sheet, then dangers, before anything is praised.
func (s *Session) Deliver(ctx context.Context, d Document, told Sheet) error {
	var b bytes.Buffer
	var err error
	care := d.Mind()
	page := render.Page{render.Lead(d.Advised())}
	if dangers := care.Dangers; len(dangers) > 0 {
		page.Add(render.List(dangers))
	}
	page.Add(told.Page...)
	page.Add(render.Paragraph(s.correctedText()))
	if cautions := care.Cautions; len(cautions) > 0 {
		page.Add(render.Paragraph("Care: " + strings.Join(cautions, " ")))
	}
	page.Add(render.Paragraph(told.Searched))
	screen := render.Screen{}
	if s.Options.Output == "" {
		screen = s.Screen()
	}
	switch s.Options.Format {
	case "json":
		err = answer.JSON(&b, d)
	case "csv":
		for _, danger := range care.Dangers {
			s.Remark("%s", danger)
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
	return s.Put(ctx, b.Bytes())
}

// Put writes a result where it is wanted, whole or not at all.
func (s *Session) Put(ctx context.Context, content []byte) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s.EndBar()
	if s.Options.Output == "" {
		_, err := s.Streams.Out.Write(content)
		return err
	}
	if err := s.Write(ctx, "--output", s.Options.Output, content); err != nil {
		return err
	}
	s.Remark("Written to %s.", s.Options.Output)
	return nil
}
