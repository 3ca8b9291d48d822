package edit

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/inventory/strict"
)

// chunks are the lines of each entry of a list, the comments and blank lines above it included; those
// of the first begin with the list.
func (f *drawerText) chunks(list *yaml.Node, end int) [][]string {
	starts := make([]int, len(list.Content))
	for i, item := range list.Content {
		starts[i] = item.Line
		if i == 0 {
			starts[i] = list.Line
			continue
		}
		for starts[i] > list.Content[i-1].Line+1 {
			above := f.lines[starts[i]-2]
			trimmed := strings.TrimLeft(strings.TrimRight(above, "\r\n"), " ")
			indent := len(strings.TrimRight(above, "\r\n")) - len(trimmed)
			if trimmed != "" && (trimmed[0] != '#' || indent >= list.Column) {
				break
			}
			starts[i]--
		}
	}
	chunks := make([][]string, len(starts))
	for i, start := range starts {
		stop := end
		if i+1 < len(starts) {
			stop = starts[i+1] - 1
		}
		chunks[i] = slices.Clone(f.lines[start-1 : stop])
	}
	return chunks
}

// changed are the lines of a part with other values: what stands above it stays, and so does every line
// of a key that keeps its value, with the comment behind it.
func (f *drawerText) changed(chunk []string, old *partText, e *entry, dash string) []string {
	var head []string
	for _, line := range chunk {
		trimmed := strings.TrimSpace(line)
		if trimmed != "" && trimmed[0] != '#' {
			break
		}
		head = append(head, line)
	}
	written := indented(e.lines(), dash)
	if old.node.Style&yaml.FlowStyle != 0 {
		return append(head, f.ended(written)...)
	}
	var lines []string
	for i, key := range e.keys {
		above, behind, below := old.comments(key)
		lines = append(append(lines, indented(above, dash+"  ")...), f.line(old, e, i, written[i], behind))
		lines = append(lines, indented(below, dash+"  ")...)
	}
	for i := 0; i < len(old.node.Content); i += 2 {
		if key := old.node.Content[i].Value; !slices.Contains(e.keys, key) {
			above, behind, below := old.comments(key)
			if behind != "" {
				above = append(above, strings.TrimSpace(behind))
			}
			lines = append(append(lines, indented(above, dash+"  ")...), indented(below, dash+"  ")...)
		}
	}
	return append(head, f.ended(lines)...)
}

// line is that of a key: as it was if the value is, else as written, with the comment behind it where
// it stood.
func (f *drawerText) line(old *partText, e *entry, i int, written, behind string) string {
	k, v := old.keys[e.keys[i]], old.values[e.keys[i]]
	if k == nil || k.Line != v.Line {
		return written + behind
	}
	was := strings.TrimRight(f.lines[k.Line-1], "\r\n")
	first := k.Line == old.node.Line
	if strict.Flow(v) == e.values[e.keys[i]] && first == (i == 0) && (v.Kind == yaml.ScalarNode &&
		strings.Contains(was, v.Value) || strings.Contains(was, e.values[e.keys[i]])) {
		return was
	}
	comment := strings.TrimSpace(behind)
	if at := strings.LastIndex(was, comment); comment != "" && at > len(written) {
		return written + strings.Repeat(" ", at-len(written)) + comment
	}
	return written + behind
}

// comments are those above a key, behind its value and below it. What stands above the first key
// stands above the whole part and is not among them.
func (p *partText) comments(key string) (above []string, behind string, below []string) {
	v, k := p.values[key], p.keys[key]
	if v == nil {
		return nil, "", nil
	}
	lines := func(comment string) []string {
		if comment == "" {
			return nil
		}
		return strings.Split(comment, "\n")
	}
	if k.Line != p.node.Line {
		above = lines(k.HeadComment)
	}
	above = append(above, lines(v.HeadComment)...)
	for _, comment := range []string{k.LineComment, v.LineComment} {
		if comment != "" && !strings.Contains(comment, "\n") {
			behind += " " + comment
		}
	}
	return above, behind, append(lines(v.FootComment), lines(k.FootComment)...)
}
