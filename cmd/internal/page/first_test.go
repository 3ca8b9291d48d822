package page

import (
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/explore"
)

// Property: what to build stands first on the page, in words, before what the page holds and before the ranking, and
// the script has the same lines.
func TestWhatToBuildStandsFirst(t *testing.T) {
	in := input(t, drawer(t, "racer.yaml"), "freestyle",
		explore.Options{Details: 60})
	page := written(t, in)
	at := func(text string) int { return strings.Index(page, text) }
	first := in.Advice()
	if len(first) != 3 || !strings.HasPrefix(first[0], "Build") {
		t.Fatalf("advice is %+v", first)
	}
	if line := at(first[0]); line < at("<h1 id=") || line > at("<table") {
		t.Errorf("the first line stands at %d", at(first[0]))
	}
	said, _ := data(t, page)["details"].(map[string]any)["advice"].([]any)
	if len(said) != 60 || said[0].([]any)[0] != first[0] {
		t.Errorf("the script has %.200v", said)
	}
}
