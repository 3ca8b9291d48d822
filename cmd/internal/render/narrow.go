package render

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// leastWrap is the least width that words of a cell are wrapped at to make a table fit a screen.
const leastWrap = 16

// recordIndent stands before what a narrow layout says below a row's title, and columnGap between two columns.
const (
	recordIndent = "  "
	columnGap    = "  "
)

// fitted is the table as wide as a screen at most, in the first of these layouts that fits: as it is; with its words
// wrapped more narrowly; with each row's title on a line above the row; as records, a name before each value. The last
// one loses no value, however narrow the screen is.
func (t *Table) fitted(width int) (string, error) {
	text, err := t.plain()
	if err != nil || widest(text) <= width {
		return text, err
	}
	if shrunk := t.shrunk(widest(text) - width); shrunk != nil {
		if text, err = shrunk.plain(); err != nil || widest(text) <= width {
			return text, err
		}
	}
	if text = t.hanging(width); text != "" && widest(text) <= width {
		return text, nil
	}
	return t.records(width), nil
}

// widest is the number of columns of a terminal that the longest line takes.
func widest(text string) int {
	most := 0
	for line := range strings.SplitSeq(text, "\n") {
		most = max(most, displaywidth.String(line))
	}
	return most
}

// shrunk is the table with its words wrapped so much more narrowly, nil if it has none that can be.
func (t *Table) shrunk(excess int) *Table {
	narrow := *t
	narrow.Columns = append([]Column{}, t.Columns...)
	for i := len(narrow.Columns) - 1; i >= 0 && excess > 0; i-- {
		if c := &narrow.Columns[i]; c.wrap > leastWrap {
			less := min(excess, c.wrap-leastWrap)
			c.wrap, excess = c.wrap-less, excess-less
		}
	}
	if excess > 0 {
		return nil
	}
	return &narrow
}

// isTitle reports whether a column belongs to what a row is called.
func (t *Table) isTitle(column int) bool { return column == 0 || t.Columns[column].title }

// cell is a row's text in a column, "" beyond the row's end.
func cell(row []string, column int) string {
	if column < len(row) {
		return Clean(row[column])
	}
	return ""
}

// label is a column's head on one line.
func (c *Column) label() string { return strings.Join(strings.Fields(Clean(c.Head)), " ") }

// title is what a row is called: the texts of its title columns, numbers with their names.
func (t *Table) title(row []string) string {
	var words []string
	for i := range t.Columns {
		text := strings.Join(strings.Fields(cell(row, i)), " ")
		if !t.isTitle(i) || text == "" {
			continue
		}
		if label := t.Columns[i].label(); !t.Columns[i].Left && label != "#" {
			text = label + " " + text
		}
		words = append(words, text)
	}
	return strings.Join(words, columnGap)
}

// titleLines are a row's title within a width, set in as its first cell is.
func (t *Table) titleLines(row []string, width int) string {
	title := t.title(row)
	if title == "" {
		return ""
	}
	in := ""
	if strings.HasPrefix(cell(row, 0), " ") {
		in = recordIndent
	}
	return in + Wrap(title, width-len(in), in+recordIndent+recordIndent) + "\n"
}

// titleHeads are the heads of the columns that make the titles, "" if they have none.
func (t *Table) titleHeads(width int) string {
	var heads []string
	for i := range t.Columns {
		if t.isTitle(i) {
			heads = append(heads, t.Columns[i].label())
		}
	}
	if head := strings.TrimSpace(strings.Join(heads, columnGap)); head != "" {
		return Wrap(head, width, recordIndent) + "\n"
	}
	return ""
}

// indent stands before what is said below the rows' titles.
func (t *Table) indent() string {
	for _, row := range t.Rows {
		if strings.HasPrefix(cell(row, 0), " ") {
			return recordIndent + recordIndent
		}
	}
	return recordIndent
}

