package strict

import (
	"bytes"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Mended is a place in a text that was changed as a fault's message asks for.
type Mended struct {
	Position
	Path     string
	From, To string
}

// maxRounds bounds how often a text is read again after it was mended: mended places let the reader
// see further.
const maxRounds = 40

// Mend mends what has one plain way out: numbers written another way (3,9k, 30 g, 1'300), words and
// keys in other spelling, spaces that are none; not ids, which other places name. read says what is wrong with a text that into, a pointer
// to a struct, was made for. It returns the mended text, what was changed, and the faults that are left.
func Mend(text []byte, into any, read func([]byte) Faults) ([]byte, []Mended, Faults) {
	var done []Mended
	for range maxRounds {
		faults := read(text)
		if len(faults) == 0 {
			return text, done, nil
		}
		m := mender{lines: splitLines(text), root: parsed(text), into: reflect.TypeOf(into).Elem()}
		slices.Reverse(faults) // from the end, so that places before stay where they are
		for i := range faults {
			m.mend(&faults[i], done)
		}
		if m.done == nil {
			slices.Reverse(faults)
			return text, done, faults
		}
		slices.Reverse(m.done)
		done = append(done, m.done...)
		text = []byte(strings.Join(m.lines, ""))
	}
	return text, done, read(text)
}

func splitLines(text []byte) []string {
	var list []string
	rest := string(text)
	for rest != "" {
		end := strings.IndexAny(rest, "\r\n")
		switch {
		case end < 0:
			return append(list, rest)
		case rest[end] == '\r' && strings.HasPrefix(rest[end:], "\r\n"):
			end++
		}
		list, rest = append(list, rest[:end+1]), rest[end+1:]
	}
	return list
}

// parsed is the tree of a text, nil if it is none.
func parsed(text []byte) *yaml.Node {
	var n yaml.Node
	if decodeNode(yaml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(text, []byte(byteOrderMark)))), &n) != nil {
		return nil
	}
	return &n
}

type mender struct {
	lines []string
	root  *yaml.Node
	into  reflect.Type
	done  []Mended
}

var (
	wayOut    = regexp.MustCompile(`(?:^|; |, )write (\[[^\[\]]*\]|\{[^{}]*\}|\S+)(?:, not \S+| without quotes|, the unit is in the key| \([^()]*\)|, a leading zero can mean an octal number)?$`)
	inDoubt   = regexp.MustCompile(`; write (\S+), and the doubt in note$`)
	another   = regexp.MustCompile(`^unknown key; did you mean (\S+)\?$`)
	notASpace = regexp.MustCompile(`a non-breaking space \(U\+[0-9A-F]+\)`)
	hidden    = regexp.MustCompile(`^holds the control character U\+(200[B-F]|2060|FEFF|00AD); delete it$`)
)

// mend changes the text at a fault if its message leaves one way out, and no place twice.
func (m *mender) mend(f *Fault, before []Mended) {
	if f.Line < 1 || f.Line > len(m.lines) {
		return
	}
	line := m.lines[f.Line-1]
	at := 0
	for range f.Column - 1 {
		if at >= len(line) {
			return
		}
		_, size := utf8.DecodeRuneInString(line[at:])
		at += size
	}
	if f.Line == 1 && strings.HasPrefix(line, byteOrderMark) {
		at = min(at+len(byteOrderMark), len(line))
	}
	replace := func(from, to string) {
		change := Mended{Position{f.Line, f.Column}, f.Path, from, to}
		if from == to || slices.Contains(before, change) || slices.ContainsFunc(m.done, func(d Mended) bool { return d.Position == change.Position }) {
			return
		}
		m.lines[f.Line-1] = line[:at] + to + line[at+len(from):]
		m.done = append(m.done, change)
	}
	rest := line[at:]
	r, size := utf8.DecodeRuneInString(rest)
	if way := wayOut.FindStringSubmatch(f.Message); way != nil && !strings.Contains(way[1], "…") && strings.HasPrefix(f.Message, "must ") && m.key(f.Path) != "id" {
		if raw, ok := m.scalar(f.Position(), rest); ok {
			replace(raw, way[1])
		}
		return
	}
	if way := inDoubt.FindStringSubmatch(f.Message); way != nil {
		raw, ok := m.scalar(f.Position(), rest)
		if end := strings.TrimRight(rest, "\r\n"); ok && strings.TrimSpace(end) == raw {
			replace(raw, way[1]+" # was "+strings.Trim(raw, `"'`))
		}
		return
	}
	switch key := another.FindStringSubmatch(f.Message); {
	case key != nil:
		if word := m.key(f.Path); word != "" && strings.HasPrefix(rest, word) && m.sameKey(f.Path, word, key[1]) {
			replace(word, key[1])
		}
	case notASpace.MatchString(f.Message) && unicode.IsSpace(r) && r >= 0x80:
		replace(rest[:size], " ")
	case f.Message == "a space is missing after the colon":
		if strings.HasPrefix(rest, ":") {
			replace(":", ": ")
		}
	case hidden.MatchString(f.Message) && !unicode.IsPrint(r):
		replace(rest[:size], "")
	}
}

