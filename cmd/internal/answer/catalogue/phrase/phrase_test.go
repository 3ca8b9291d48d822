package phrase

import (
	"slices"
	"testing"
)

func TestFill(t *testing.T) {
	for _, c := range []struct {
		sentence string
		values   map[string]any
		want     string
	}{
		{"no placeholder", nil, "no placeholder"},
		{"pack {id} has {n:cycle|cycles}", map[string]any{"id": "k1", "n": 1}, "pack k1 has 1 cycle"},
		{"{n:candidate|candidates}", map[string]any{"n": int64(302400)}, "302,400 candidates"},
		{"{x} A of {list}", map[string]any{"x": 12.5, "list": []string{"a", "b", "c"}}, "12.5 A of a, b and c"},
		{"{missing} stays", nil, "{missing} stays"},
		{"a { alone", nil, "a { alone"},
		{"{a}{a}", map[string]any{"a": "{b}", "b": "no"}, "{b}{b}"}, // what a pilot writes is not filled again
	} {
		if got := Fill(c.sentence, c.values); got != c.want {
			t.Errorf("%q: %q, want %q", c.sentence, got, c.want)
		}
	}
	if got := Placeholders("{a} of {b:x|y} and {a}"); !slices.Equal(got, []string{"a", "b", "a"}) {
		t.Errorf("placeholders %v", got)
	}
	for n, want := range map[int64]string{0: "0", 999: "999", 1000: "1,000", -1234567: "-1,234,567"} {
		if got := Grouped(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}
