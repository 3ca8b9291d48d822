package strict

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// maxFaults is the number of faults that are kept; a file with more is not a drawer.
const maxFaults = 1000

// Code names what is wrong with a value, or a way out. What a pilot reads for it stands in the catalogue of sentences.
type Code string

// Values are what the sentence of a code speaks of, by name. What was written is a Raw, a number a Number, a place in
// the same file a Line, an allowed range a Bounds, what stands where a value should a Shape, words to choose from a
// List.
type Values map[string]any

// Problem is what is wrong with a value, and the way out.
type Problem struct {
	Code   Code
	Values Values // of Code and of Way
	Way    Code   // the way out, "" where Code says it
	// Write is what to write instead, where that is plain: a fix, and the value "write" of Way.
	Write string
	// Doubt says that what was written stays beside Write as a comment.
	Doubt bool
}

// Error is the code with its values, for logs and tests.
func (p *Problem) Error() string {
	var b strings.Builder
	b.WriteString(string(p.Code))
	for _, key := range slices.Sorted(maps.Keys(p.Values)) {
		fmt.Fprintf(&b, " %s=%v", key, p.Values[key])
	}
	if p.Way != "" {
		fmt.Fprintf(&b, "; %s", p.Way)
	}
	if p.Write != "" {
		fmt.Fprintf(&b, " write=%s", p.Write)
	}
	return b.String()
}

// With is the problem with one value more.
func (p Problem) With(name string, value any) Problem {
	values := Values{name: value}
	maps.Copy(values, p.Values)
	p.Values = values
	return p
}

// Fault is one thing wrong with a file.
type Fault struct {
	File     string
	Position        // {0, 0} if the fault concerns the file as a whole
	Path     string // such as motors[0].bench[1].rpm, "" for the file as a whole
	Part     string // what the path lies in, such as motor m1404-27; "" if it lies in nothing that has a name
	Problem
	Fix   *Fix   // the one plain change of the text that puts it right, nil if there is none
	meant string // the key that one which is not known stands for, "" if that is not plain
}

// Error is the fault as one line for logs and tests: file:line:column: part: path: code and values.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Place())
	if f.Part != "" {
		b.WriteString(f.Part + ": ")
	}
	if key := f.Key(); key != "" {
		b.WriteString(key + ": ")
	}
	b.WriteString(printable(f.Problem.Error()))
	return b.String()
}

// Place is file:line:column with a colon and a space behind it.
func (f *Fault) Place() string {
	if f.Line > 0 {
		return fmt.Sprintf("%s:%d:%d: ", printable(f.File), f.Line, f.Column)
	}
	if f.File == "" {
		return ""
	}
	return printable(f.File) + ": "
}

// Key is the path inside the part that the fault lies in, or the whole path.
func (f *Fault) Key() string {
	if f.Part == "" {
		return f.Path
	}
	path := f.Path
	for p := path; p != ""; p = parent(p) {
		if strings.HasSuffix(p, "]") && !strings.ContainsRune(p[:len(p)-1], ']') {
			return strings.TrimPrefix(path[len(p):], ".")
		}
	}
	return path
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
			cmp.Compare(a.Path, b.Path))
	})
}

// Position is a place in a file, line and column from 1, columns in characters.
type Position struct{ Line, Column int }

// Origin is where a part of a file stands. A struct that has an Origin field gets it filled in.
type Origin struct {
	Path string // such as motors[2]
	Position
}

// parent is the path around a path: a.b[2] → a.b → a → "".
func parent(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}
