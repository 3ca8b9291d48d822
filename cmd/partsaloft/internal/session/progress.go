package session

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// Progress draws a bar on a terminal for what takes longer than a second.
type Progress struct {
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

// NewProgress starts a bar. Without a terminal there is none: nil, on which the methods do nothing.
func NewProgress(out io.Writer, terminal bool, label string) *Progress {
	if !terminal {
		return nil
	}
	return &Progress{out: out, label: label, start: time.Now()}
}

// At shows how much of a whole is done.
func (p *Progress) At(done, whole int64) {
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

// End takes the bar away.
func (p *Progress) End() {
	if p == nil || p.length == 0 {
		return
	}
	fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", p.length))
	p.length = 0
}
