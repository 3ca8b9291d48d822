package strict

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
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
func (n Node) Fault(format string, args ...any) {
	n.doc.add(n.Position(), n.path, fmt.Sprintf(format, args...))
}

// IsList says whether the node is a list.
func (n Node) IsList() bool { return n.yaml.Kind == yaml.SequenceNode }

// IsScalar says whether the node is a single value.
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
		n.Fault("aliases (*%s) are not read here; write the value out", Show(n.yaml.Value))
	case n.yaml.Anchor != "":
		n.Fault("anchors (&%s) are not read here; write the value out where it is needed", Show(n.yaml.Anchor))
		return true // what it marks is read for its own faults
	case n.yaml.Style&yaml.TaggedStyle != 0:
		n.Fault("tags (%s) are not read here; write the plain value", Show(n.yaml.Tag))
	case n.isNull():
		n.Fault("has no value; write one, or leave the key out")
	default:
		return true
	}
	return false
}

func (n Node) isNull() bool {
	return n.yaml.Kind == yaml.ScalarNode && n.yaml.Style&quoted == 0 && n.yaml.ShortTag() == nullTag
}

const quoted = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle

// kind names what stands there instead of what was expected.
func (n Node) kind() string {
	switch n.yaml.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "keys with values"
	}
	if n.yaml.Style&quoted != 0 && len(n.yaml.Value) < 40 {
		return strconv.Quote(n.yaml.Value)
	}
	return Show(n.yaml.Value)
}

// Items are the entries of a list; they must all have a value.
func (n Node) Items() ([]Node, bool) {
	if n.yaml.Kind != yaml.SequenceNode {
		if n.yaml.Kind == yaml.MappingNode {
			n.Fault("must be a list, got keys with values; begin each entry with a dash")
		} else if notKnown[strings.ToLower(n.yaml.Value)] {
			n.Fault("must be a list, got %s; leave the key out", n.kind())
		} else {
			n.Fault("must be a list, got %s; write [%s]", n.kind(), listWords(n.yaml.Value))
		}
		return nil, false
	}
	if count := len(n.yaml.Content); count < n.rule.itemsMin || count > n.rule.itemsMax {
		n.Fault("must hold %d to %d entries, got %d", n.rule.itemsMin, n.rule.itemsMax, count)
		return nil, false
	}
	items := make([]Node, len(n.yaml.Content))
	for i, c := range n.yaml.Content {
		items[i] = Node{n.doc, c, fmt.Sprintf("%s[%d]", n.path, i), openRule()}
	}
	return items, true
}

var box = regexp.MustCompile(`^\d+(?:\.\d+)?(?: ?(?:mm)? ?[x×*] ?\d+(?:\.\d+)?)+ ?(?:mm)?$`)

// listWords is a text as the inside of a list: 74x35x33 as 74, 35, 33.
func listWords(s string) string {
	if len(s) < 60 && box.MatchString(s) {
		return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("x×* m", r) }), ", ")
	}
	if s == "" || len(s) > 20 || strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) }) {
		return "…"
	}
	return s
}

var (
	assignment = regexp.MustCompile(`^([A-Za-z_]+) *[=;] *\S`)
	numbered   = regexp.MustCompile(`^(\d+) *([a-z]+) *[/,+; ] *(\d+) *([a-z]+)$`)
)

// keysHelp is the way out for a value that stands where keys should.
func (n Node) keysHelp(p *plan) string {
	if n.yaml.Kind == yaml.SequenceNode && p == nil {
		return "; leave the dashes and square brackets out"
	}
	if n.yaml.Kind != yaml.ScalarNode {
		return ""
	}
	if m := assignment.FindStringSubmatch(n.yaml.Value); m != nil {
		return fmt.Sprintf("; put a colon and a space behind each key, such as %s: …", m[1])
	}
	if m := numbered.FindStringSubmatch(n.yaml.Value); m != nil && p != nil && slices.Equal(slices.Sorted(slices.Values([]string{m[2], m[4]})), slices.Sorted(slices.Values(p.keys()))) {
		return fmt.Sprintf("; write {%s: %s, %s: %s}", m[2], m[1], m[4], m[3])
	}
	return ""
}

// Text reads a single value as text: a number or a word keeps the form it is written in.
func (n Node) Text() (string, bool) {
	if n.yaml.Kind != yaml.ScalarNode {
		n.Fault("must be text, got %s", n.kind())
		return "", false
	}
	s := n.yaml.Value
	if n.yaml.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		s = strings.TrimRight(s, "\n")
	}
	for _, r := range s {
		if r == '\n' || r == '\r' || r == '\t' {
			n.Fault("must be one line without tabs, got %s", Show(s))
			return "", false
		}
		if !allowedRune(r) {
			n.Fault("holds the control character %U: %s; delete it", r, Show(s))
			return "", false
		}
	}
	if count := utf8.RuneCountInString(s); count > n.rule.length {
		n.Fault("must have at most %d characters, got %d; shorten it", n.rule.length, count)
		return "", false
	}
	switch {
	case n.rule.id:
		return s, n.checkID(s)
	case n.rule.words != nil:
		return s, n.checkWord(s)
	case n.rule.required && strings.TrimSpace(s) == "":
		n.Fault("must not be empty")
		return "", false
	}
	return s, true
}

// MaxID is the longest id.
const MaxID = 64

// ValidID says whether a text is a part id: 1 to 64 letters, digits and -_. characters.
func ValidID(s string) bool {
	return s != "" && len(s) <= MaxID && !strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) || r == '+' || r == '~' })
}

func (n Node) checkID(s string) bool {
	if ValidID(s) {
		return true
	}
	if s != "" && len(s) <= 4*MaxID && utf8.RuneCountInString(s) > MaxID {
		n.Fault("must have at most %d characters, got %d; shorten it", MaxID, utf8.RuneCountInString(s))
		return false
	}
	way := ""
	if fixed := asID(s); ValidID(fixed) {
		way = "; write " + fixed
	}
	n.Fault("must be letters, digits, - _ or . without spaces, got %s%s", Show(s), way)
	return false
}

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
	way := ""
	bare := strings.Trim(s, "“”„‘’'\" ")
	if near := Nearest(bare, n.rule.words); near != "" {
		way = "; write " + near
	}
	for _, a := range n.rule.also {
		if from, to, _ := strings.Cut(a, ":"); strings.EqualFold(from, bare) {
			way = "; write " + to
		}
	}
	n.Fault("must be one of %s, got %s%s", strings.Join(n.rule.words, ", "), Show(s), way)
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
	way := ""
	switch strings.ToLower(n.yaml.Value) {
	case "yes", "y", "on", "1", "true", "ja", "oui", "si", "sí":
		way = "; write true"
	case "no", "n", "off", "0", "false", "nein", "non":
		way = "; write false"
	}
	n.Fault("must be true or false without quotes, got %s%s", n.kind(), way)
	return false, false
}

// Like returns the node with the rule of another, as for the entries of a list.
func (n Node) Like(m Node) Node {
	n.rule = m.elementRule()
	return n
}

// InBounds faults a number, read from the node by the caller, that is outside the rule's bounds.
func (n Node) InBounds(x float64) bool { return n.inBounds(x) }
