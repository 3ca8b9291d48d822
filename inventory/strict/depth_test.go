package strict

import (
	"strings"
	"testing"
)

// What nests too deeply is found before it is parsed; what closes its brackets, or only looks deep, is not.
func TestTooDeep(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       Position
	}{
		{"closed brackets", strings.Repeat("parts: [{a: 1}]\n", maxDepth+1), Position{}},
		{"as many as may be", strings.Repeat("[", maxDepth), Position{}},
		{"one more", "parts:\n  " + strings.Repeat("[", maxDepth+1), Position{2, maxDepth + 3}},
		{"braces and brackets over lines", strings.Repeat("{a: [\n", maxDepth), Position{maxDepth/2 + 1, 1}},
		{"dashes", "a: 1\n" + strings.Repeat("- ", 2*maxDepth), Position{2, 1}},
		{"a comment far to the right", strings.Repeat(" ", 3*maxDepth) + "# " + strings.Repeat("[", 2*maxDepth), Position{}},
	} {
		if got := tooDeep([]byte(c.text)); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
