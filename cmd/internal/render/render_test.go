package render

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestNumberShowsTheDigitsThatItsIntervalSupports(t *testing.T) {
	for _, c := range []struct {
		value, low, high float64
		want, interval   string
	}{
		{7.3142, 5.8, 8.8, "7.3", "5.8 to 8.8"},
		{142.34, 133.7, 150.9, "142", "134 to 151"},
		{638, 608, 668, "640", "610 to 670"},
		{0.2345, 0.204, 0.264, "0.23", "0.20 to 0.26"},
		{24.31, 24.16, 24.46, "24.31", "24.16 to 24.46"},
		{56.6, 56.6, 56.6, "56.6", ""},
		{1300, 1300, 1300, "1300", ""},
		{0, 0, 0, "0", ""},
		{-3.14, -4, -2, "−3.1", "−4.0 to −2.0"},
		{0.04, -0.5, 0.5, "0.0", "−0.5 to 0.5"},
		{3, -40, 50, "3", "−40 to 50"},
	} {
		if got := Number(c.value, c.low, c.high); got != c.want {
			t.Errorf("Number(%g, %g, %g) = %s, want %s", c.value, c.low, c.high, got, c.want)
		}
		if got := Interval(c.value, c.low, c.high); got != c.interval {
			t.Errorf("Interval(%g, %g, %g) = %s, want %s", c.value, c.low, c.high, got, c.interval)
		}
	}
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{{1.24, 1, "+1.2"}, {-1.26, 1, "−1.3"}, {0.04, 1, "0"}, {-0.04, 1, "0"}, {12, 0, "+12"}} {
		if got := SignedFixed(c.value, c.decimals); got != c.want {
			t.Errorf("SignedFixed(%g, %d) = %s, want %s", c.value, c.decimals, got, c.want)
		}
	}
}

// Property: what is shown lies within half of the interval's half-width of the value, has no
// exponent and no negative zero.
func TestNumberStaysNearItsValue(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 5))
	for range 5000 {
		value := math.Pow(10, 6*draw.Float64()-2)
		half := value * math.Pow(10, -2.5*draw.Float64())
		text := Number(value, value-half, value+half)
		got, err := strconv.ParseFloat(text, 64)
		if err != nil || strings.ContainsAny(text, "e-") {
			t.Fatalf("Number(%g ± %g) = %q", value, half, text)
		}
		if math.Abs(got-value) > half/2+0.0006 && math.Abs(got-value) > value*0.0006 {
			t.Fatalf("Number(%g ± %g) = %q is %g off", value, half, text, got-value)
		}
	}
}

func TestRoundKeepsFiveDigitsAndOrder(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a := 1000 * draw.NormFloat64()
		b := a + math.Abs(draw.NormFloat64())*1e-3
		if Round(a) > Round(b) {
			t.Fatalf("Round(%g) > Round(%g)", a, b)
		}
		if math.Abs(Round(a)-a) > 5e-5*math.Abs(a) {
			t.Fatalf("Round(%g) = %g", a, Round(a))
		}
	}
	if math.Signbit(Round(math.Copysign(0, -1))) || math.Signbit(Decimal(-0.001, 2)) {
		t.Error("a rounded number is negative zero")
	}
}

func TestCleanLetsNothingSteerATerminal(t *testing.T) {
	for _, bad := range []string{"\x1b[2J", "\a", "\r", "\u202e", "\u200b", "\x9b31m", "\u0085", "\xff", "\u2028", "\x00"} {
		got := Clean("m1" + bad + "x")
		if strings.Contains(got, bad) || !utf8.ValidString(got) || !strings.HasPrefix(got, "m1") || !strings.HasSuffix(got, "x") {
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
		"=1+1": "'=1+1", "+cmd": "'+cmd", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1", " =1": "' =1", "'=1": "''=1",
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

func TestFieldsKeepTheirOrderAndUnknownFiguresAreNull(t *testing.T) {
	var b strings.Builder
	if err := JSON(&b, Fields{{"b", 1}, {"a", Known(1.234567, 1, 2, "label")}, {"c", Unknown("label", "it cannot <hover>")}}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if ib, ia, ic := strings.Index(text, `"b"`), strings.Index(text, `"a"`), strings.Index(text, `"c"`); ib >= ia || ia >= ic {
		t.Errorf("order is lost: %s", text)
	}
	if !strings.Contains(text, "<hover>") {
		t.Errorf("escaped for HTML: %s", text)
	}
	var back map[string]any
	if err := json.Unmarshal([]byte(text), &back); err != nil {
		t.Fatal(err)
	}
	a, c := back["a"].(map[string]any), back["c"].(map[string]any)
	if a["value"] != 1.2346 || a["basis"] != "label" || c["value"] != nil || c["low"] != nil || c["reason"] == nil {
		t.Errorf("%v", back)
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
