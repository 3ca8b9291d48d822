package cli

import (
	"fmt"
	"io"
	"strings"
	"time"
)

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
	line := fmt.Sprintf("%s %s%s %3.0f %%", p.label, strings.Repeat("█", full), strings.Repeat("░", progressCells-full), share*100)
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