// hanging is the table with each row's title on a line above the row; "" if all columns are titles.
func (t *Table) hanging(width int) string {
	var rest []int // columns that are no titles
	for i := range t.Columns {
		if !t.isTitle(i) {
			rest = append(rest, i)
		}
	}
	if len(rest) == 0 {
		return ""
	}
	// Of each row, the head first, the lines of each cell.
	rows := make([][][]string, 1+len(t.Rows))
	widths := make([]int, len(rest))
	for r := range rows {
		for k, i := range rest {
			text := Clean(t.Columns[i].Head)
			if r > 0 {
				text = t.wrapped(r-1, i)
			}
			rows[r] = append(rows[r], strings.Split(text, "\n"))
			widths[k] = max(widths[k], widest(text))
		}
	}
	var b strings.Builder
	b.WriteString(t.titleHeads(width))
	indent, rule := t.indent(), -len(columnGap)
	for _, w := range widths {
		rule += len(columnGap) + w
	}
	for r, cells := range rows {
		if r > 0 {
			b.WriteString(t.titleLines(t.Rows[r-1], width))
		}
		height := 0
		for _, lines := range cells {
			height = max(height, len(lines))
		}
		for n := range height {
			line := indent
			for k, lines := range cells {
				text := ""
				if n < len(lines) {
					text = lines[n]
				}
				gap := strings.Repeat(" ", max(widths[k]-displaywidth.String(text), 0))
				if t.Columns[rest[k]].Left {
					text += gap
				} else {
					text = gap + text
				}
				line += text + columnGap
			}
			if line = strings.TrimRight(line, " "); line != "" {
				b.WriteString(line + "\n")
			}
		}
		if r == 0 {
			b.WriteString(indent + strings.Repeat("─", rule) + "\n")
		}
	}
	return b.String()
}

// pair is a value of a record with its name.
type pair struct{ name, value string }

// pairs are the values of a row in one column with their names: one for each line where the lines of the head name
// them, else one. What has no value stays empty, so that a grid of them keeps its places.
func (t *Table) pairs(row []string, column int) []pair {
	c, text := &t.Columns[column], cell(row, column)
	lines := strings.Split(text, "\n")
	heads := strings.Split(Clean(c.Head), "\n")
	switch {
	case c.each && len(heads) >= len(lines):
		list := make([]pair, len(heads))
		for i, line := range lines {
			if line = strings.TrimSpace(line); line != "" {
				list[i] = pair{strings.TrimSpace(heads[i]), line}
			}
		}
		return list
	case strings.TrimSpace(text) == "":
		return []pair{{}}
	case c.Left:
		return []pair{{c.label(), strings.Join(lines, "; ")}}
	}
	value := strings.TrimSpace(lines[0])
	if rest := strings.TrimSpace(strings.Join(lines[1:], " ")); rest != "" {
		value += " (" + rest + ")"
	}
	return []pair{{c.label(), value}}
}

// records are the table's rows as a title with the values below it: numbers in a grid that is the same for all rows,
// words on lines of their own.
func (t *Table) records(width int) string {
	names, values := 0, 0
	for _, row := range t.Rows {
		for i := range t.Columns {
			if t.isTitle(i) || t.Columns[i].Left {
				continue
			}
			for _, p := range t.pairs(row, i) {
				names, values = max(names, displaywidth.String(p.name)), max(values, displaywidth.String(p.value))
			}
		}
	}
	indent := t.indent()
	room := width - len(indent)
	one := names + 1 + values
	across := max(1, (room+len(columnGap)+1)/(one+len(columnGap)+1))
	var b strings.Builder
	if head := t.titleHeads(width); head != "" {
		b.WriteString(head + strings.Repeat("─", widest(head)) + "\n")
	}
	for _, row := range t.Rows {
		b.WriteString(t.titleLines(row, width))
		var grid []pair
		flush := func() {
			for len(grid) > 0 && grid[len(grid)-1] == (pair{}) {
				grid = grid[:len(grid)-1]
			}
			for len(grid) > 0 {
				n := min(across, len(grid))
				line := ""
				for i, p := range grid[:n] {
					if i > 0 {
						line += columnGap + " "
					}
					gap := one - displaywidth.String(p.name) - displaywidth.String(p.value)
					line += p.name + strings.Repeat(" ", max(gap, 1)) + p.value
				}
				line = strings.TrimRight(line, " ")
				if displaywidth.String(line) > room {
					line = Wrap(line, room, indent+recordIndent)
				}
				if line != "" {
					b.WriteString(indent + line + "\n")
				}
				grid = grid[n:]
			}
		}
		for i := range t.Columns {
			switch {
			case t.isTitle(i):
			case !t.Columns[i].Left:
				grid = append(grid, t.pairs(row, i)...)
			default:
				flush()
				for _, p := range t.pairs(row, i) {
					if p.value != "" {
						text := strings.TrimPrefix(p.name+": "+p.value, ": ")
						b.WriteString(indent + Wrap(text, room, indent+recordIndent) + "\n")
					}
				}
			}
		}
		flush()
	}
	return b.String()
}
