package render

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"
)

// Property: a table with any words and numbers is no wider than the screen, down to what its longest word takes, and
// loses no word of a cell.
func TestNarrowTablesLoseNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	word := func() string { return strings.Repeat(string(rune('a'+rng.IntN(26))), 1+rng.IntN(12)) }
	words := func(most int) string {
		list := make([]string, rng.IntN(most+1))
		for i := range list {
			list[i] = word()
		}
		return strings.Join(list, " ")
	}
	layouts := map[string]bool{}
	for range 120 {
		table := &Table{}
		for range 2 + rng.IntN(9) {
			c := Right(word() + "\n" + word())
			switch rng.IntN(5) {
			case 0:
				c = Left(word()).Wrapped(10 + rng.IntN(40))
			case 1:
				c = c.Each()
			case 2:
				c = Left(word() + "\n" + word()).Titled()
			}
			table.Columns = append(table.Columns, c)
		}
		var cells []string
		for range 1 + rng.IntN(5) {
			row := []string{"  " + words(2)}
			for i := 1; i < len(table.Columns); i++ {
				c := &table.Columns[i]
				text := fmt.Sprint(rng.IntN(1_000_000))
				switch {
				case c.wrap > 0:
					text = words(12)
				case c.title:
					text = words(3) + "\n" + words(2)
				case rng.IntN(3) == 0:
					text += "\n" + word()
				}
				row = append(row, text)
			}
			if rng.IntN(6) == 0 {
				row = row[:1]
			}
			table.Add(row...)
			cells = append(cells, row...)
		}
		for _, width := range []int{60, 80, 120} {
			text, err := table.text(Screen{Columns: width})
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(text) {
				if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > width {
					t.Fatalf("a line of %d columns on %d:\n%s", n, width, text)
				}
			}
			have := map[string]int{}
			for _, one := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \n();:", r) }) {
				have[one]++
			}
			for _, one := range strings.Fields(strings.Join(cells, " ")) {
				if have[one]--; have[one] < 0 {
					t.Fatalf("%q is lost on %d columns:\n%s", one, width, text)
				}
			}
			plain, err := table.plain()
			if err != nil {
				t.Fatal(err)
			}
			layout := "as it is"
			switch {
			case text == plain:
			case text == table.hanging(width):
				layout = "titles above"
			case text == table.records(width):
				layout = "records"
			default:
				layout = "shrunk"
			}
			layouts[layout] = true
		}
	}
	if len(layouts) != 4 {
		t.Errorf("of the layouts only %v were met", layouts)
	}
}

// Regression: the three layouts of one table.
func TestNarrowLayouts(t *testing.T) {
	table := &Table{Columns: []Column{Right("#"), Left("motor\nframe").Titled(), Right("grip\nturn %").Each(),
		Right("weight\ng"), Left("mind").Wrapped(30)}}
	table.Add("1", "motor-1 prop-1\nframe-1 board-1", "57\n43", "234", "breaks: weight over its limit by far and more than that")
	table.Add("2", "motor-2 prop-2\nframe-2 board-2", "56", "236\n230–240", "")
	for width, want := range map[int]string{
		60: `
#  motor              grip   weight  mind
   frame            turn %        g
────────────────────────────────────────────────────────────
1  motor-1 prop-1       57      234  breaks: weight over its
   frame-1 board-1      43           limit by far and more
                                     than that
2  motor-2 prop-2       56      236
   frame-2 board-2          230–240
`,
		50: `
# motor frame
    grip   weight  mind
  turn %        g
  ──────────────────────────────────────────────
1 motor-1 prop-1 frame-1 board-1
      57      234  breaks: weight over its limit
      43           by far and more than that
2 motor-2 prop-2 frame-2 board-2
      56      236
          230–240
`,
		40: `
# motor frame
─────────────
1 motor-1 prop-1 frame-1 board-1
  grip                57
  turn %              43
  weight g           234
  mind: breaks: weight over its limit by
    far and more than that
2 motor-2 prop-2 frame-2 board-2
  grip                56
  weight g 236 (230–240)
`,
	} {
		text, err := table.text(Screen{Columns: width})
		if err != nil || "\n"+text != want {
			t.Errorf("%d columns, %v:\n%s", width, err, text)
		}
	}
}
