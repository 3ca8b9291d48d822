package edit

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Line is a line of a list of parts, or several that belong together, and what became of it.
type Line struct {
	Number int    // of its first line, from 1
	Text   string // as it was written, on one line
	// Part is what was read; Err is a Faults of why it is no part of a drawer. A part that has an error is what was
	// understood of it, nil if that is nothing.
	Part *Described
	Err  error
}

// longestList is the largest number of parts in a list.
const longestList = 2000

// DescribeList reads many parts from free text, named for messages, one a line, as Describe reads one. Blank lines,
// comments that begin with # and titles are passed over; bullets and numbers before a part too, and a line that is
// indented below a bullet goes on with it. A heading such as "Motors:" says the kind of the parts below, until the next
// one. The error is a Faults of what is no text at all.
func DescribeList(name string, raw []byte, drawer *inventory.Drawer) ([]Line, error) {
	text, err := listText(name, raw)
	if err != nil {
		return nil, err
	}
	r := listReader{drawer: drawer, taken: map[inventory.Kind][]string{}}
	r.split(text)
	if len(r.lines) > longestList {
		return nil, inventory.Faults{{File: name, Problem: strict.Problem{Code: "list.long",
			Values: strict.Values{"most": strict.Number(longestList)}}}}
	}
	r.dropNumbers()
	for i := 0; i < len(r.lines); i++ {
		line := &r.lines[i]
		line.Part, line.Err = describe(line.Text, r.under[i], drawer, r.ids)
		if i == 0 && r.titled && line.Part == nil && line.Err != nil {
			r.lines, r.under = r.lines[1:], r.under[1:]
			r.titled, i = false, -1
			continue
		}
		if line.Err == nil {
			r.taken[line.Part.Kind] = append(r.taken[line.Part.Kind], line.Part.ID)
		}
	}
	return r.lines, nil
}

