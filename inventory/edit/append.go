package edit

import (
	"bytes"
	"errors"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Append adds a part to the text of a drawer file, named for messages, behind the last of its list,
// and leaves every other byte as it is. The error is a Faults of the drawer, if it was not sound before, or a
// *strict.Problem. The new text was read back: it holds the old parts and the new one.
func Append(name string, text []byte, d *Described) ([]byte, error) {
	return AppendAll(name, text, []*Described{d})
}

// AppendAll is Append for several parts, which keep their order.
func AppendAll(name string, text []byte, parts []*Described) ([]byte, error) {
	before := &inventory.Drawer{Name: name}
	if !Blank(text) {
		var err error
		if before, err = inventory.Read(name, bytes.NewReader(text)); err != nil {
			return nil, err
		}
	}
	changed := text
	for _, kind := range inventory.Kinds() {
		ids := before.IDs(kind)
		var entries [][]string
		for _, d := range parts {
			if d.Kind != kind {
				continue
			}
			if slices.Contains(ids, d.ID) {
				return nil, problem("add.id_taken", strict.Values{"id": d.ID, "kind": string(d.Kind)})
			}
			ids, entries = append(ids, d.ID), append(entries, d.Lines())
		}
		if entries == nil {
			continue
		}
		var err error
		if changed, err = appended(changed, kind.Section(), entries); err != nil {
			return nil, err
		}
	}
	after, err := inventory.Read(name, bytes.NewReader(changed))
	var faults inventory.Faults
	switch {
	case len(parts) == 0:
		return text, nil
	case errors.As(err, &faults):
		return nil, problem("add.contradicts", strict.Values{"fault": faults[0]})
	case err != nil:
		return nil, err
	case !sameButLast(before, after, parts):
		return nil, problem("add.by_hand", strict.Values{"file": name, "section": parts[0].Kind.Section(),
			"lines": strings.Join(parts[0].Lines(), "\n")})
	}
	return changed, nil
}

// appended puts entries behind the last of a list in the text of a drawer.
func appended(text []byte, section string, entries [][]string) ([]byte, error) {
	for len(entries) > 0 {
		f, err := newDrawerText(text)
		if err != nil {
			return nil, err
		}
		n := len(entries)
		if f.inBrackets(section) {
			n = 1 // each finds its place anew
		}
		if err := f.append(section, entries[:n]); err != nil {
			return nil, err
		}
		text, entries = f.bytes(), entries[n:]
	}
	return text, nil
}

// inBrackets reports whether a list of the drawer is written in brackets and is not empty.
func (f *drawerText) inBrackets(section string) bool {
	_, value, _ := f.section(section)
	return value != nil && value.Style&yaml.FlowStyle != 0 && len(value.Content) > 0
}

// Blank reports whether a text holds nothing but comments: no drawer yet, but one to add to.
func Blank(text []byte) bool {
	for line := range bytes.Lines(bytes.TrimPrefix(text, []byte("\ufeff"))) {
		if line = bytes.TrimSpace(line); len(line) > 0 && line[0] != '#' {
			return false
		}
	}
	return true
}

// drawerText is the text of a drawer file, line by line with their ends.
type drawerText struct {
	lines []string
	end   string // of a line
	root  *yaml.Node
}

func newDrawerText(text []byte) (*drawerText, error) {
	var document yaml.Node
	if Blank(text) {
		document.Content = []*yaml.Node{{Kind: yaml.MappingNode}}
	} else if err := yaml.Unmarshal(text, &document); err != nil || len(document.Content) != 1 ||
		document.Content[0].Kind != yaml.MappingNode {
		return nil, problem("edit.no_drawer", nil)
	}
	f := &drawerText{end: "\n", root: document.Content[0]}
	if i := bytes.IndexAny(text, "\r\n"); i >= 0 && text[i] == '\r' {
		f.end = "\r"
		if bytes.HasPrefix(text[i:], []byte("\r\n")) {
			f.end = "\r\n"
		}
	}
	for rest := string(text); rest != ""; {
		line := rest[:lineLength(rest)]
		f.lines, rest = append(f.lines, line), rest[len(line):]
	}
	return f, nil
}

// breaks end a line in YAML 1.1 (5.4), whose numbers of lines are those of the nodes; \r\n is one.
const breaks = "\r\n\u0085\u2028\u2029"

// lineLength is the length of a text's first line with its break.
func lineLength(text string) int {
	i := strings.IndexAny(text, breaks)
	switch {
	case i < 0:
		return len(text)
	case strings.HasPrefix(text[i:], "\r\n"):
		return i + 2
	}
	_, size := utf8.DecodeRuneInString(text[i:])
	return i + size
}

func (f *drawerText) bytes() []byte { return []byte(strings.Join(f.lines, "")) }

// section finds a list of the drawer: its key, its value, and the line of the key after it, 0 if it
// is the last.
func (f *drawerText) section(name string) (key, value *yaml.Node, next int) {
	for i := 0; i+1 < len(f.root.Content); i += 2 {
		k := f.root.Content[i]
		if k.Value == name {
			key, value = k, f.root.Content[i+1]
		}
	}
	for i := 0; key != nil && i+1 < len(f.root.Content); i += 2 {
		if k := f.root.Content[i]; k.Line > key.Line && (next == 0 || k.Line < next) {
			next = k.Line
		}
	}
	return key, value, next
}

// append puts entries behind the last of a list, in the list's own indentation and form; only one in brackets.
func (f *drawerText) append(section string, entries [][]string) error {
	if f.root.Style&yaml.FlowStyle != 0 {
		return problem("edit.braces", nil)
	}
	key, value, next := f.section(section)
	all := slices.Concat(entries...)
	switch {
	case key == nil:
		lines := append([]string{"", section + ":"}, indented(all, "  ")...)
		if len(f.lines) == 0 {
			lines = lines[1:]
		}
		f.insert(f.lastLine(0, 1), lines)
		return nil
	case value.Kind == yaml.ScalarNode: // nothing stands there yet
		f.insert(key.Line, indented(all, strings.Repeat(" ", key.Column+1)))
		return nil
	case value.Style&yaml.FlowStyle != 0 && len(value.Content) == 0:
		return f.replaceEmpty(key, value, indented(all, strings.Repeat(" ", key.Column+1)))
	case value.Style&yaml.FlowStyle != 0:
		return f.appendFlow(value, entries[0])
	}
	dash := strings.Repeat(" ", value.Column-1)
	column := value.Content[len(value.Content)-1].Column
	lines := make([]string, len(all))
	for i, line := range all {
		if strings.HasPrefix(line, "- ") {
			lines[i] = dash + "-" + strings.Repeat(" ", max(column-value.Column-1, 1)) + line[2:]
			continue
		}
		lines[i] = strings.Repeat(" ", max(column-1, value.Column+1)) + strings.TrimPrefix(line, "  ")
	}
	f.insert(f.lastLine(next, value.Column), lines)
	return nil
}

func indented(lines []string, by string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = by + line
	}
	return out
}

