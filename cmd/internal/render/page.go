package render

import (
	"io"
	"strings"
)

// Width is the number of characters that a line of text takes at most, where the screen is no narrower.
const Width = 100

// narrowest is the least width that text is fitted to.
const narrowest = 40

// Screen is what text is written for. The zero value is a file.
type Screen struct {
	Columns int  // 0 if it has no width
	Bold    bool // headings are shown bold
}

// Width is the number of characters that a line of text takes at most on the screen.
func (s Screen) Width() int {
	if s.Columns == 0 {
		return Width
	}
	return min(max(s.Columns, narrowest), Width)
}

// Block is a piece of a page.
type Block interface {
	text(Screen) (string, error)
	markdown() (string, error)
}

// Page is what a command prints for people to read.
type Page []Block

// Add appends blocks.
func (p *Page) Add(blocks ...Block) { *p = append(*p, blocks...) }

// Text writes the page for a screen.
func (p Page) Text(w io.Writer, s Screen) error {
	return p.write(w, func(b Block) (string, error) { return b.text(s) })
}

// Markdown writes the page as Markdown with tables.
func (p Page) Markdown(w io.Writer) error {
	return p.write(w, Block.markdown)
}

func (p Page) write(w io.Writer, form func(Block) (string, error)) error {
	var parts []string
	for _, b := range p {
		s, err := form(b)
		if err != nil {
			return err
		}
		if s != "" {
			parts = append(parts, s)
		}
	}
	_, err := io.WriteString(w, strings.Join(parts, "\n"))
	return err
}

// Heading is a line over what follows.
type Heading string

func (h Heading) text(s Screen) (string, error) {
	line := Wrap(Clean(string(h)), s.Width(), "  ")
	if s.Bold {
		line = "\x1b[1m" + line + "\x1b[0m"
	}
	return line + "\n", nil
}

func (h Heading) markdown() (string, error) { return "### " + markdownLine(string(h)) + "\n", nil }

// Paragraph is running text; it is wrapped.
type Paragraph string

func (p Paragraph) text(s Screen) (string, error) {
	if p == "" {
		return "", nil
	}
	return Wrap(Clean(string(p)), s.Width(), "") + "\n", nil
}

func (p Paragraph) markdown() (string, error) {
	if p == "" {
		return "", nil
	}
	return markdownLine(string(p)) + "\n", nil
}

// Lead are the first lines of an answer: a sentence a line, each wrapped.
type Lead []string

func (l Lead) text(s Screen) (string, error) {
	var b strings.Builder
	for _, sentence := range l {
		b.WriteString(Wrap(Clean(sentence), s.Width(), "  ") + "\n")
	}
	return b.String(), nil
}

func (l Lead) markdown() (string, error) {
	lines := make([]string, len(l))
	for i, sentence := range l {
		lines[i] = markdownLine(sentence)
	}
	if len(lines) == 0 {
		return "", nil
	}
	return strings.Join(lines, "\\\n") + "\n", nil
}

// List is a list of sentences, each wrapped.
type List []string

func (l List) text(s Screen) (string, error) {
	var b strings.Builder
	for _, item := range l {
		b.WriteString("- " + Wrap(Clean(item), s.Width()-2, "  ") + "\n")
	}
	return b.String(), nil
}

func (l List) markdown() (string, error) {
	var b strings.Builder
	for _, item := range l {
		b.WriteString("- " + markdownLine(item) + "\n")
	}
	return b.String(), nil
}

// Lines are lines that stay as they are, for other programs to find, but on a screen.
type Lines []string

func (l Lines) text(s Screen) (string, error) {
	var b strings.Builder
	for _, line := range l {
		line = Clean(line)
		if s.Columns > 0 {
			line = Wrap(line, s.Width(), "  ")
		}
		b.WriteString(line + "\n")
	}
	return b.String(), nil
}

func (l Lines) markdown() (string, error) { return List(l).markdown() }

func (t *Table) text(s Screen) (string, error) {
	switch {
	case len(t.Rows) == 0:
		return "", nil
	case s.Columns == 0:
		return t.plain()
	}
	return t.fitted(max(s.Columns, narrowest))
}

func (t *Table) markdown() (string, error) {
	if len(t.Rows) == 0 {
		return "", nil
	}
	return t.pipes(), nil
}

// markdownMarkup takes away what would start markup, a link, an image or HTML.
var markdownMarkup = []string{`\`, `\\`, "<", "&lt;", "*", `\*`, "`", "'", "[", `\[`, "]", `\]`, "://", `:\/\/`, "www.",
	`www\.`}

var markdownText = strings.NewReplacer(append([]string{"\n", " "}, markdownMarkup...)...)

func markdownLine(s string) string { return markdownText.Replace(Clean(s)) }
