package inventory

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"partsaloft/inventory/strict"
)

// Fix writes a drawer's text, named for messages, anew: what has one plain way out is mended, keys and
// values have one order and form, comments stay, and remark says, a line each, what is estimated for the
// gaps of a part; an empty line is left out. It returns what was mended. The error is a Faults if faults
// are left that only the pilot can mend; the result was read back and holds the same.
func Fix(name string, text []byte, remark func(*Gap) string) ([]byte, []strict.Fixed, error) {
	text, mended, faults := strict.Mend(text, func(text []byte) Faults {
		_, err := Read(name, bytes.NewReader(text))
		var faults Faults
		errors.As(err, &faults)
		return faults
	})
	if faults != nil {
		return nil, mended, faults
	}
	d, err := Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, mended, err
	}
	remarks := map[string][]string{}
	for _, g := range d.Gaps() {
		if line := remark(&g); line != "" {
			remarks[g.Path] = append(remarks[g.Path], strict.EstimateMark+strings.Join(strings.Fields(line), " "))
		}
	}
	tidy := text
	for range 3 { // comments come to rest where the reader finds them
		last := tidy
		if tidy, err = strict.Tidy(last, d, func(path string) []string { return remarks[path] }); err != nil {
			return nil, mended, problem("fix.form", strict.Values{"file": name, "cause": err.Error()})
		}
		if bytes.Equal(tidy, last) {
			break
		}
	}
	if again, err := Read(name, bytes.NewReader(tidy)); err != nil || !Same(d, again) {
		return nil, mended, problem("fix.meaning", strict.Values{"file": name})
	}
	return tidy, mended, nil
}

// Written is one number, or a list of them.
func (l *Lengths) Written() string {
	words := make([]string, len(*l))
	for i, x := range *l {
		words[i] = number(x)
	}
	if len(words) == 1 {
		return words[0]
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// Written is the range in brackets.
func (c *CellRange) Written() string { return fmt.Sprintf("[%d, %d]", c.Min, c.Max) }