// lastLine is the last line, from 1, of what stands before the key in a line, 0 for the file's end:
// blank lines at its end and comments further left than column, or as far left as the key, do not
// belong to it.
func (f *drawerText) lastLine(next, column int) int {
	line := len(f.lines)
	if next > 0 {
		line = next - 1
	}
	for ; line > 0; line-- {
		text := strings.TrimRight(f.lines[line-1], " \t\r\n")
		trimmed := strings.TrimLeft(text, " ")
		indent := len(text) - len(trimmed)
		switch {
		case trimmed == "", trimmed == "...", trimmed == "---":
		case trimmed[0] == '#' && (indent < column-1 || indent == 0 && next > 0):
		default:
			return line
		}
	}
	return line
}

// insert puts lines behind a line.
func (f *drawerText) insert(line int, lines []string) {
	if line > 0 && strings.TrimRight(f.lines[line-1], breaks) == f.lines[line-1] {
		f.lines[line-1] += f.end
	}
	ended := make([]string, len(lines))
	for i := range lines {
		ended[i] = lines[i] + f.end
	}
	f.lines = slices.Insert(f.lines, line, ended...)
}

var errFlow = problem("edit.flow", nil)

// problem is an error of one code.
func problem(code strict.Code, values strict.Values) error {
	return &strict.Problem{Code: code, Values: values}
}

