package strict

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Written is a type with a written form of its own: Written is that form, on one line.
type Written interface{ Written() string }

var writtenType = reflect.TypeFor[Written]()

// EstimateMark begins a remark that goes with a key, as in "# estimated mass_g: 9.1": Format takes those of
// an earlier run away.
const EstimateMark = "# estimated "

var estimate = regexp.MustCompile(`^# estimated [a-z_0-9]+: `)

// Format writes a sound document anew from the struct that it was read into: keys in the struct's order,
// one form for each value, lists of parts with a part's keys a line, two columns a step. Comments stay
// with what they stand at. The remarks for the path of a part, such as motors[2], end the part.
func Format(text []byte, from any, remarks func(path string) []string) ([]byte, error) {
	var document yaml.Node
	if err := decodeNode(yaml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(text, []byte(byteOrderMark)))),
		&document); err != nil || len(document.Content) != 1 {
		return nil, errors.New("the text is not one document")
	}
	root := document.Content[0]
	t := &formatter{remarks: remarks}
	t.comment("", document.HeadComment)
	if document.HeadComment != "" {
		t.line("", "")
	}
	if root.HeadComment != document.HeadComment {
		t.comment("", root.HeadComment)
	}
	if document.HeadComment == "" && root.HeadComment == "" {
		t.opening(root, reflect.ValueOf(from).Elem().Type())
	}
	if err := t.mapping("", "", root, reflect.ValueOf(from).Elem(), true); err != nil {
		return nil, err
	}
	t.comment("", root.FootComment)
	t.comment("", document.FootComment)
	t.lost(text)
	return []byte(t.b.String()), nil
}

// opening keeps the comment that a file begins with at its beginning, where the key under it moves down.
func (t *formatter) opening(root *yaml.Node, from reflect.Type) {
	p, err := planOf(from)
	if err != nil || root.Kind != yaml.MappingNode || len(root.Content) == 0 || root.Content[0].HeadComment == "" {
		return
	}
	for _, f := range p.fields {
		for i := 0; i+1 < len(root.Content); i += 2 {
			if root.Content[i].Value != f.key {
				continue
			}
			if i > 0 {
				t.comment("", root.Content[0].HeadComment)
				t.line("", "")
				root.Content[0].HeadComment = ""
			}
			return
		}
	}
}

type formatter struct {
	b       strings.Builder
	remarks func(string) []string
	start   string // stands before the next line instead of its indentation: a dash
}

func (t *formatter) line(indent, text string) {
	if text == "" {
		if s := t.b.String(); s != "" && !strings.HasSuffix(s, "\n\n") {
			t.b.WriteByte('\n')
		}
		return
	}
	if t.start != "" {
		indent, t.start = t.start, ""
	}
	t.b.WriteString(indent + text + "\n")
}

// comment writes the lines of a comment, those of earlier estimates left out.
func (t *formatter) comment(indent, text string) {
	if text == "" {
		return
	}
	for line := range strings.SplitSeq(text, "\n") {
		if line = strings.TrimSpace(line); line == "" {
			t.line("", "")
		} else if !estimate.MatchString(line) {
			start := t.start
			t.start = ""
			t.line(indent, line)
			t.start = start
		}
	}
}

// mapping writes keys with values, those of the whole document with blank lines between.
func (t *formatter) mapping(indent, path string, n *yaml.Node, v reflect.Value, whole bool) error {
	p, err := planOf(v.Type())
	if err != nil {
		return err
	}
	if n.Kind != yaml.MappingNode {
		return fmt.Errorf("%s is not as it was read", path)
	}
	first := true
	for _, f := range p.fields {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value != f.key {
				continue
			}
			if whole && !first {
				t.line("", "")
			}
			first = false
			if err := t.field(indent, join(path, f.key), n.Content[i], n.Content[i+1], v.FieldByIndex(f.index)); err != nil {
				return err
			}
		}
	}
	return nil
}

// field writes one key with its value.
func (t *formatter) field(indent, path string, k, n *yaml.Node, v reflect.Value) error {
	t.comment(indent, k.HeadComment)
	behind := ""
	for _, c := range []string{k.LineComment, n.LineComment} {
		if c != "" && !estimate.MatchString(c) {
			behind += " " + strings.ReplaceAll(c, "\n", " ")
		}
	}
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	if n.Kind == yaml.ScalarNode && n.Value == "" && n.ShortTag() == nullTag {
		t.line(indent, k.Value+":"+behind)
		t.comment(indent+"  ", n.HeadComment)
		t.comment(indent, n.FootComment)
		t.comment(indent, k.FootComment)
		return nil
	}
	inline, ok := t.inline(n, v)
	if v.Kind() == reflect.String {
		inline = blockScalar(v.String())
	}
	switch {
	case indent == "" && v.Kind() == reflect.Struct && len(n.Content) > 0:
		t.line(indent, k.Value+":"+behind)
		t.comment(indent+"  ", n.HeadComment)
		if err := t.mapping(indent+"  ", path, n, v, false); err != nil {
			return err
		}
	case ok && (!commented(n) || n.Kind == yaml.ScalarNode):
		t.line(indent, k.Value+": "+inline+behind)
		t.comment(indent, n.HeadComment)
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct:
		t.line(indent, k.Value+":"+behind)
		t.comment(indent+"  ", n.HeadComment)
		if err := t.list(indent, path, n, v); err != nil {
			return err
		}
	case v.Kind() == reflect.Struct:
		t.line(indent, k.Value+":"+behind)
		t.comment(indent+"  ", n.HeadComment)
		if err := t.mapping(indent+"  ", path, n, v, false); err != nil {
			return err
		}
	case ok:
		for _, c := range comments(n) {
			t.comment(indent, c)
		}
		t.line(indent, k.Value+": "+inline+behind)
	default:
		return fmt.Errorf("%s cannot be written", path)
	}
	t.comment(indent, n.FootComment)
	t.comment(indent, k.FootComment)
	return nil
}

