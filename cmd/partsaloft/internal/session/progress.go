package session

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/search/progress"
)

// Progress draws a bar on a terminal for what takes longer than a second.
type Progress struct {
	out    io.Writer
	start  time.Time
	last   time.Time
	length int // shown last
	// columns is the terminal's width, 0 if it is not known.
	columns int
}

const (
	progressDelay    = time.Second
	progressInterval = 100 * time.Millisecond
	progressCells    = 30
)

// Watched is a context of a job of which a bar shows how far it is, on a terminal.
func (s *Session) Watched(ctx context.Context) context.Context {
	if !s.Streams.ErrTerminal || s.Options.Quiet {
		return ctx
	}
	s.bar = &Progress{out: s.Streams.Err, start: time.Now(), columns: s.Streams.Columns}
	return progress.Begin(ctx, s.bar.At)
}

// EndBar takes the bar away, if there is one.
func (s *Session) EndBar() { s.bar.end() }

// At shows how far the work is.
func (p *Progress) At(told progress.Told) {
	now := time.Now()
	if now.Sub(p.start) < progressDelay || now.Sub(p.last) < progressInterval {
		return
	}
	p.last = now
	full := int(told.Share * progressCells)
	line := fmt.Sprintf("%s%s %2.0f %%  %s", strings.Repeat("█", full), strings.Repeat("░", progressCells-full),
		math.Floor(told.Share*100), catalogue.Doing(told.Doing))
	text := []rune(line)
	if p.columns > 0 {
		text = text[:min(len(text), p.columns-1)]
	}
	fmt.Fprintf(p.out, "\r%-*s", p.length, string(text))
	p.length = len(text)
}

// end takes the bar away. A nil bar is none.
func (p *Progress) end() {
	if p == nil || p.length == 0 {
		return
	}
	fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", p.length))
	p.length = 0
}
