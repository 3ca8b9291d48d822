package render

import (
	"encoding/csv"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestCleanLetsNothingSteerATerminal(t *testing.T) {
	for _, bad := range []string{"\x1b[2J", "\a", "\r", "\u202e", "\u200b", "\x9b31m", "\u0085", "\xff", "\u2028",
		"\x00"} {
		got := Clean("m1" + bad + "x")
		if strings.Contains(got, bad) || !utf8.ValidString(got) || !strings.HasPrefix(got, "m1") ||
			!strings.HasSuffix(got, "x") {
			if bad == "\x1b[2J" && strings.HasPrefix(got, "m1\uFFFD[2J") {
				continue
			}
			t.Errorf("Clean(%q) = %q", "m1"+bad+"x", got)
		}
	}
	if got := Clean("Ω 5.1 × 3\nµ"); got != "Ω 5.1 × 3\nµ" {
		t.Errorf("Clean changed plain text to %q", got)
	}
}

func TestWrapKeepsNumbersWithTheirUnits(t *testing.T) {
	text := strings.Repeat("It flies 6.1 min at 24 % of throttle and draws 38 A of 50 A. ", 8)
	for width := 20; width < 60; width++ {
		for line := range strings.SplitSeq(Wrap(text, width, "  "), "\n") {
			if utf8.RuneCountInString(line) > width {
				t.Errorf("width %d: line %q", width, line)
			}
			if last := line[len(line)-1]; last >= '0' && last <= '9' {
				t.Errorf("width %d: line %q ends in a number", width, line)
			}
		}
	}
}

func sample() *Table {
	t := &Table{Columns: []Column{Left("name"), Right("weight\ng")}}
	t.Add("a|b", "12.5")
	t.Add("Ω\x1b[31m", "1300")
	return t
}

func TestTableAlignsAndStaysPlain(t *testing.T) {
	text, err := sample().text(Screen{})
	if err != nil {
		t.Fatal(err)
	}
	const want = "" +
		"name    weight\n" +
		"             g\n" +
		"──────────────\n" +
		"a|b       12.5\n" +
		"Ω\uFFFD[31m    1300\n"
	if text != want {
		t.Errorf("got\n%s\nwant\n%s", text, want)
	}
	empty, err := (&Table{Columns: []Column{Left("x")}}).text(Screen{})
	if err != nil || empty != "" {
		t.Errorf("a table without rows: %q, %v", empty, err)
	}
}

func TestMarkdownEscapesWhatWouldBreakATable(t *testing.T) {
	text, err := sample().markdown()
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		if n := strings.Count(line, "|") - strings.Count(line, `\|`); n != 3 {
			t.Errorf("line %d has %d bars: %s", i, n, line)
		}
	}
	if !strings.Contains(text, "weight<br>g") {
		t.Errorf("the head's line break is lost:\n%s", text)
	}
	p := Page{Heading("A <b> *x*"), Paragraph("one\ntwo"), List{"a", "b"}}
	var b strings.Builder
	if err := p.Markdown(&b); err != nil {
		t.Fatal(err)
	}
	if want := "### A &lt;b> \\*x\\*\n\none two\n\n- a\n- b\n"; b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
	link := &Table{Columns: []Column{Left("[a](b)")}}
	link.Add(`![x](http://a.b/c) \| <img src=x> www.a.b`)
	want := "| \\[a\\](b) |\n| :-- |\n| !\\[x\\](http:\\/\\/a.b/c) \\\\\\| &lt;img src=x> www\\.a.b |\n"
	if got := link.pipes(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A spreadsheet runs what begins with = + - or @; numbers stay numbers.
func TestCSVRunsNothing(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "+cmd": "'+cmd", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1",
		" =1": "' =1", "'=1": "''=1",
		"-12.5": "-12.5", "+3": "+3", "-1e-3": "-1e-3", ".5": ".5", "m1404-39": "m1404-39", "'t": "'t", "": "", "–": "–",
	} {
		if got := plainCell(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}

func TestCSVIsReadBack(t *testing.T) {
	table := &Table{Columns: []Column{Left("id"), Left("notes")}}
	table.Add("m1", "a, \"b\"; c")
	var b strings.Builder
	if err := table.CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil || len(rows) != 2 || rows[0][1] != "notes" || rows[1][1] != "a, \"b\"; c" {
		t.Errorf("%q read back as %v, %v", b.String(), rows, err)
	}
}

func TestEmphasisIsAskedFor(t *testing.T) {
	for _, emphasis := range []bool{false, true} {
		var b strings.Builder
		if err := (Page{Heading("x")}).Text(&b, Screen{Bold: emphasis}); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(b.String(), "\x1b") != emphasis {
			t.Errorf("emphasis %v: %q", emphasis, b.String())
		}
	}
}

// A narrow terminal gets shorter lines, a wide one none longer than Width; wide characters count twice.
func TestTextKeepsToTheScreen(t *testing.T) {
	text := Paragraph(strings.Repeat("It flies 6 min and draws 38 A of 50 A. 翼 ", 20))
	for _, c := range []struct{ columns, most int }{{0, Width}, {300, Width}, {72, 72}, {5, narrowest}} {
		var b strings.Builder
		if err := (Page{text, List{string(text)}}).Text(&b, Screen{Columns: c.columns}); err != nil {
			t.Fatal(err)
		}
		longest := 0
		for line := range strings.SplitSeq(b.String(), "\n") {
			longest = max(longest, utf8.RuneCountInString(line)+strings.Count(line, "翼"))
		}
		if longest > c.most || longest < c.most-10 {
			t.Errorf("a screen of %d columns has a line of %d, want up to %d", c.columns, longest, c.most)
		}
	}
}
