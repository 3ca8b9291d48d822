package strict

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// parse turns the bytes of a file into the node of its only document, nil if it cannot.
func (d *Document) parse(raw []byte) *yaml.Node {
	text, ok := d.scan(raw)
	if !ok {
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var document yaml.Node
	if err := decodeNode(dec, &document); err != nil {
		if errors.Is(err, io.EOF) {
			d.add(Position{}, "", "holds no document; write at least one key, such as "+d.example)
			return nil
		}
		d.syntax(text, err)
		return nil
	}
	var second yaml.Node
	switch err := decodeNode(dec, &second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		d.syntax(text, err)
		return nil
	case len(second.Content) > 0 && second.Content[0].ShortTag() != nullTag:
		d.add(position(second.Content[0]), "", "a second document begins here; keep one document in a file")
	}
	root := document.Content[0]
	if (Node{yaml: root}).isNull() && root.Anchor == "" && root.Style == 0 {
		d.add(Position{}, "", "holds an empty document; write at least one key, such as "+d.example)
		return nil
	}
	return root
}

// decodeNode parses the next document. The library reports some malformed comments by panicking;
// for the pilot that is bad text like any other.
func decodeNode(dec *yaml.Decoder, into *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	return dec.Decode(into)
}

func position(n *yaml.Node) Position { return Position{max(n.Line, 1), max(n.Column, 1)} }

// syntaxHelp says in a pilot's words what the YAML library's complaint means.
var syntaxHelp = [...]struct{ found, help string }{
	{"exceeded max depth", "nested far too deeply; a part holds plain values and short lists"},
	{"did not find expected key", "a key is missing or not in the same column as its neighbours"},
	{"could not find expected ':'", "a key needs a colon and a space after it"},
	{"mapping values are not allowed", "a second colon or a wrong indentation; quote a text that holds a colon"},
	{"cannot start any token", "a text may not begin with this character; put it in quotes"},
	{"did not find expected ',' or ']'", "a [ is not closed; end the list with ]"},
	{"did not find expected ',' or '}'", "a { is not closed; end it with }"},
	{"unexpected end of stream", "a quote is not closed"},
	{"document start", "text stands where the file should have ended; check quotes and indentation"},
	{"did not find expected '-'", "list entries must begin with a dash in one column"},
	{"did not find expected node content", "a value is missing before this"},
	{"sequence entries are not allowed", "a list cannot begin here; put the dash on a line of its own under the key"},
	{"unknown escape character", "a backslash in double quotes; use single quotes"},
	{"did not find URI escape", "a tag that cannot be read; leave it out"},
	{"unknown anchor", "an alias (*) to nothing; aliases are not read here, write the value out"},
	{"undefined tag handle", "a tag that cannot be read; leave it out"},
	{"found duplicate", "a directive stands twice; leave directives out"},
	{"incompatible YAML document", "a YAML directive that cannot be read; leave it out"},
}

// plainCauses are lines that YAML refuses in words about other lines.
var plainCauses = [...]struct {
	line *regexp.Regexp
	help string
}{
	{regexp.MustCompile(`^[ ]*()(?://|/\*|;|<!--)`), "a comment begins with #"},
	{regexp.MustCompile(`^[ ]*(?:- +)?[A-Za-z_]+()[ ]*[=;][ ]*\S`), "a colon and a space must stand between a key and its value"},
	{regexp.MustCompile(`^[ ]*(?:- +)?()[a-z_]+: *[^,:{\["'#]+, *[a-z_]+: `), "several keys on one line need braces, such as {volts: 16, rpm: 22000}"},
	{regexp.MustCompile(`^[ ]*(?:- +)?[a-z_]+: +()[^"'\[{#|>&*! ][^#"]*: `), "a text that holds a colon and a space needs quotes"},
	{regexp.MustCompile(`^[a-z_]+()[ ]*$`), "a colon is missing after the key"},
	{regexp.MustCompile(`^()\|.*\|[ ]*$`), "a table is not read here; save it as CSV and import that"},
	{regexp.MustCompile(`^()\[[A-Za-z_ ]+\][ ]*$`), "a section is a key with a colon, such as motors:"},
}

var (
	errorLine    = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)
	missingSpace = regexp.MustCompile(`^([ ]*(?:- +)?[a-z_]+:)[^\s:/]`)
)

// shownCauses bounds how many lines with a plain cause are named.
const shownCauses = 20

// syntax turns the library's error into faults: first the lines that show a plain cause, else the
// line where it gave up.
func (d *Document) syntax(text []byte, err error) {
	for number, line := range lines(text) {
		if m := missingSpace.FindSubmatch(line); m != nil {
			d.add(Position{number, len(m[1]) + 1}, "", "a space is missing after the colon")
		}
	}
	for number, line := range lines(text) {
		for _, cause := range plainCauses {
			if m := cause.line.FindSubmatchIndex(line); m != nil && len(d.faults) < shownCauses {
				d.add(Position{number, utf8.RuneCount(line[:m[2]]) + 1}, "", "not YAML: "+cause.help)
				break
			}
		}
	}
	if len(d.faults) > 0 {
		return
	}
	problem, line := err.Error(), 0
	if m := errorLine.FindStringSubmatch(problem); m != nil {
		problem = m[2]
		line, _ = strconv.Atoi(m[1])
	}
	help := "check indentation, colons and quotes"
	for _, h := range syntaxHelp {
		if strings.Contains(problem, h.found) {
			help = h.help
			break
		}
	}
	if len(text) <= searchedBytes && (line == 0 || !strings.Contains(problem, "unexpected end of stream")) {
		line = failingLine(text, err)
	}
	d.add(lineStart(text, line), "", "not YAML: "+help)
}

// searchedBytes is the longest text in which the line at fault is searched for by parsing its
// beginnings; in longer ones the library's own line has to do.
const searchedBytes = 256 << 10

// failingLine is the first line at whose end the library reports the error of the whole text. The
// line it names itself is mostly the one where the broken list or part began.
func failingLine(text []byte, err error) int {
	var ends []int
	for rest := text; ; {
		end := bytes.IndexAny(rest, "\r\n")
		if end < 0 {
			ends = append(ends, len(text))
			break
		}
		if rest[end] == '\r' && end+1 < len(rest) && rest[end+1] == '\n' {
			end++
		}
		rest = rest[end+1:]
		ends = append(ends, len(text)-len(rest))
	}
	return 1 + sort.Search(len(ends)-1, func(i int) bool {
		var n yaml.Node
		short := decodeNode(yaml.NewDecoder(bytes.NewReader(text[:ends[i]])), &n)
		return short != nil && short.Error() == err.Error()
	})
}

// lineStart is the position of the first character on a line that is no space.
func lineStart(text []byte, line int) Position {
	for number, content := range lines(text) {
		if number < line {
			continue
		}
		column := 1 + len(content) - len(bytes.TrimLeft(content, " "))
		if column > len(content) {
			column = 1
		}
		return Position{number, column}
	}
	return Position{1, 1}
}
