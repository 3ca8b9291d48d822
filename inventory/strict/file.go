package strict

import (
	"io"
	"reflect"
)

// MaxBytes is the largest file that is read.
const MaxBytes = 8 << 20

// Read reads one YAML document into a pointer to a struct; name stands for the file in messages.
func Read(name string, r io.Reader, into any) *Document {
	d := newDocument(name)
	d.example = exampleKey(into)
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	switch {
	case err != nil:
		d.at(Position{}, "", "file.cut", Values{"cause": printable(err.Error())})
	case len(raw) > MaxBytes:
		d.at(Position{}, "", "file.large", Values{"mib": Number(MaxBytes >> 20)})
	default:
		if root := d.parse(raw); root != nil {
			d.decode(root, into)
		}
	}
	return d
}

// exampleKey is a key to begin a file with.
func exampleKey(into any) string {
	if p, err := planOf(reflect.TypeOf(into).Elem()); err == nil && len(p.fields) > 0 {
		return p.fields[min(1, len(p.fields)-1)].key
	}
	return "name"
}
