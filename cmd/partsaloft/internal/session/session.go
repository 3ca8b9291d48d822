// Package session holds what every command shares: the streams, the shared flags, files found and read, and the way of
// a result to the screen or into a file.
package session

import (
	"context"
	"fmt"
	"io"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
)

// Version is that of the program; it stands in every JSON document.
const Version = answer.ToolVersion

// Streams are where a command writes to.
type Streams struct {
	Out, Err io.Writer
	// In is read where a command line names the file "-"; nil is empty.
	In io.Reader
	// Drawer is the file that the environment names as the drawer, empty if none.
	Drawer string
	// OutTerminal and ErrTerminal say that a person watches a terminal there.
	OutTerminal, ErrTerminal bool
	// Columns is the terminal's width, 0 if it is not known.
	Columns int
	// NoColor asks for plain text even there (the NO_COLOR convention).
	NoColor bool
}

// Session is one run of the program: its streams, the shared options and what was said so far.
type Session struct {
	Streams Streams
	Options Options
	// Context ends with an interrupt; nil is one that does not.
	Context context.Context
	Begun   bool // the command line was understood
	// LearnedFile is the base name of the learned file in use, learnedFrom on how many entries and
	// benches it rests; empty if none is in use.
	LearnedFile string
	learnedFrom int
	files       files.Run
	looked      bool      // for a drawer where none was named
	in          []byte    // what was read from Streams.In, nil before
	bar         *Progress // nil if there is none
}

// Screen is what the results are shown on.
func (s *Session) Screen() render.Screen {
	if !s.Streams.OutTerminal {
		return render.Screen{}
	}
	return render.Screen{Columns: s.Streams.Columns, Bold: !s.Streams.NoColor}
}

// Complain writes an error on the error stream, on a terminal no wider than that.
func (s *Session) Complain(text string) {
	s.EndBar()
	if text = render.Clean(text); s.Streams.ErrTerminal {
		lines := strings.Split(text, "\n")
		for i, line := range lines {
			in := line[:len(line)-len(strings.TrimLeft(line, " "))]
			lines[i] = in + render.Wrap(line, render.Screen{Columns: s.Streams.Columns}.Width()-len(in), in+"  ")
		}
		text = strings.Join(lines, "\n")
	}
	fmt.Fprintln(s.Streams.Err, text)
}

// Remark says something on the error stream that is no result; --quiet silences it.
func (s *Session) Remark(format string, args ...any) {
	if !s.Options.Quiet {
		s.EndBar()
		screen := render.Screen{}
		if s.Streams.ErrTerminal {
			screen.Columns = s.Streams.Columns
		}
		fmt.Fprintln(s.Streams.Err, render.Wrap(render.Clean(fmt.Sprintf(format, args...)), screen.Width(), ""))
	}
}

// Await does work that knows of no interrupt and changes nothing outside. At an interrupt it comes back at once with an
// error, and what the work would have brought must not be looked at.
func (s *Session) Await(work func()) error {
	if s.Context == nil {
		work()
		return nil
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		work()
	}()
	select {
	case <-done:
		return nil
	case <-s.Context.Done():
		return s.Context.Err()
	}
}

// Head is what a JSON document begins with.
func (s *Session) Head() answer.Head {
	return answer.Head{SchemaVersion: answer.SchemaVersion, ToolVersion: Version, Seed: s.Options.Seed,
		Learned: s.LearnedFile}
}
