package question

import (
	"context"
	"errors"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/intake"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

// add reads a part from words; the reply's text is the drawer with it.
func add(_ context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Words string `json:"words"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	d, text, err := intake.Add(a.head(&o.Shared), a.file(), []byte(a.Drawer), o.Words)
	return made(d, text, err)
}

// enter reads a list of parts, a line each; the reply's text is the drawer with them.
func enter(_ context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		List Text `json:"list"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	b := intake.Batch{Drawer: a.file(), Text: []byte(a.Drawer), List: o.List.Name, Lines: []byte(o.List.Text)}
	d, text, err := b.Enter(a.head(&o.Shared))
	if errors.Is(err, intake.ErrNoPart) {
		text, err = nil, nil
	}
	return made(d, text, err)
}

// made is a document with the text that was made.
func made[D any](d *D, text []byte, err error) (*Reply, error) {
	if err != nil {
		return nil, err
	}
	return &Reply{Document: d, Text: string(text)}, nil
}

// Fixed is the document of a drawer that was mended and tidied.
type Fixed struct {
	answer.Head
	Fixes  []Fix          `json:"fixes"`
	Faults []answer.Fault `json:"faults"` // what only the pilot can mend; then there is no text
}

// Fix is a text that was put right.
type Fix struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	From   string `json:"from"`
	To     string `json:"to"`
}

// fix mends and tidies a drawer's text.
func fix(_ context.Context, a *asked) (*Reply, error) {
	var o Shared
	if err := a.options(&o); err != nil {
		return nil, err
	}
	fixed, mended, err := edit.Fix(a.file(), []byte(a.Drawer), func(*inventory.Drawer) map[string][]string { return nil })
	d := &Fixed{Head: a.head(&o), Fixes: []Fix{}, Faults: []answer.Fault{}}
	d.Drawer, d.Care = a.file(), answer.CareOf(&answer.Scene{})
	for _, m := range mended {
		d.Fixes = append(d.Fixes, Fix{m.At.Line, m.At.Column, m.From, m.To})
	}
	var list inventory.Faults
	if errors.As(err, &list) {
		d.Faults = answer.Faulty(d.Head, list).Faults
		return &Reply{Document: d}, nil
	}
	if err != nil {
		return nil, answer.Unusable(err)
	}
	return made(d, fixed, nil)
}
