package intake

import (
	"bytes"
	"errors"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

// Added is the document of a part that was added to a drawer.
type Added struct {
	answer.Head
	Kind          string   `json:"kind"`
	ID            string   `json:"id"`
	Understood    []Said   `json:"understood"`
	NotUnderstood []string `json:"not_understood"`
	// ReadAs says how words were read whose meaning is the trade's habit.
	ReadAs []string `json:"read_as,omitempty"`

	// Unclear are the words of NotUnderstood with what might be meant, where that is known.
	Unclear []string `json:"-"`
}

// Said is a key with its value and the words that it was read from, empty for what was made up.
type Said struct {
	Key   string `json:"key"`
	Value string `json:"value"`
	Words string `json:"words"`
}

// NotAdded is why a description is no part: Faults, with how its words were read.
type NotAdded struct {
	Faults inventory.Faults
	ReadAs []string
}

// Error is the faults for logs and tests.
func (e *NotAdded) Error() string { return e.Faults.Error() }

// Unwrap is the faults.
func (e *NotAdded) Unwrap() error { return e.Faults }

// Add reads a part from words and puts it into the text of a drawer, which name stands for in messages. The error is
// a *NotAdded where the words are at fault, else one of the drawer.
func Add(head answer.Head, name string, text []byte, words string) (*Added, []byte, error) {
	drawer, err := read(name, text)
	if err != nil {
		return nil, nil, err
	}
	part, err := edit.Describe(words, drawer)
	var list inventory.Faults
	switch {
	case errors.As(err, &list):
		return nil, nil, &NotAdded{list, readAs(part)}
	case err != nil:
		return nil, nil, err
	}
	changed, err := edit.Append(name, text, part)
	if err != nil {
		return nil, nil, err
	}
	if drawer, err = read(name, changed); err != nil {
		return nil, nil, err
	}
	head.Drawer, head.Care = name, answer.CareOf(&answer.Scene{Drawer: drawer})
	return &Added{Head: head, Kind: string(part.Kind), ID: part.ID, Understood: understood(part),
		NotUnderstood: append([]string{}, part.Unclear...), ReadAs: readAs(part), Unclear: unclear(part)}, changed, nil
}

// read reads a drawer; a text without anything in it is an empty one.
func read(name string, text []byte) (*inventory.Drawer, error) {
	if edit.Blank(text) {
		return &inventory.Drawer{Name: name}, nil
	}
	return inventory.Read(name, bytes.NewReader(text))
}

func understood(part *edit.Described) []Said {
	list := make([]Said, len(part.Understood))
	for i, said := range part.Understood {
		list[i] = Said{said.Key, said.Value, said.Words}
	}
	return list
}

// readAs are how words of a part were read, one sentence each; part may be nil.
func readAs(part *edit.Described) []string {
	var list []string
	if part != nil {
		for i := range part.Readings {
			list = append(list, faults.Problem(&part.Readings[i]))
		}
	}
	return list
}

// unclear are the words of a part that mean nothing, with what might be meant.
func unclear(part *edit.Described) []string {
	var list []string
	for _, words := range part.Unclear {
		p := part.Unknown(words)
		if way := faults.Way(&p); way != "" {
			words += " (" + way + ")"
		}
		list = append(list, words)
	}
	return list
}

// Rows is what was understood as a table of plain values.
func (d *Added) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"key", "value", "from"}}
	for _, said := range d.Understood {
		rows.Add(said.Key, said.Value, said.Words)
	}
	return rows
}