// list writes the parts of a list, one below the other.
func (t *formatter) list(indent, path string, n *yaml.Node, v reflect.Value) error {
	if n.Kind != yaml.SequenceNode || len(n.Content) != v.Len() {
		return fmt.Errorf("%s is not as it was read", path)
	}
	for i, item := range n.Content {
		at := fmt.Sprintf("%s[%d]", path, i)
		t.comment(indent+"  ", item.HeadComment)
		if short, ok := t.inline(item, v.Index(i)); ok && !commented(item) && strings.Contains(path, "[") {
			t.line(indent+"  ", "- "+short+line(item))
		} else {
			t.start = indent + "  - "
			if err := t.mapping(indent+"    ", at, item, v.Index(i), false); err != nil {
				return err
			}
			t.start = ""
			t.comment(indent+"    ", item.LineComment)
		}
		if t.remarks != nil {
			for _, remark := range t.remarks(at) {
				t.line(indent+"    ", remark)
			}
		}
		t.comment(indent+"  ", item.FootComment)
	}
	return nil
}

func line(n *yaml.Node) string {
	if n.LineComment == "" {
		return ""
	}
	return " " + strings.ReplaceAll(n.LineComment, "\n", " ")
}

// commented says whether a comment stands inside a value.
func commented(n *yaml.Node) bool { return len(comments(n)) > 0 }

// comments are those inside a value, its own left out.
func comments(n *yaml.Node) []string {
	var list []string
	for _, c := range n.Content {
		for _, text := range []string{c.HeadComment, c.LineComment, c.FootComment} {
			if text != "" {
				list = append(list, text)
			}
		}
		list = append(list, comments(c)...)
	}
	return list
}

// inline is a value on one line, false for one that takes more: a list of parts, or what would be longer
// than a line.
func (t *formatter) inline(n *yaml.Node, v reflect.Value) (string, bool) {
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	if v.CanAddr() && v.Addr().Type().Implements(writtenType) {
		return v.Addr().Interface().(Written).Written(), true
	}
	switch v.Kind() {
	case reflect.String:
		return Scalar(v.String()), true
	case reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'f', -1, 64), true
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10), true
	case reflect.Bool:
		return strconv.FormatBool(v.Bool()), true
	case reflect.Map:
		return inlineMap(n, v), true
	case reflect.Slice, reflect.Array:
		if v.Len() > 0 && v.Index(0).Kind() == reflect.Struct {
			return "", false
		}
		items := make([]string, v.Len())
		for i := range items {
			items[i], _ = t.inline(nil, v.Index(i))
		}
		return "[" + strings.Join(items, ", ") + "]", true
	case reflect.Struct:
		return t.inlineStruct(n, v)
	}
	return "", false
}

// inlineMap keeps the order of the text.
func inlineMap(n *yaml.Node, v reflect.Value) string {
	var items []string
	for i := 0; i+1 < len(n.Content); i += 2 {
		value := v.MapIndex(reflect.ValueOf(n.Content[i].Value))
		text := Scalar(fmt.Sprint(value.Interface()))
		if value.Kind() == reflect.Float64 {
			text = strconv.FormatFloat(value.Float(), 'f', -1, 64)
		}
		items = append(items, n.Content[i].Value+": "+text)
	}
	return "{" + strings.Join(items, ", ") + "}"
}

const longestInline = 110

func (t *formatter) inlineStruct(n *yaml.Node, v reflect.Value) (string, bool) {
	p, err := planOf(v.Type())
	if err != nil || n == nil || n.Kind != yaml.MappingNode {
		return "", false
	}
	var items []string
	for _, f := range p.fields {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value != f.key {
				continue
			}
			text, ok := t.inline(n.Content[i+1], v.FieldByIndex(f.index))
			if !ok {
				return "", false
			}
			items = append(items, f.key+": "+text)
		}
	}
	text := "{" + strings.Join(items, ", ") + "}"
	return text, len(text) <= longestInline
}

// lost adds at the end what comments of the text stand nowhere yet.
func (t *formatter) lost(text []byte) {
	written := map[string]int{}
	for line := range strings.SplitSeq(t.b.String(), "\n") {
		if _, comment, ok := strings.Cut(line, "#"); ok {
			written["#"+strings.TrimSpace(comment)]++
		}
	}
	first := true
	for _, raw := range lines(text) {
		line := strings.TrimSpace(string(raw))
		if !strings.HasPrefix(line, "#") || estimate.MatchString(line) {
			continue
		}
		key := "#" + strings.TrimSpace(line[1:])
		if written[key]--; written[key] >= 0 {
			continue
		}
		if first {
			t.line("", "")
			t.line("", "# Comments that stood elsewhere:")
			first = false
		}
		t.line("", line)
	}
}
