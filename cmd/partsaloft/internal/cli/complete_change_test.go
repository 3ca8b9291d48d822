package cli

import (
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
)

func completed(t *testing.T, args ...string) []string {
	t.Helper()
	got := run(t, append([]string{"__complete"}, args...)...)
	if got.code != 0 {
		t.Fatalf("%v: exit %d, %s", args, got.code, got.err)
	}
	lines := strings.Split(strings.TrimSpace(got.out), "\n")
	return lines[:len(lines)-1]
}

func TestCompletionOfChangesListsAndFiles(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
		not  string
	}{
		{[]string{"vary", "--change", ""}, []string{"motor.", "pack.", "craft.mass_g=", "air."}, ""},
		{[]string{"vary", "--change", "pack."}, []string{"pack.capacity_mah=", "pack.cells="}, "pack.count="},
		{[]string{"vary", "--change", "prop.flex="}, []string{"prop.flex=soft", "prop.flex=stiff"}, ""},
		{[]string{"vary", "--change", "air."}, []string{"air.altitude_m="}, ""},
		{[]string{"bench", "--prop", "p3.5-26x3,"}, []string{"p3.5-26x3,p3.5-23x2"}, "p3.5-26x3,p3.5-26x3"},
		{[]string{"rank", "--drawer", ""}, []string{"yaml"}, ""},
		{[]string{"schema", ""}, []string{"drawer", "style", "learned"}, ""},
		{[]string{"export", ""}, []string{"motors", "extras"}, ""},
		{[]string{"import", ""}, []string{"motors"}, ""},
		{[]string{"import", "motors", ""}, []string{"csv"}, ""},
		{[]string{"plan", ""}, []string{"race", "cruise"}, ""},
		{[]string{"buy", ""}, []string{"yaml"}, ""},
		{[]string{"add", ""}, []string{"yaml"}, ""},
		{[]string{"help", ""}, []string{"drawer", "figures"}, ""},
	} {
		got := completed(t, c.args...)
		for _, want := range c.want {
			if !slices.ContainsFunc(got, func(line string) bool { word, _, _ := strings.Cut(line, "\t"); return word == want }) {
				t.Errorf("%v: %s is not offered, only %v", c.args, want, got)
			}
		}
		if c.not != "" && slices.Contains(got, c.not) {
			t.Errorf("%v: %s is offered", c.args, c.not)
		}
	}
}

// Property: every key and every word that a change may have is offered.
func TestChangesAreOffered(t *testing.T) {
	for _, part := range answer.Changeables() {
		offers := completed(t, "vary", "--change", part.Part+".")
		for _, key := range part.Keys() {
			offer := part.Part + "." + key + "="
			if !slices.Contains(offers, offer) {
				t.Errorf("%s is not offered", offer)
			}
			if words := completed(t, "vary", "--change", offer); len(words) != len(part.Words(key)) {
				t.Errorf("%s: %q", offer, words)
			}
		}
	}
}
