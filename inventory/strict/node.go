package strict

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Node is a value in a file with its path and the rule for it.
type Node struct {
	doc  *Document
	yaml *yaml.Node
	path string
	rule rule
}

// Path is the node's path, such as motors[2].kv.
func (n Node) Path() string { return n.path }

// Position is where the node stands.
func (n Node) Position() Position { return position(n.yaml) }

// Fault adds a fault at the node.
func (n Node) Fault(code Code, values Values) { n.Add(Problem{Code: code, Values: values}) }

// Add adds a problem as a fault at the node. What it tells to write replaces the node's value.
func (n Node) Add(p Problem) {
	f := Fault{Position: n.Position(), Path: n.path, Problem: p}
	if p.Write != "" && (lastKey(n.path) != "id" || n.doc.onceOnly(n.yaml.Value, p.Write)) {
		f.Fix = n.doc.scalarFix(n.yaml, p)
	}
	n.doc.add(f)
}

// IsList reports whether the node is a list.
func (n Node) IsList() bool { return n.yaml.Kind == yaml.SequenceNode }

// IsScalar reports whether the node is a single value.
func (n Node) IsScalar() bool { return n.yaml.Kind == yaml.ScalarNode }

// Raw is a single value as written, quotes taken off.
func (n Node) Raw() string { return n.yaml.Value }

// Limits returns the node with other bounds for its number.
func (n Node) Limits(low, high float64, unit string) Node {
	n.rule.low, n.rule.lowOpen, n.rule.high, n.rule.unit = low, false, high, unit
	return n
}

// plain faults what this reader keeps out of every value: aliases, anchors, tags, nothing.
func (n Node) plain() bool {
	switch {
	case n.yaml.Kind == yaml.AliasNode:
		n.Fault("alias", Values{"name": Raw(n.yaml.Value)})
	case n.yaml.Anchor != "":
		n.Fault("anchor", Values{"name": Raw(n.yaml.Anchor)})
		return true // what it marks is read for its own faults
	case n.yaml.Style&yaml.TaggedStyle != 0:
		n.Fault("tag", Values{"name": Raw(n.yaml.Tag)})
	case n.isNull():
		n.Fault("no_value", nil)
	default:
		return true
	}
	return false
}

func (n Node) isNull() bool {
	return n.yaml.Kind == yaml.ScalarNode && n.yaml.Style&quoted == 0 && n.yaml.ShortTag() == nullTag
}

// words are the single values of a mapping by key.
func (n Node) words() map[string]string {
	words := map[string]string{}
	for i := 0; i+1 < len(n.yaml.Content); i += 2 {
		if k, v := n.yaml.Content[i], n.yaml.Content[i+1]; k.Kind == yaml.ScalarNode && v.Kind == yaml.ScalarNode {
			words[k.Value] = v.Value
		}
	}
	return words
}

// isBlank reports whether nothing at all stands behind a key.
func (n Node) isBlank() bool {
	return n.isNull() && n.yaml.Value == "" && n.yaml.Anchor == "" && n.yaml.Style == 0
}

// leftEmpty is the fault of a key that stands there without a value. On a line of its own it can be left out, unless it
// must be given.
func (n Node) leftEmpty(p pair) Fault {
	f := Fault{Position: p.value.Position(), Path: p.value.path, Problem: Problem{Code: "no_value"}}
	n.doc.nodes[p.value.path] = p.value.yaml
	if line := p.at.Line; !p.value.rule.required && line <= len(n.doc.lines) &&
		strings.TrimSpace(n.doc.lines[line-1]) == p.key+":" {
		f.Fix = &Fix{p.at, p.key + ":", "# " + p.key + ":"}
	}
	return f
}

const quoted = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle

// shape is what stands there instead of what was expected.
func (n Node) shape() any {
	switch n.yaml.Kind {
	case yaml.SequenceNode:
		return ListShape
	case yaml.MappingNode:
		return MappingShape
	}
	if n.yaml.Style&quoted != 0 && len(n.yaml.Value) < 40 {
		return Quoted(n.yaml.Value)
	}
	return Raw(n.yaml.Value)
}

