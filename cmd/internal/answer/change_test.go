package answer

import (
	"strings"
	"testing"

	"partsaloft/inventory"
)

// Property: every key that is called changeable can be changed, to each of its words.
func TestChangeablesCanBeChanged(t *testing.T) {
	for _, part := range Changeables() {
		for _, key := range part.Keys() {
			values := part.Words(key)
			switch {
			case values != nil:
			case part.Part != "air":
				values = []string{"+10%"}
			case strings.Contains(key, "temperature"):
				values = []string{"20"}
			default:
				values = []string{"500"} // inside the bounds of an altitude and a pressure
			}
			for _, value := range values {
				if _, err := parseChange(part.Part+"."+key+"="+value, inventory.Air{}); err != nil {
					t.Errorf("%s.%s=%s: %v", part.Part, key, value, err)
				}
			}
		}
	}
}