// listText is a list's text in UTF-8.
func listText(name string, raw []byte) (string, error) {
	problem := func(code strict.Code, line int) error {
		return inventory.Faults{{File: name, Position: strict.Position{Line: line, Column: min(line, 1)},
			Problem: strict.Problem{Code: code}}}
	}
	if len(raw) > strict.MaxBytes {
		return "", inventory.Faults{{File: name, Problem: strict.Problem{Code: "file.large",
			Values: strict.Values{"mib": strict.Number(strict.MaxBytes >> 20)}}}}
	}
	if code := strict.NotText(raw); code != "" {
		return "", problem(code, 1)
	}
	text := strings.TrimPrefix(string(raw), "\ufeff")
	if !utf8.ValidString(text) || strings.Contains(text, "\x00") {
		valid := strings.ToValidUTF8(text, "\x00")
		return "", problem("list.byte", 1+strings.Count(valid[:strings.IndexByte(valid, 0)], "\n"))
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n").Replace(text), nil
}

// listReader takes a list apart.
type listReader struct {
	drawer *inventory.Drawer
	lines  []Line
	under  []heading // over each line
	taken  map[inventory.Kind][]string
	titled bool // the first line stands apart from the others, as a title does
}

func (r *listReader) ids(kind inventory.Kind) []string {
	return append(r.drawer.IDs(kind), r.taken[kind]...)
}

var (
	// listBullet is what may stand before a part, with boxes to tick.
	listBullet = regexp.MustCompile(`^(?:[-*+•·–—]|\d{1,3}[.)])\s+(?:\[[ xX]?\]\s*)?|^\[[ xX]?\]\s*`)
	listRule   = regexp.MustCompile(`^[-=_*~]{3,}$`)
	// listTitle is a line between rules or in brackets: == Motors ==, [motors], <motors>.
	listTitle = regexp.MustCompile(`^(?:[-=_*~+]+|\|)\s*([^-=_*~+|].*?)\s*(?:[-=_*~+]+|\|)$|^(?:\[|<+|>+|\()\s*([^\d]+?)\s*(?:\]|>+|<+|\))$`)
	digit     = regexp.MustCompile(`\d`)
	emphasis  = strings.NewReplacer("**", "", "__", "", "`", "")
)

// split takes a text apart into parts and the headings over them.
func (r *listReader) split(text string) {
	var over heading
	bulletAt := -1                // the indentation of the last line, if a bullet stood there and it is a part
	titled, apart := false, false // a line was there already; a blank one is before this
	opening := -1                 // the number of the text's first line, if that may be a part
	for i, written := range strings.Split(text, "\n") {
		line := strings.TrimSpace(emphasis.Replace(strict.PlainSpaces(written)))
		indent := len(written) - len(strings.TrimLeft(written, " \t"))
		first := !titled
		titled = titled || line != ""
		bullet := listBullet.FindString(line)
		switch {
		case line == "", listRule.MatchString(line):
			bulletAt, apart = -1, true
			continue
		case strings.HasPrefix(line, "#"):
			bulletAt = -1
			// A heading of Markdown, or a comment.
			found, ok := headingOf(strings.TrimLeft(line, "# "), true)
			if ok && (found.kind != "" || strings.HasPrefix(line, "##")) {
				over = found
			}
			continue
		}
		if m := listTitle.FindStringSubmatch(line); m != nil {
			if found, ok := headingOf(m[1]+m[2], true); ok {
				over, bulletAt = found, -1
				continue
			}
		}
		if found, ok := headingOf(strings.TrimPrefix(line, bullet), first); ok {
			over, bulletAt = found, -1
			continue
		}
		if bullet == "" && bulletAt >= 0 && indent > bulletAt {
			r.lines[len(r.lines)-1].Text += ", " + line
			continue
		}
		if bulletAt = -1; bullet != "" {
			bulletAt = indent
		}
		if len(r.lines) == 1 && opening == r.lines[0].Number && i > opening {
			r.titled = true
		}
		if first {
			opening = i + 1
		}
		if apart && over.kind != inventory.KindExtra && unknownHeading(line) {
			over = heading{} // the parts below may be of any kind
		}
		apart = false
		r.lines = append(r.lines, Line{Number: i + 1, Text: strings.TrimPrefix(line, bullet)})
		r.under = append(r.under, over)
	}
}

// headingWords may stand in a heading beside the words of kinds.
var headingWords = []string{"a", "all", "and", "my", "the", "of", "old", "new", "used", "spare", "spares", "parts",
	"stuff", "other", "others", "misc", "miscellaneous", "electronics", "box", "list", "brushless", "flight", "controllers",
	"&", "/", "+", "-", "stacks", "stack", "things", "rest", "accessories", "various"}

// headingOf reads a line that stands over parts: one that ends with a colon or is made of words of kinds alone, without
// figures. A title is one of other words without figures.
func headingOf(line string, title bool) (heading, bool) {
	words, colon := strings.CutSuffix(strings.TrimRight(line, " "), ":")
	padded := gluedUnits(spacedWords(strings.ReplaceAll(words, "/", " / ")))
	found, _, end := kindWord(padded)
	plain := !digit.MatchString(words)
	rest, several := padded, false
	for found.kind != "" && end > 0 {
		next, from, to := kindWord(rest)
		if next.kind == "" {
			break
		}
		several = several || next != found
		rest = rest[:from] + " " + rest[to-1:]
	}
	known := true
	for _, word := range strings.Fields(rest) {
		known = known && slices.Contains(headingWords, strings.ToLower(word))
	}
	switch {
	case plain && known && found.kind != "", colon && found.kind != "":
		if several && found.kind != inventory.KindExtra {
			found = heading{} // packs and chargers, motors and props
		} else if several {
			found.role = ""
		}
		if several && isBoardWords(padded) {
			found = heading{kind: inventory.KindBoard}
		}
		return found, true
	case plain && known && stackWords.MatchString(padded):
		return heading{kind: inventory.KindBoard}, true
	case plain && known && sundries.MatchString(padded):
		return heading{kind: inventory.KindExtra}, true
	}
	return heading{}, colon || plain && (title || known) && strings.TrimSpace(padded) != ""
}

// unknownHeading reports whether a line that stands apart looks like a heading whose words are not known.
func unknownHeading(line string) bool {
	found, _, _ := kindWord(spacedWords(line))
	return found.kind == "" && !digit.MatchString(line) && len(strings.Fields(line)) <= 3
}

var (
	stackWords = regexp.MustCompile(`(?i) stacks? `)
	sundries   = regexp.MustCompile(`(?i) (?:others?|misc|miscellaneous|electronics|accessories|various|stuff|things) `)
)

// isBoardWords reports whether all words of kinds in a text name boards: flight controllers and ESCs.
func isBoardWords(text string) bool {
	for {
		found, from, to := kindWord(text)
		switch found.kind {
		case "":
			return true
		case inventory.KindBoard:
			text = text[:from] + " " + text[to-1:]
		default:
			return false
		}
	}
}

// dropNumbers takes bare numbers away that count the lines: 1, 2, 3 … before every part.
func (r *listReader) dropNumbers() {
	if len(r.lines) < 3 {
		return
	}
	rest := make([]string, len(r.lines))
	for i := range r.lines {
		number, text, ok := strings.Cut(r.lines[i].Text, " ")
		if !ok || strings.TrimRight(number, ":") != strconv.Itoa(i+1) {
			return
		}
		rest[i] = strings.TrimSpace(text)
	}
	for i := range rest {
		r.lines[i].Text = rest[i]
	}
}
