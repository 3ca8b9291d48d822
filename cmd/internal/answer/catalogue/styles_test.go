package catalogue

import (
	"testing"

	"partsaloft/objective"
)

// Property: every built-in style says what it is for.
func TestEveryPresetSaysWhatItIsFor(t *testing.T) {
	for _, name := range objective.PresetNames() {
		if AboutStyle(name) == "" {
			t.Errorf("nothing is said of the style %s", name)
		}
	}
}
