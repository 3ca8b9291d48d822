package edit

import (
	"bytes"
	"errors"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// AppendEntry adds an entry to the log in the text of a drawer file, named for messages, and leaves every other byte as
// it is. Lines are the entry's as a list has them, the first with a dash; what has one plain way out in them is mended
// (5:20 minutes, 5.3oz), which comes back beside the new text. The error is a Faults, of the drawer if it was not sound
// before, else of the entry, or a *strict.Problem.
func AppendEntry(name string, text []byte, lines []string) ([]byte, []strict.Fixed, error) {
	before, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	changed, err := appended(text, "log", [][]string{lines})
	if err != nil {
		return nil, nil, err
	}
	changed, mended, faults := strict.Mend(changed, func(text []byte) inventory.Faults {
		_, err := inventory.Read(name, bytes.NewReader(text))
		var faults inventory.Faults
		errors.As(err, &faults)
		return faults
	})
	if faults != nil {
		return nil, mended, faults
	}
	after, err := inventory.Read(name, bytes.NewReader(changed))
	if err != nil {
		return nil, mended, err
	}
	cut := *after
	if n := len(cut.Log); n > 0 {
		cut.Log = cut.Log[:n-1]
	}
	if len(after.Log) != len(before.Log)+1 || !Same(before, &cut) {
		return nil, mended, problem("log.by_hand", strict.Values{"file": name})
	}
	return changed, mended, nil
}
