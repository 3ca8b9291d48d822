package render

import (
	"strings"
	"testing"
)

// Regression: paragraphs and items that hang are wrapped anew, lines as in YAML stay.
func TestReflow(t *testing.T) {
	const text = `A paragraph that was written for a screen of more columns than
this one has.
Its second line goes on.

  motors   id and size are needed; a bench reading and
           its weight help most
  x        short

  limits:
    all_up_g: ..200          # at most
0    the result is complete and there is nothing more to say of it
`
	const want = `A paragraph that was written for a
screen of more columns than this one
has. Its second line goes on.

  motors   id and size are needed; a
           bench reading and its weight
           help most
  x        short

  limits:
    all_up_g: ..200          # at most
0    the result is complete and there is
     nothing more to say of it
`
	if got := Reflow(text, 40); got != want {
		t.Errorf("got\n%s", got)
	}
}

// Property: no word is lost, and no line is wider than the screen unless a word is.
func FuzzReflow(f *testing.F) {
	f.Add("a  b\n      c d\n\n  - {x: 1}\n", 20)
	f.Fuzz(func(t *testing.T, text string, width int) {
		if width < 40 || width > 200 || len(text) > 2000 || strings.ContainsAny(text, "\t\v\f\r\u0085\u00a0") {
			return
		}
		got := Reflow(text, width)
		if a, b := strings.Fields(Clean(text)), strings.Fields(got); strings.Join(a, " ") != strings.Join(b, " ") {
			t.Errorf("%q becomes %q", text, got)
		}
	})
}
