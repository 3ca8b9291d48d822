package learn

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// fileVersion rises when a learned file changes its form.
const fileVersion = 1

// mostChanges bounds a learned file: its correlations are taken apart in a time that goes with the
// third power.
const mostChanges = 2000

// leastWritten is the least correlation that a learned file holds.
const leastWritten = 0.02

// FileStart is how every learned file begins.
const FileStart = "# What was learned from the log of "

const fileHead = FileStart + `%s: factors on what the figures of its parts say, with the doubt
# (a relative standard deviation) before and after, and which of them err together. Written by
# learn; every command takes it through --learned, or finds it beside the drawer. When a part's own
# figures change it no longer holds: run learn again.
`

// YAML is the content of a learned file: the same bytes for the same drawer, log and version.
func (l *Learned) YAML() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, fileHead, strings.Map(func(r rune) rune {
		if strconv.IsPrint(r) {
			return r
		}
		return '?'
	}, l.Drawer))
	fmt.Fprintf(&b, "schema_version: %d\ntool_version: %s\ndrawer: %s\n", fileVersion, quote(l.Version), quote(l.Drawer))
	list(&b, "from", len(l.From), func(i int) {
		f := &l.From[i]
		b.WriteString("  - {")
		if f.Entry > 0 {
			fmt.Fprintf(&b, "entry: %d, ", f.Entry)
			if f.Date != "" {
				fmt.Fprintf(&b, "date: %s, ", quote(f.Date))
			}
		} else {
			fmt.Fprintf(&b, "bench: %s, ", quote(f.What))
		}
		keys := make([]string, len(f.Readings))
		for k, key := range f.Readings {
			keys[k] = string(key)
		}
		fmt.Fprintf(&b, "readings: [%s]}\n", strings.Join(keys, ", "))
	})
	list(&b, "parts", len(l.Parts), func(i int) {
		p := &l.Parts[i]
		fmt.Fprintf(&b, "  - kind: %s\n    id: %s\n    figures: %s\n    changes:\n", p.Kind, quote(p.ID), quote(p.Figures))
		for j := range p.Changes {
			c := &p.Changes[j]
			fmt.Fprintf(&b, "      - {input: %s, factor: %s, doubt_before_pct: %s, doubt_after_pct: %s, readings: %d}\n",
				InputKey(p.Kind, c.Input), digits(c.Factor(), 6), digits(100*c.LnSDBefore, 5), digits(100*c.LnSDAfter, 5),
				c.Readings)
		}
	})
	labels := l.labels()
	var pairs [][2]int
	for i := range labels {
		for j := i + 1; j < len(labels); j++ {
			if math.Abs(l.Correlation.At(i, j)) >= leastWritten {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	list(&b, "together", len(pairs), func(k int) {
		i, j := pairs[k][0], pairs[k][1]
		fmt.Fprintf(&b, "  - {a: %s, b: %s, correlation: %.4f}\n", quote(labels[i]), quote(labels[j]), l.Correlation.At(i, j))
	})
	return b.Bytes()
}

// list writes a key with n entries, or an empty list.
func list(b *bytes.Buffer, key string, n int, entry func(i int)) {
	if n == 0 {
		fmt.Fprintf(b, "%s: []\n", key)
		return
	}
	fmt.Fprintf(b, "%s:\n", key)
	for i := range n {
		entry(i)
	}
}

// quote writes a text as a double-quoted YAML scalar.
func quote(s string) string { return strconv.Quote(s) }

func digits(x float64, n int) string {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// labels name every change: kind, id, input.
func (l *Learned) labels() []string {
	var names []string
	for i := range l.Parts {
		p := &l.Parts[i]
		for j := range p.Changes {
			names = append(names, fmt.Sprintf("%s %s %s", p.Kind, p.ID, InputKey(p.Kind, p.Changes[j].Input)))
		}
	}
	return names
}

// learnedFile is a learned file as read.
type learnedFile struct {
	SchemaVersion int               `yaml:"schema_version" check:"required,min=1,max=1000"`
	ToolVersion   string            `yaml:"tool_version" check:"required,len=40"`
	Drawer        string            `yaml:"drawer" check:"required,len=300"`
	From          []fileSource      `yaml:"from"`
	Parts         []filePart        `yaml:"parts"`
	Together      []fileCorrelation `yaml:"together" check:"items=0..200000"`
}

type fileSource struct {
	strict.Origin
	Entry    int      `yaml:"entry" check:"min=1,max=100000"`
	Date     string   `yaml:"date" check:"len=10"`
	Bench    string   `yaml:"bench" check:"len=300"`
	Readings []string `yaml:"readings"`
}

type filePart struct {
	strict.Origin
	Kind    string       `yaml:"kind" check:"required,oneof=motor|prop|pack|frame|board|flying"`
	ID      string       `yaml:"id" check:"required,len=129"`
	Figures string       `yaml:"figures" check:"required,len=2000"`
	Changes []fileChange `yaml:"changes" check:"required,items=1..20"`
}

type fileChange struct {
	strict.Origin
	Input         string  `yaml:"input" check:"required"`
	Factor        float64 `yaml:"factor" check:"required,min=0.02,max=50"`
	DoubtBefore   float64 `yaml:"doubt_before_pct" check:"required,over=0,max=300,unit=%"`
	DoubtAfter    float64 `yaml:"doubt_after_pct" check:"required,over=0,max=300,unit=%"`
	ReadingsCount int     `yaml:"readings" check:"min=0,max=1000000"`
}

type fileCorrelation struct {
	strict.Origin
	A           string  `yaml:"a" check:"required,len=200"`
	B           string  `yaml:"b" check:"required,len=200"`
	Correlation float64 `yaml:"correlation" check:"required,min=-1,max=1"`
}

// Read reads a learned file; name stands for it in messages. The error is an inventory.Faults that holds
// every fault at once.
func Read(name string, r io.Reader) (*Learned, error) {
	var w learnedFile
	return w.learned(strict.Read(name, r, &w))
}

func (w *learnedFile) learned(doc *strict.Document) (*Learned, error) {
	if doc.Err() == nil && w.SchemaVersion != fileVersion {
		doc.Fault("schema_version", "learned.version", strict.Values{
			"got": strict.Number(w.SchemaVersion), "reads": strict.Number(fileVersion)})
	}
	l := &Learned{Drawer: w.Drawer, Version: w.ToolVersion}
	for i := range w.From {
		f := From{Entry: w.From[i].Entry, Date: w.From[i].Date, What: w.From[i].Bench}
		for _, key := range w.From[i].Readings {
			f.Readings = append(f.Readings, Key(key))
		}
		l.From = append(l.From, f)
	}
	seen := map[string]bool{}
	for i := range w.Parts {
		p := &w.Parts[i]
		part := Part{Kind: inventory.Kind(p.Kind), ID: p.ID, Figures: p.Figures}
		for j := range p.Changes {
			c := &p.Changes[j]
			input, ok := inputOf(part.Kind, c.Input)
			if !ok && doc.Sound(c.Path) {
				doc.Fault(c.Path+".input", "learned.input", strict.Values{"kind": p.Kind, "got": strict.Raw(c.Input)})
			}
			label := fmt.Sprintf("%s %s %s", p.Kind, p.ID, c.Input)
			if seen[label] && doc.Sound(c.Path) {
				doc.Fault(c.Path, "learned.twice", strict.Values{"label": strict.Raw(label)})
			}
			seen[label] = true
			part.Changes = append(part.Changes, Change{
				input, math.Log(c.Factor), c.DoubtBefore / 100, c.DoubtAfter / 100, c.ReadingsCount,
			})
		}
		l.Parts = append(l.Parts, part)
	}
	if len(seen) > mostChanges {
		doc.Fault("parts", "learned.changes", strict.Values{
			"got": strict.Number(len(seen)), "most": strict.Number(mostChanges)})
	}
	if err := doc.Err(); err != nil {
		return nil, err
	}
	w.correlate(doc, l)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return l, nil
}

// correlate fills in the correlations.
func (w *learnedFile) correlate(doc *strict.Document, l *Learned) {
	labels := l.labels()
	if len(labels) > 0 {
		l.Correlation = mat.NewSymDense(len(labels), nil)
	}
	place := make(map[string]int, len(labels))
	for i, label := range labels {
		place[label] = i
		l.Correlation.SetSym(i, i, 1)
	}
	for i := range w.Together {
		t := &w.Together[i]
		a, okA := place[t.A]
		b, okB := place[t.B]
		switch {
		case !okA || !okB:
			missing := t.A
			if okA {
				missing = t.B
			}
			doc.Fault(t.Path, "learned.stranger", strict.Values{"label": strict.Raw(missing)})
		case a == b:
			doc.Fault(t.Path, "learned.itself", strict.Values{"label": strict.Raw(t.A)})
		default:
			l.Correlation.SetSym(a, b, t.Correlation)
		}
	}
}

// Schema is the JSON Schema of a learned file, made from the tags that the reader keeps to.
func Schema() *strict.Schema {
	s := strict.SchemaOf(learnedFile{})
	s.At("schema_version").Set("const", fileVersion)
	var keys []string
	seen := map[string]bool{}
	for _, n := range learnable {
		if !seen[n.key] {
			seen[n.key] = true
			keys = append(keys, n.key)
		}
	}
	s.At("parts", "[]", "changes", "[]", "input").Set("enum", keys)
	return s
}