// Items are the entries of a list; they must all have a value.
func (n Node) Items() ([]Node, bool) {
	if n.yaml.Kind != yaml.SequenceNode {
		p := Problem{Code: "list.expected", Values: Values{"got": n.shape()}}
		words := listWords(n.yaml.Value)
		switch {
		case n.yaml.Kind == yaml.MappingNode:
			p.Way = "list.dashes"
		case notKnown[strings.ToLower(n.yaml.Value)]:
			p.Way = "leave_out"
		case words == "":
			p.Way = "list.brackets"
		default:
			p.Way, p.Write = "write.it", "["+words+"]"
		}
		n.Add(p)
		return nil, false
	}
	if count := len(n.yaml.Content); count < n.rule.itemsMin || count > n.rule.itemsMax {
		n.Fault("list.count", Values{"low": Number(n.rule.itemsMin), "high": Number(n.rule.itemsMax), "got": Number(count)})
		return nil, false
	}
	items := make([]Node, len(n.yaml.Content))
	for i, c := range n.yaml.Content {
		items[i] = Node{n.doc, c, fmt.Sprintf("%s[%d]", n.path, i), openRule()}
	}
	return items, true
}

var box = regexp.MustCompile(`^\d+(?:\.\d+)?(?: ?(?:mm)? ?[x×*] ?\d+(?:\.\d+)?)+ ?(?:mm)?$`)

// listWords is a text as the inside of a list: 74x35x33 as 74, 35, 33; "" if that is not plain.
func listWords(s string) string {
	if len(s) < 60 && box.MatchString(s) {
		return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("x×* m", r) }), ", ")
	}
	if s == "" || len(s) > 20 || strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) }) {
		return ""
	}
	return s
}

var (
	assignment = regexp.MustCompile(`^([A-Za-z_]+) *[=;] *\S`)
	numbered   = regexp.MustCompile(`^(\d+) *([a-z]+) *[/,+; ] *(\d+) *([a-z]+)$`)
)

// notKeys is the problem of a value that stands where keys should; p is the plan of these keys, nil if they are free.
func (n Node) notKeys(p *plan) Problem {
	problem := Problem{Code: "keys.expected", Values: Values{"got": n.shape()}}
	if p != nil {
		problem.Code, problem.Values["keys"] = "keys.expected_such", sample(p.keys())
	}
	if n.yaml.Kind == yaml.SequenceNode && p == nil {
		problem.Way = "keys.no_dashes"
	}
	if n.yaml.Kind != yaml.ScalarNode {
		return problem
	}
	if m := assignment.FindStringSubmatch(n.yaml.Value); m != nil {
		problem.Way, problem.Values["key"] = "keys.colon", m[1]
		return problem
	}
	if m := numbered.FindStringSubmatch(n.yaml.Value); m != nil && p != nil &&
		slices.Equal(slices.Sorted(slices.Values([]string{m[2], m[4]})), slices.Sorted(slices.Values(p.keys()))) {
		problem.Way, problem.Write = "write.it", fmt.Sprintf("{%s: %s, %s: %s}", m[2], m[1], m[4], m[3])
	}
	return problem
}

// Text reads a single value as text: a number or a word keeps the form it is written in.
func (n Node) Text() (string, bool) {
	if n.yaml.Kind != yaml.ScalarNode {
		n.Fault("text.expected", Values{"got": n.shape()})
		return "", false
	}
	s := n.yaml.Value
	if n.yaml.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		s = strings.TrimRight(s, "\n")
	}
	for _, r := range s {
		if r == '\n' || r == '\r' || r == '\t' {
			n.Fault("text.line", Values{"got": Raw(s)})
			return "", false
		}
		if !allowedRune(r) {
			n.Fault("text.control", Values{"character": character(r), "got": Raw(s)})
			return "", false
		}
	}
	if count := utf8.RuneCountInString(s); count > n.rule.length {
		n.Fault("text.length", Values{"most": Number(n.rule.length), "got": Number(count)})
		return "", false
	}
	switch {
	case n.rule.id:
		return s, n.checkID(s)
	case n.rule.words != nil:
		return s, n.checkWord(s)
	case n.rule.required && strings.TrimSpace(s) == "":
		n.Fault("text.empty", nil)
		return "", false
	}
	return s, true
}

