package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// maxFaults is the number of faults that are kept; a file with more is not a drawer.
const maxFaults = 1000

// Fault is one thing wrong with a file.
type Fault struct {
	File    string
	Line    int // from 1; 0 if the fault concerns the file as a whole
	Column  int // from 1, in characters
	Path    string
	Message string
}

// Error is the fault as one line: file:line:column: path: message.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(printable(f.File))
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Column)
	}
	b.WriteString(": ")
	if f.Path != "" {
		b.WriteString(f.Path)
		b.WriteString(": ")
	}
	b.WriteString(f.Message)
	return b.String()
}

// Faults are all faults of a file, by position. It is an error if it holds any.
type Faults []Fault

// Error lists the faults, one a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].Error()
	}
	return strings.Join(lines, "\n")
}

func (f Faults) sort() {
	slices.SortStableFunc(f, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Path, b.Path), cmp.Compare(a.Message, b.Message))
	})
}

// Position is a place in a file, line and column from 1.
type Position struct{ Line, Column int }

// Origin is where a part of a file stands. A struct that has an Origin field gets it filled in.
type Origin struct {
	Path string // such as motors[2]
	Position
}

// Document is a file being read: its faults and the position of every key.
type Document struct {
	File    string
	example string // a key to begin with
	faults  Faults
	lost    int
	values  map[string]Position // position of each value, by path
	direct  map[string]bool     // paths with a fault of their own
	under   map[string]bool     // paths with a fault at or under them
}

func newDocument(file string) *Document {
	return &Document{File: file, values: map[string]Position{}, direct: map[string]bool{}, under: map[string]bool{}}
}

// Position is where the value at a path stands, or the nearest part around it that is written.
func (d *Document) Position(path string) Position {
	for {
		if p, ok := d.values[path]; ok {
			return p
		}
		if path == "" {
			return Position{1, 1}
		}
		path = parent(path)
	}
}

// Has says whether the file gives a value at a path.
func (d *Document) Has(path string) bool { _, ok := d.values[path]; return ok }

// Sound says whether no fault was found so far at a path, under it, or with a part around it.
func (d *Document) Sound(path string) bool {
	if d.under[path] {
		return false
	}
	for path != "" {
		if d.direct[path] {
			return false
		}
		path = parent(path)
	}
	return !d.direct[""]
}

// Fault adds a fault at the position of a path.
func (d *Document) Fault(path, format string, args ...any) {
	d.add(d.Position(path), path, fmt.Sprintf(format, args...))
}

func (d *Document) add(at Position, path, message string) {
	d.direct[path] = true
	for p := path; ; p = parent(p) {
		d.under[p] = true
		if p == "" {
			break
		}
	}
	if len(d.faults) >= maxFaults {
		d.lost++
		return
	}
	d.faults = append(d.faults, Fault{d.File, at.Line, at.Column, path, message})
}

// Faults are the faults found so far, by position.
func (d *Document) Faults() Faults {
	faults := slices.Clone(d.faults)
	faults.sort()
	if d.lost > 0 {
		faults = append(faults, Fault{File: d.File, Message: fmt.Sprintf("and %d more faults; mend these first", d.lost)})
	}
	return faults
}

// Err is the faults found so far as an error, nil if there are none.
func (d *Document) Err() error {
	if len(d.faults) == 0 {
		return nil
	}
	return d.Faults()
}

// parent is the path around a path: a.b[2] → a.b → a → "".
func parent(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}

// printable quotes a text that holds anything but printable characters.
func printable(s string) string {
	for _, r := range s {
		if !strconv.IsPrint(r) {
			return strconv.Quote(s)
		}
	}
	return s
}

// Show is a text from a file as it may appear in a message: bare if it is a plain word or number,
// otherwise quoted with everything unprintable escaped; long ones are cut.
func Show(s string) string {
	const longest = 48
	cut := ""
	if r := []rune(s); len(r) > longest {
		s, cut = string(r[:longest]), "…"
	}
	if s == "" || strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) }) {
		return strconv.Quote(s) + cut
	}
	return s + cut
}

func isWordRune(r rune) bool {
	return r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune("+-._~", r)
}
