package render

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Column is a column of a table; a line break in its head makes a second line.
type Column struct {
	Head string
	Left bool // words; numbers stand to the right

	wrap        int // words of a cell are wrapped at so many columns; 0 leaves them
	each, title bool
}

// Wrapped wraps the words of its cells at so many columns, or at fewer where the screen is narrow.
func (c Column) Wrapped(width int) Column { c.wrap = width; return c }

// Each says that every line of the head names the line of a cell beside it.
func (c Column) Each() Column { c.each = true; return c }

// Titled says that the column belongs to what a row is called, as the first one does.
func (c Column) Titled() Column { c.title = true; return c }

// Table is a table of formatted cells.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Left and Right are columns of words and of numbers.
func Left(head string) Column  { return Column{Head: head, Left: true} }
func Right(head string) Column { return Column{Head: head} }

// Add appends a row.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, cells) }

func (t *Table) heads() []string {
	heads := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heads[i] = Clean(c.Head)
	}
	return heads
}

func (t *Table) plain() (string, error) {
	n := len(t.Columns)
	align := tw.CellAlignment{PerColumn: make([]tw.Align, n)}
	padding := make([]tw.Padding, n)
	for i, c := range t.Columns {
		align.PerColumn[i] = tw.AlignRight
		if c.Left {
			align.PerColumn[i] = tw.AlignLeft
		}
		padding[i] = tw.Padding{Right: "  ", Overwrite: true}
	}
	padding[n-1] = tw.Padding{Overwrite: true}
	var b strings.Builder
	w := tablewriter.NewTable(&b,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: tw.BorderNone,
			Symbols: tw.NewSymbolCustom("rule").
				WithRow("─").WithColumn(" ").WithCenter("─").WithMidLeft("─").WithMidRight("─"),
			Settings: tw.Settings{
				Separators: tw.Separators{ShowHeader: tw.On, ShowFooter: tw.Off, BetweenRows: tw.Off, BetweenColumns: tw.Off},
				Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On, ShowFooterLine: tw.Off},
			},
		})),
		tablewriter.WithHeaderAutoFormat(tw.Off), tablewriter.WithEastAsian(tw.Off), tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone), tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderPaddingPerColumn(padding), tablewriter.WithRowPaddingPerColumn(padding),
		tablewriter.WithHeaderAlignmentConfig(align), tablewriter.WithRowAlignmentConfig(align),
	)
	w.Header(t.heads())
	for r := range t.Rows {
		cells := make([]string, n)
		for i := range cells {
			cells[i] = t.wrapped(r, i)
		}
		if err := w.Append(cells); err != nil {
			return "", err
		}
	}
	if err := w.Render(); err != nil {
		return "", err
	}
	lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n") + "\n", nil
}

// wrapped is a cell as it stands in the table.
func (t *Table) wrapped(row, column int) string {
	text := cell(t.Rows[row], column)
	if width := t.Columns[column].wrap; width > 0 {
		return Wrap(text, width, "")
	}
	return text
}

// markdownCell puts a cell on one line and takes away what would end it or start markup.
var markdownCell = strings.NewReplacer(append([]string{"\n", "<br>", "|", `\|`}, markdownMarkup...)...)

func (t *Table) pipes() string {
	var b strings.Builder
	line := func(cells []string) {
		b.WriteByte('|')
		for i := range t.Columns {
			cell := ""
			if i < len(cells) {
				cell = markdownCell.Replace(Clean(cells[i]))
			}
			b.WriteString(" " + cell + " |")
		}
		b.WriteByte('\n')
	}
	line(t.heads())
	b.WriteByte('|')
	for _, c := range t.Columns {
		if c.Left {
			b.WriteString(" :-- |")
		} else {
			b.WriteString(" --: |")
		}
	}
	b.WriteByte('\n')
	for _, row := range t.Rows {
		line(row)
	}
	return b.String()
}

// CSV writes the table as RFC 4180 asks, heads first, with LF line ends. No cell is one that a spreadsheet would run.
func (t *Table) CSV(w io.Writer) error { return CSV(w, append([][]string{t.heads()}, t.Rows...)) }

// CSV writes rows of cells as RFC 4180 asks, with LF line ends. No cell is one that a spreadsheet would run.
func CSV(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = plainCell(cell)
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// plainCell puts an apostrophe before a text that a spreadsheet would take for a formula: one that begins with
// = + - or @, be it after blanks or apostrophes. Numbers stay numbers. import takes the apostrophe off again.
func plainCell(cell string) string {
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	if rest := strings.TrimLeft(cell, "' \t\r\n"); rest == "" || !strings.ContainsRune("=+-@", rune(rest[0])) {
		return cell
	}
	return "'" + cell
}
