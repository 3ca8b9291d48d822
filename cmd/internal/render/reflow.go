package render

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// hangs is how much deeper than its first line the lines of an item are set in at least that go on with it; what is set
// in by less is a line of its own, as in YAML.
const hangs = 4

// Reflow fits a text of paragraphs and lines that are set in to a width: paragraphs are wrapped anew, an item with lines
// that hang below it where one of them is too long. Other lines stay as they are.
func Reflow(text string, width int) string {
	lines := strings.Split(Clean(text), "\n")
	var out []string
	for i := 0; i < len(lines); {
		in := indented(lines[i])
		n := 1
		switch {
		case strings.TrimSpace(lines[i]) == "":
			out = append(out, "")
		case in == 0:
			for i+n < len(lines) && strings.TrimSpace(lines[i+n]) != "" && indented(lines[i+n]) == 0 {
				n++
			}
			out = append(out, paragraph(lines[i:i+n], width)...)
		default:
			for i+n < len(lines) && indented(lines[i+n]) >= in+hangs {
				n++
			}
			out = append(out, item(lines[i:i+n], width)...)
		}
		i += n
	}
	return strings.Join(out, "\n")
}

// indented is how many spaces a line begins with.
func indented(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// paragraph wraps lines as one; a line with columns in it, parted by two spaces or more, is an item of its own.
func paragraph(lines []string, width int) []string {
	var out, run []string
	flush := func() {
		if len(run) > 0 {
			out = append(out, strings.Split(Wrap(strings.Join(run, " "), width, ""), "\n")...)
		}
		run = nil
	}
	for _, line := range lines {
		if strings.Contains(strings.TrimRight(line, " "), "  ") && !strings.Contains(line, ".  ") {
			flush()
			out = append(out, item([]string{line}, width)...)
			continue
		}
		run = append(run, line)
	}
	flush()
	return out
}

// item wraps a line with what hangs below it, if one of them is too long. What is said of a word that stands before two
// spaces or more hangs under its beginning, as far as there is room.
func item(lines []string, width int) []string {
	long := false
	for _, line := range lines {
		long = long || displaywidth.String(line) > width
	}
	if !long {
		return lines
	}
	first := lines[0]
	in := indented(first)
	hang := in + hangs
	rest := strings.TrimLeft(strings.Join(lines[1:], " "), " ")
	lead := first[:in]
	body := first[in:]
	if word, said, ok := strings.Cut(body, "  "); ok {
		gap := len(body) - len(word) - len(strings.TrimLeft(body[len(word):], " "))
		lead, body = first[:in+len(word)+gap], strings.TrimLeft(said, " ")
		if hang = displaywidth.String(lead); hang > width/2 {
			hang = in + hangs
		}
	}
	used := displaywidth.String(lead)
	text, indent := strings.TrimSpace(body+" "+rest), strings.Repeat(" ", hang)
	if used < 2 {
		return strings.Split(lead+Wrap(text, width-used, indent), "\n")
	}
	// A word as long as the lead stands for it.
	wrapped := Wrap(strings.Repeat("x", used-1)+" "+text, width, indent)
	return strings.Split(lead[:len(lead)-1]+wrapped[used-1:], "\n")
}
