package strict

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"

	"gopkg.in/yaml.v3"
)

// KeysOf lists the keys of a struct that is read, in its order.
func KeysOf(v any) []string {
	p, err := planOf(reflect.Indirect(reflect.ValueOf(v)).Type())
	if err != nil {
		panic("strict: " + err.Error())
	}
	return p.keys()
}

// Scalar writes a text as a YAML value that reads back as that text, in a block or between
// brackets: bare if it can be, else in double quotes.
func Scalar(text string) string {
	if bare(text, "k: "+text+"\n") && bare(text, "k: ["+text+", x]\n") {
		return text
	}
	return inQuotes(text)
}

// blockScalar is Scalar for a value that stands in no brackets.
func blockScalar(text string) string {
	if bare(text, "k: "+text+"\n") {
		return text
	}
	return inQuotes(text)
}

func inQuotes(text string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(text); err != nil { // a string always can be
		return `""`
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// bare says whether a document's first value is a text that needs no quotes, the one given.
func bare(text, document string) bool {
	if text == "" || len(text) > 400 || strings.ContainsAny(text, "\n\r\t#&*!|>'\"%@`{}[]") ||
		reserved[strings.ToLower(text)] {
		return false
	}
	var n yaml.Node
	if err := decodeNode(yaml.NewDecoder(strings.NewReader(document)), &n); err != nil || len(n.Content) != 1 ||
		len(n.Content[0].Content) != 2 {
		return false
	}
	v := n.Content[0].Content[1]
	if v.Kind == yaml.SequenceNode {
		if len(v.Content) != 2 {
			return false
		}
		v = v.Content[0]
	}
	return v.Kind == yaml.ScalarNode && v.ShortTag() == "!!str" && v.Value == text && v.Style == 0
}

// reserved are words that older or other readers of YAML take for something else.
var reserved = map[string]bool{"y": true, "n": true, "yes": true, "no": true, "on": true, "off": true, "true": true,
	"false": true, "null": true, "~": true}

// Flow writes a value on one line, lists in brackets and keys in braces.
func Flow(n *yaml.Node) string {
	var b strings.Builder
	switch n.Kind {
	case yaml.SequenceNode:
		b.WriteByte('[')
		for i, item := range n.Content {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(Flow(item))
		}
		b.WriteByte(']')
	case yaml.MappingNode:
		b.WriteByte('{')
		for i := 0; i+1 < len(n.Content); i += 2 {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(Flow(n.Content[i]) + ": " + Flow(n.Content[i+1]))
		}
		b.WriteByte('}')
	default:
		if n.Style&quoted == 0 && n.ShortTag() != "!!str" {
			return n.Value
		}
		return Scalar(strings.TrimRight(n.Value, "\n"))
	}
	return b.String()
}

// IsFlow says whether a text is one list in brackets or one mapping in braces, and nothing behind it.
func IsFlow(text string) bool {
	var n yaml.Node
	if len(text) > 1<<20 || tokens([]byte(text)) > 10_000 {
		return false
	}
	if err := decodeNode(yaml.NewDecoder(strings.NewReader("k: "+text+"\n")), &n); err != nil || len(n.Content) != 1 ||
		len(n.Content[0].Content) != 2 {
		return false
	}
	v := n.Content[0].Content[1]
	return v.Style&yaml.FlowStyle != 0 && v.LineComment == "" && n.Content[0].Content[0].Value == "k"
}

// Meant is the key of a struct that a pilot's word stands for, "" if none is near.
func Meant(v any, word string) string {
	p, err := planOf(reflect.Indirect(reflect.ValueOf(v)).Type())
	if err != nil {
		panic("strict: " + err.Error())
	}
	return p.meant(word)
}
