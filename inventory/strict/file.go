package strict

import (
	"fmt"
	"io"
	"reflect"
)

// MaxBytes is the largest file that is read.
const MaxBytes = 8 << 20

var sizeMessage = fmt.Sprintf("is larger than %d MiB, the most that is read; is it the right file?", MaxBytes>>20)

// Read reads one YAML document into a pointer to a struct; name stands for the file in messages.
func Read(name string, r io.Reader, into any) *Document {
	d := newDocument(name)
	d.example = exampleKey(into)
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	switch {
	case err != nil:
		d.add(Position{}, "", fmt.Sprintf("cannot be read to its end: %v", errorText(err)))
	case len(raw) > MaxBytes:
		d.add(Position{}, "", sizeMessage)
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

func errorText(err error) string { return printable(err.Error()) }
