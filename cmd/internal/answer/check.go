package answer

import (
	"context"
	"fmt"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
)

// Checked is the document of check.
type Checked struct {
	Head
	Faults []Fault  `json:"faults"`
	Notes  []string `json:"notes"`
	Fits   []Fit    `json:"fits"`
	Gaps   *Gaps    `json:"gaps"`

	Matrices []FitMatrix `json:"-"`
	Words    CheckWords  `json:"-"`
}

// CheckWords are the sentences of a check.
type CheckWords struct {
	Faults   []string // a line each, with its place
	Holds    string   // what a drawer without faults holds
	TooMany  []string // pairs that are too many to be set side by side
	Unlikely []string // a line each, with its place
	Lonely   []string // parts that find no partner
	Remarks  []string // on what fits but wants a word
}

// Fault is a fault of a file.
type Fault struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Part    string `json:"part"`
	Code    string `json:"code"`
	Message string `json:"message"`
}

// Fit says of two parts whether they go together: fits, note, unknown or fault, and why.
type Fit struct {
	Kinds   string   `json:"kinds"`
	A       string   `json:"a"`
	B       string   `json:"b"`
	Verdict string   `json:"verdict"`
	Why     []string `json:"why"`
}

// Faulty is the document of a drawer that has faults.
func Faulty(head Head, faults inventory.Faults) *Checked {
	d := &Checked{Head: head, Notes: []string{}, Fits: []Fit{}}
	d.Drawer = faults[0].File
	for i := range faults {
		f := &faults[i]
		d.Faults = append(d.Faults, Fault{f.File, f.Line, f.Column, f.Path, f.Part, string(f.Code),
			catalogue.Problem(&f.Problem)})
		d.Words.Faults = append(d.Words.Faults, catalogue.Fault(f))
	}
	return d
}

// Check says of a drawer without faults what fits what, what is possible but unlikely, and what to measure first, which
// takes a search: it is left out unless it is asked for.
func Check(ctx context.Context, a *Ask, measure bool) (*Checked, error) {
	drawer := a.Problem.Drawer
	d := &Checked{Head: a.Head, Faults: []Fault{}, Notes: []string{}, Fits: []Fit{}}
	if measure {
		var err error
		if d.Gaps, err = a.gaps(ctx); err != nil {
			return nil, err
		}
	}
	d.Drawer, d.Care = drawer.Name, CareOf(&Scene{Drawer: drawer, Stand: d.Gaps.onStand()})
	all, tooMany := matrices(drawer)
	d.Matrices = all
	unlikely := check.Plausibility(drawer)
	for i := range unlikely {
		d.Words.Unlikely = append(d.Words.Unlikely, noteText(drawer, &unlikely[i]))
	}
	lonely := alone(all)
	d.Notes = slices.Concat(d.Notes, d.Words.Unlikely, lonely, tooMany)
	for i := range all {
		d.add(&all[i])
	}
	for _, text := range tooMany {
		d.Words.TooMany = append(d.Words.TooMany, catalogue.Sentence(text))
	}
	d.Words.Lonely = sentences(lonely)
	d.Words.Holds = fmt.Sprintf("%s has no faults: %s, %s, %s, %s, %s, %s.", drawer.Name,
		count(drawer.Motors, "kind of motor", "kinds of motor"), count(drawer.Props, "of prop", "of prop"),
		count(drawer.Packs, "of pack", "of pack"),
		count(drawer.Frames, "frame", "frames"), count(drawer.Boards, "board", "boards"),
		count(drawer.Extras, "extra", "extras"))
	return d, nil
}

// add puts what a matrix says into the document.
func (d *Checked) add(m *FitMatrix) {
	for i, a := range m.A {
		for k, b := range m.B {
			severity, why := m.Severities[i][k], m.why[i][k]
			d.Fits = append(d.Fits, Fit{m.KindA + "-" + m.KindB, a, b, severity.String(), why})
			if severity == compat.Remark || severity == compat.Unknown {
				d.Notes = append(d.Notes, why...)
			}
		}
	}
	d.Words.Remarks = append(d.Words.Remarks, m.remarks()...)
}

// Rows is the faults, or where there are none the fits, as a table of plain values.
func (d *Checked) Rows() *Rows {
	if len(d.Faults) > 0 {
		rows := &Rows{Keys: []string{"file", "line", "column", "path", "message"}}
		for _, f := range d.Faults {
			rows.Add(f.File, fmt.Sprint(f.Line), fmt.Sprint(f.Column), f.Path, f.Message)
		}
		return rows
	}
	rows := &Rows{Keys: []string{"kinds", "a", "b", "verdict", "why"}}
	for _, f := range d.Fits {
		rows.Add(f.Kinds, f.A, f.B, f.Verdict, joined(f.Why))
	}
	return rows
}

// noteText is a remark with its place in the file.
func noteText(d *inventory.Drawer, n *check.Note) string {
	text := catalogue.Note(n)
	switch {
	case n.Line == 0:
		return fmt.Sprintf("%s: %s", d.Name, text)
	case n.Path == "":
		return fmt.Sprintf("%s:%d:%d: %s", d.Name, n.Line, n.Column, text)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %s", d.Name, n.Line, n.Column, n.Path, text)
}

func count[T any](list []T, one, many string) string {
	return catalogue.Plural(int64(len(list)), one, many)
}
