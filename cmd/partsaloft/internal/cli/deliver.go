package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
)

// document is what a command found: for other programs as JSON or as rows, with what to mind.
type document interface {
	Rows() *answer.Rows
	Mind() answer.Care
	Advised() []string
}

// sheet is what a command shows to people: under what to do and the dangers.
type sheet struct {
	page     render.Page
	searched string // what was searched, the last line of all
}

// deliver writes a document, or its sheet for people, in the form asked for, whole or not at all. What to do stands
// first on the sheet, then dangers, before anything is praised.
func (s *session) deliver(ctx context.Context, d document, told sheet) error {
	s.bar.end()
	var b bytes.Buffer
	var err error
	care := d.Mind()
	page := render.Page{render.Lead(d.Advised())}
	if dangers := care.Dangers; len(dangers) > 0 {
		page.Add(render.List(dangers))
	}
	page.Add(told.page...)
	page.Add(render.Paragraph(s.correctedText()))
	if cautions := care.Cautions; len(cautions) > 0 {
		page.Add(render.Paragraph("Care: " + strings.Join(cautions, " ")))
	}
	page.Add(render.Paragraph(told.searched))
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

// sink is the output stream. It keeps the first error, for what writes help and completion does not.
type sink struct {
	io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	n, err := s.Writer.Write(p)
	if err != nil && s.err == nil {
		s.err = err
	}
	return n, err
}

// progress draws a bar on a terminal for what takes longer than a second.
type progress struct {
	out    io.Writer
	label  string
	start  time.Time
	last   time.Time
	length int
}

const (
	progressDelay    = time.Second
	progressInterval = 100 * time.Millisecond
	progressCells    = 30
)

// newProgress starts a bar. Without a terminal there is none: nil, on which the methods do nothing.
func newProgress(out io.Writer, terminal bool, label string) *progress {
	if !terminal {
		return nil
	}
	return &progress{out: out, label: label, start: time.Now()}
}

// at shows how much of a whole is done.
func (p *progress) at(done, whole int64) {
	if p == nil || whole <= 0 {
		return
	}
	now := time.Now()
	if now.Sub(p.start) < progressDelay || now.Sub(p.last) < progressInterval {
		return
	}
	p.last = now
	share := min(max(float64(done)/float64(whole), 0), 1)
	full := int(share*progressCells + 0.5)
	line := fmt.Sprintf("%s %s%s %3.0f %%", p.label, strings.Repeat("█", full), strings.Repeat("░", progressCells-full),
		share*100)
	p.length = max(p.length, len([]rune(line)))
	fmt.Fprintf(p.out, "\r%-*s", p.length, line)
}

// end takes the bar away.
func (p *progress) end() {
	if p == nil || p.length == 0 {
		return
	}
	fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", p.length))
	p.length = 0
}
