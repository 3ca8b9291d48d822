package strict

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Document is a file being read: its faults and the position of every key.
type Document struct {
	File    string
	example string // a key to begin with
	lines   []string
	faults  Faults
	lost    int
	nodes   map[string]*yaml.Node // the value at each path
	names   map[string]string     // what each part is called, by path: motor m1404-27, second motor
	places  map[string]string     // the same, by its place alone
	direct  map[string]bool       // paths with a fault of their own
	under   map[string]bool       // paths with a fault at or under them
}

func newDocument(file string) *Document {
	return &Document{File: file, nodes: map[string]*yaml.Node{}, names: map[string]string{}, places: map[string]string{}, direct: map[string]bool{},
		under: map[string]bool{}}
}

// Position is where the value at a path stands, or the nearest part around it that is written.
func (d *Document) Position(path string) Position {
	for {
		if n, ok := d.nodes[path]; ok {
			return position(n)
		}
		if path == "" {
			return Position{1, 1}
		}
		path = parent(path)
	}
}

// PlaceInList is an entry of a list by its place there, such as the second motor; its path where that is no plain one.
func (d *Document) PlaceInList(path string) string {
	if place := d.places[path]; place != "" {
		return "the " + place
	}
	return path
}

// Has reports whether the file gives a value at a path.
func (d *Document) Has(path string) bool { _, ok := d.nodes[path]; return ok }

// Sound reports whether no fault was found so far at a path, under it, or with a part around it.
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
func (d *Document) Fault(path string, code Code, values Values) {
	d.Add(path, Problem{Code: code, Values: values})
}

// Add adds a problem as a fault at the position of a path. What it tells to write replaces the value there, if that
// is a single one on one line; ids are left to the pilot, since other places name them.
func (d *Document) Add(path string, p Problem) {
	f := Fault{Position: d.Position(path), Path: path, Problem: p}
	if n := d.nodes[path]; p.Write != "" && n != nil && lastKey(path) != "id" {
		f.Fix = d.scalarFix(n, p)
	}
	d.add(f)
}

// onceOnly reports whether an id stands in one place of the text alone, so that it can be changed there, and the new one
// nowhere.
func (d *Document) onceOnly(id, to string) bool {
	text := strings.Join(d.lines, "")
	to, _, _ = strings.Cut(to, " #")
	return strings.Count(text, id) == 1 && (strings.Contains(id, to) || !strings.Contains(text, to))
}

// standsFor notes that a value under a key that is not known is that of another path, so that this is not missed as well.
func (d *Document) standsFor(n Node, path string) {
	d.nodes[path], d.direct[path], d.under[path] = n.yaml, true, true
}

// pairFix replaces a key with its single value, nil if they are not on one line.
func (d *Document) pairFix(p pair, to string) *Fix {
	rest, ok := d.rest(p.at)
	at := p.value.Position()
	value, found := d.rest(at)
	if !ok || !found || at.Line != p.at.Line || to == "" {
		return nil
	}
	text, ok := scalarText(p.value.yaml, value)
	if !ok {
		return nil
	}
	return &Fix{p.at, rest[:len(rest)-len(value)] + text, to}
}

// scalarFix replaces a single value by what a problem tells to write, nil if it goes on in other lines.
func (d *Document) scalarFix(n *yaml.Node, p Problem) *Fix {
	at := position(n)
	rest, ok := d.rest(at)
	if !ok {
		return nil
	}
	from, ok := scalarText(n, rest)
	if !ok {
		return nil
	}
	to := p.Write
	if p.Doubt {
		if strings.TrimSpace(strings.TrimRight(rest, "\r\n")) != from {
			return nil
		}
		to += " # was " + strings.Trim(from, `"'`)
	}
	return &Fix{at, from, to}
}

// rest is the text of a line from a position on.
func (d *Document) rest(at Position) (string, bool) {
	if at.Line < 1 || at.Line > len(d.lines) {
		return "", false
	}
	line := d.lines[at.Line-1]
	column := 1
	for i := range line {
		if column == at.Column {
			return line[i:], true
		}
		column++
	}
	return "", column == at.Column
}

func (d *Document) add(f Fault) {
	for p := f.Path; ; p = parent(p) {
		d.under[p] = true
		if p == "" {
			break
		}
	}
	d.direct[f.Path] = true
	if len(d.faults) >= maxFaults {
		d.lost++
		return
	}
	f.File = d.File
	d.faults = append(d.faults, f)
}

// at adds a fault that belongs to no value.
func (d *Document) at(at Position, path string, code Code, values Values) {
	d.add(Fault{Position: at, Path: path, Problem: Problem{Code: code, Values: values}})
}

// Faults are the faults found so far, by position.
func (d *Document) Faults() Faults {
	faults := slices.Clone(d.faults)
	for i := range faults {
		faults[i].Part = d.part(faults[i].Path)
	}
	faults.sort()
	if d.lost > 0 {
		faults = append(faults, Fault{File: d.File, Problem: Problem{Code: "file.more", Values: Values{"n": Number(d.lost)}}})
	}
	return faults
}

// part is what a path lies in, "" if that has no name.
func (d *Document) part(path string) string {
	for p := path; p != ""; p = parent(p) {
		if name := d.names[p]; name != "" {
			return name
		}
	}
	return ""
}

// Err is the faults found so far as an error, nil if there are none.
func (d *Document) Err() error {
	if len(d.faults) == 0 {
		return nil
	}
	return d.Faults()
}
