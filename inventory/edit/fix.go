package edit

import (
	"bytes"
	"errors"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Fix writes a drawer's text, named for messages, anew: what has one plain way out is mended, keys and
// values have one order and form, comments stay, and estimates say, a line each by the path of a part, what is
// estimated for the gaps of the part. It returns what was mended. The error is a Faults if faults
// are left that only the pilot can mend; the result was read back and holds the same.
func Fix(name string, text []byte, estimates func(*inventory.Drawer) map[string][]string) ([]byte, []strict.Fixed,
	error) {
	text, mended, faults := strict.Mend(text, func(text []byte) inventory.Faults {
		_, err := inventory.Read(name, bytes.NewReader(text))
		var faults inventory.Faults
		errors.As(err, &faults)
		return faults
	})
	if faults != nil {
		return nil, mended, faults
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, mended, err
	}
	remarks := estimates(d)
	for _, lines := range remarks {
		for i, line := range lines {
			lines[i] = strict.EstimateMark + strings.Join(strings.Fields(line), " ")
		}
	}
	tidy := text
	for range 3 { // comments come to rest where the reader finds them
		last := tidy
		if tidy, err = strict.Format(last, d, func(path string) []string { return remarks[path] }); err != nil {
			return nil, mended, problem("fix.form", strict.Values{"file": name, "cause": err.Error()})
		}
		if bytes.Equal(tidy, last) {
			break
		}
	}
	if again, err := inventory.Read(name, bytes.NewReader(tidy)); err != nil || !Same(d, again) {
		return nil, mended, problem("fix.meaning", strict.Values{"file": name})
	}
	return tidy, mended, nil
}
