package page

import (
	"strings"
	"testing"

	"partsaloft/search"
)

// Property: what to build stands first on the page, in words, before what the page holds and before the ranking, and
// the script has the same lines.
func TestWhatToBuildStandsFirst(t *testing.T) {
	in := input(t, drawer(t, "racer.yaml"), "freestyle",
		search.CatalogueOptions{Options: search.Options{Draws: 20, Seed: 1}, Details: 60})
	page := written(t, in)
	at := func(text string) int { return strings.Index(page, text) }
	first := in.advice()
	if first == nil || len(first.Lines) != 3 || !strings.HasPrefix(first.Lines[0], "Build") {
		t.Fatalf("advice is %+v", first)
	}
	if line := at(first.Lines[0]); line < at("<h1>") || line > at("Flown as freestyle") || line > at("<table") {
		t.Errorf("the first line stands at %d", at(first.Lines[0]))
	}
	said, _ := data(t, page)["advice"].(map[string]any)
	if lines, _ := said["lines"].([]any); len(lines) != 3 || lines[0] != first.Lines[0] {
		t.Errorf("the script has %v", said)
	}
}