// MaxID is the longest id.
const MaxID = 64

// ValidID reports whether a text is a part id: 1 to 64 letters, digits and -_. characters.
func ValidID(s string) bool {
	return s != "" && len(s) <= MaxID && !strings.ContainsFunc(s, func(r rune) bool {
		return !isWordRune(r) || r == '+' ||
			r == '~'
	})
}

func (n Node) checkID(s string) bool {
	if ValidID(s) {
		return true
	}
	if s != "" && len(s) <= 4*MaxID && utf8.RuneCountInString(s) > MaxID {
		n.Fault("text.length", Values{"most": Number(MaxID), "got": Number(utf8.RuneCountInString(s))})
		return false
	}
	p := Problem{Code: "id.form", Values: Values{"got": Raw(s)}}
	if id, comment, ok := strings.Cut(s, " //"); ok && ValidID(strings.TrimSpace(id)) {
		n.Add(p.writing(strings.TrimSpace(id) + " # " + strings.TrimSpace(comment)))
		return false
	}
	if fixed := asID(s); ValidID(fixed) {
		p.Way, p.Write = "write.it", fixed
	}
	n.Add(p)
	return false
}

// PlainID makes an id of a text: what may not stand in one becomes a dash.
func PlainID(s string) string { return asID(s) }

// asID makes an id of a text: what may not stand in one becomes a dash.
func asID(s string) string {
	var b strings.Builder
	for _, r := range strings.TrimFunc(s, func(r rune) bool { return r == ' ' || isQuote(r) || r == 0xa0 }) {
		if r < utf8.RuneSelf && ValidID(string(r)) {
			b.WriteRune(r)
		} else if !strings.HasSuffix(b.String(), "-") {
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}

func (n Node) checkWord(s string) bool {
	for _, w := range n.rule.words {
		if w == s {
			return true
		}
	}
	bare := strings.Trim(s, "“”„‘’'\" ")
	near := Nearest(bare, n.rule.words)
	for _, a := range n.rule.also {
		if from, to, _ := strings.Cut(a, ":"); strings.EqualFold(from, bare) {
			near = to
		}
	}
	n.Add(Problem{Code: "word.one_of", Values: Values{"words": List(n.rule.words), "got": Raw(s)}}.writing(near))
	return false
}

// Bool reads true or false.
func (n Node) Bool() (bool, bool) {
	if n.yaml.Kind == yaml.ScalarNode && n.yaml.Style&quoted == 0 {
		switch n.yaml.Value {
		case "true":
			return true, true
		case "false":
			return false, true
		}
	}
	meant := ""
	switch strings.ToLower(n.yaml.Value) {
	case "yes", "y", "on", "1", "true", "ja", "oui", "si", "sí":
		meant = "true"
	case "no", "n", "off", "0", "false", "nein", "non":
		meant = "false"
	}
	n.Add(Problem{Code: "bool", Values: Values{"got": n.shape()}}.writing(meant))
	return false, false
}

// Like returns the node with the rule of another, as for the entries of a list.
func (n Node) Like(m Node) Node {
	n.rule = m.elementRule()
	return n
}

// InBounds faults a number, read from the node by the caller, that is outside the rule's bounds.
func (n Node) InBounds(x float64) bool { return n.inBounds(x) }

// writing is the problem with what to write instead, if that is known.
func (p Problem) writing(to string) Problem {
	if to != "" {
		p.Way, p.Write = "write.it", to
	}
	return p
}

// character is a character that cannot be seen, as U+200B.
func character(r rune) string { return fmt.Sprintf("%U", r) }
