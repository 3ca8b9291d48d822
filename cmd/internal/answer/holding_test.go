package answer

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/space"
)

// What a catalogue cannot promise is not promised, and nothing is said with a gap in it.
func TestHoldingSaysWhatIsUnproven(t *testing.T) {
	style, ok := objective.Preset("race")
	if !ok {
		t.Fatal("no style")
	}
	held := make([]search.Entry, 40)
	for _, c := range []struct {
		name      string
		catalogue search.Catalogue
		says      []string
	}{
		{"all", search.Catalogue{Proven: true, Feasible: 40, Candidates: 1234, Fitted: 1000, Entries: held},
			[]string{"1,234 combinations", "40 of these can be flown", "complete for any weights and limits"}},
		{"the best", search.Catalogue{Proven: true, Feasible: 41, Complete: 12, Entries: held},
			[]string{"holds 40 of them", "the first 12 places are complete"}},
		{"within a loss", search.Catalogue{Proven: true, Feasible: 41, Loss: 0.0123, Entries: held},
			[]string{"at most 1.2 % more than the first place here"}},
		{"a search", search.Catalogue{Evaluated: 300, Complete: 5, Entries: held},
			[]string{"of those looked at", "that the search tried", "something better may be missing", "the first 5 places are proven"}},
		{"odd parts", search.Catalogue{Proven: true, Feasible: 40, Entries: held,
			SetAside: []space.SetAside{{Kind: "prop", ID: "p1", Err: errors.New("no blade\nno root")}}},
			[]string{"Left out: prop p1, no blade; no root."}},
	} {
		text := strings.Join(Holding(&style, &c.catalogue), " ")
		for _, says := range append(c.says, "Style race: ", "Always kept: thrust-to-weight at least 2") {
			if !strings.Contains(text, says) {
				t.Errorf("%s: %q is missing in %s", c.name, says, text)
			}
		}
		if strings.ContainsAny(text, "{}") {
			t.Errorf("%s: a value is missing in %s", c.name, text)
		}
		for _, promise := range []string{"complete for any", "best of the drawer whatever"} {
			if (c.catalogue.Loss > 0 || !c.catalogue.Proven) && slices.Contains(c.says, promise) != strings.Contains(text,
				promise) {
				t.Errorf("%s promises: %s", c.name, text)
			}
		}
	}
}