// replaceEmpty turns key: [] into key: with an entry below.
func (f *drawerText) replaceEmpty(key, value *yaml.Node, entry []string) error {
	line := f.lines[value.Line-1]
	from, ok := byteColumn(line, value.Column)
	to := strings.IndexByte(line[min(from, len(line)):], ']')
	if !ok || value.Line != key.Line || to < 0 {
		return errFlow
	}
	f.lines[value.Line-1] = strings.TrimRight(line[:from], " ") + line[from+to+1:]
	f.insert(value.Line, entry)
	return nil
}

// appendFlow puts an entry between the last one of a list in brackets and the bracket.
func (f *drawerText) appendFlow(value *yaml.Node, entry []string) error {
	at, ok := byteColumn(f.lines[value.Line-1], value.Column)
	if !ok {
		return errFlow
	}
	depth, quote := 0, byte(0)
	lastLine, lastEnd := value.Line-1, at // behind the last character that is no space and no comment
	for line := value.Line - 1; line < len(f.lines); line++ {
		text := f.lines[line]
		for i := at; i < len(text); i++ {
			c := text[i]
			switch {
			case quote != 0:
				if c == quote {
					quote = 0
				} else if c == '\\' && quote == '"' {
					i++
				}
			case c == '"' || c == '\'':
				quote = c
			case c == '#' && (i == 0 || text[i-1] == ' '):
				i = len(text)
				continue
			case c == '[' || c == '{':
				depth++
			case c == ']' || c == '}':
				if depth--; depth == 0 {
					f.insertFlow(line, i, lastLine, lastEnd, entry)
					return nil
				}
			}
			if !strings.ContainsRune(" \t\r\n", rune(c)) {
				lastLine, lastEnd = line, min(i+1, len(text))
			}
		}
		at = 0
	}
	return errFlow
}

// insertFlow puts an entry before the closing bracket at a column of a line, and a comma behind the last
// entry, which ends elsewhere, if it has none.
func (f *drawerText) insertFlow(line, column, lastLine, lastEnd int, entry []string) {
	keys := make([]string, len(entry))
	for i, line := range entry {
		keys[i] = line[2:]
	}
	part := "{" + strings.Join(keys, ", ") + "}"
	last := f.lines[lastLine]
	if !strings.HasSuffix(last[:lastEnd], ",") {
		f.lines[lastLine] = last[:lastEnd] + "," + last[lastEnd:]
		if lastLine == line {
			column++
		}
	}
	text := f.lines[line]
	if head := strings.TrimRight(text[:column], " "); head != "" {
		f.lines[line] = head + " " + part + text[column:]
		return
	}
	indent := text[:column] + "  "
	if strings.HasPrefix(strings.TrimLeft(last, " "), "{") {
		indent = last[:len(last)-len(strings.TrimLeft(last, " "))]
	}
	f.lines = slices.Insert(f.lines, line, indent+part+f.end)
}

// byteColumn is the place in a line of a column in characters from 1.
func byteColumn(line string, column int) (int, bool) {
	n := 1
	for i := range line {
		if n == column {
			return i, true
		}
		n++
	}
	return len(line), n == column
}

// sameButLast reports whether a drawer is another with some parts more at the ends of its lists.
func sameButLast(before, after *inventory.Drawer, parts []*Described) bool {
	cut := *after
	for _, kind := range inventory.Kinds() {
		var more []string
		for _, d := range parts {
			if d.Kind == kind {
				more = append(more, d.ID)
			}
		}
		ids := after.IDs(kind)
		old := len(ids) - len(more)
		if old < 0 || !slices.Equal(ids[old:], more) {
			return false
		}
		cut.Take(kind, after, 0, old)
	}
	return Same(before, &cut)
}

// Same reports whether two drawers hold the same, whatever their files are called and wherever it stands
// in them.
func Same(a, b *inventory.Drawer) bool {
	x, y := *a, *b
	x.Name, y.Name = "", ""
	return sameValue(reflect.ValueOf(x), reflect.ValueOf(y))
}

var originType = reflect.TypeFor[strict.Origin]()

func sameValue(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return sameValue(a.Elem(), b.Elem())
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !sameValue(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		if a.Type() == originType {
			return true
		}
		for i := range a.NumField() {
			if a.Type().Field(i).IsExported() && !sameValue(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a.Interface(), b.Interface())
}