// Position is where the fault stands.
func (f *Fault) Position() Position { return Position{f.Line, f.Column} }

// scalar is a single value as it stands in the text from rest on, false if it goes on in other lines or
// is no single value.
func (m *mender) scalar(at Position, rest string) (string, bool) {
	n := scalarAt(m.root, at)
	if n == nil {
		return "", false
	}
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := 1; i < len(rest); i++ {
			if rest[i] == '\\' {
				i++
			} else if rest[i] == '"' {
				return rest[:i+1], true
			}
		}
		return "", false
	case n.Style&yaml.SingleQuotedStyle != 0:
		if end := strings.IndexByte(rest[min(1, len(rest)):], '\''); end >= 0 && strings.HasPrefix(rest, "'") && !strings.HasPrefix(rest[end+2:], "'") {
			return rest[:end+2], true
		}
		return "", false
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle|yaml.TaggedStyle) != 0 || n.Anchor != "":
		return "", false
	}
	return n.Value, n.Value != "" && strings.HasPrefix(rest, n.Value)
}

func scalarAt(n *yaml.Node, at Position) *yaml.Node {
	if n == nil {
		return nil
	}
	if n.Kind == yaml.ScalarNode && n.Line == at.Line && n.Column == at.Column {
		return n
	}
	for _, c := range n.Content {
		if found := scalarAt(c, at); found != nil {
			return found
		}
	}
	return nil
}

// key is the last key of a path, without quotes.
func (m *mender) key(path string) string {
	word := path[len(parent(path)):]
	word = strings.TrimPrefix(word, ".")
	if s, err := strconv.Unquote(word); err == nil {
		word = s
	}
	if strings.HasSuffix(word, "]") {
		return ""
	}
	return word
}

// sameKey says whether a key that is not known can only be another one: in capitals or with other signs
// between its words, a slip in letters with the same unit at its end, or a word that names no unit.
func (m *mender) sameKey(path, word, key string) bool {
	if plainWord(word) == plainWord(key) {
		return true
	}
	t := typeAt(m.into, parent(path))
	if t == nil {
		return false
	}
	p, err := planOf(t)
	if err != nil {
		return false
	}
	also := false
	for _, f := range p.fields {
		also = also || f.key == key && slices.Contains(f.rule.also, strings.ToLower(word))
	}
	unit := func(s string) string {
		if i := strings.LastIndexByte(s, '_'); i >= 0 {
			return s[i:]
		}
		return ""
	}
	if also && (unit(word) == "" || unit(word) == unit(key)) {
		return true
	}
	return unit(word) == unit(key) && editDistance(plainWord(word), plainWord(key)) <= 2 && len(word) > 3
}

var indexed = regexp.MustCompile(`\[\d+\]$`)

// typeAt is the struct type at a path under a type, nil if there is none.
func typeAt(t reflect.Type, path string) reflect.Type {
	if path != "" {
		if indexed.MatchString(path) {
			if t = typeAtField(t, path[:strings.LastIndexByte(path, '[')]); t != nil && t.Kind() == reflect.Slice {
				t = t.Elem()
			}
		} else {
			t = typeAtField(t, path)
		}
	}
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == nil || t.Kind() != reflect.Struct {
		return nil
	}
	return t
}

func typeAtField(t reflect.Type, path string) reflect.Type {
	outer := typeAt(t, parent(path))
	if outer == nil {
		return nil
	}
	p, err := planOf(outer)
	if err != nil {
		return nil
	}
	if i, ok := p.byKey[strings.TrimPrefix(path[len(parent(path)):], ".")]; ok {
		return outer.FieldByIndex(p.fields[i].index).Type
	}
	return nil
}
