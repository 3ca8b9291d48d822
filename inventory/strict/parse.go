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
	d.lines = splitLines(string(text))
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var document yaml.Node
	if err := decodeNode(dec, &document); err != nil {
		if errors.Is(err, io.EOF) {
			d.at(Position{}, "", "file.no_document", d.such())
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
		d.at(position(second.Content[0]), "", "file.second_document", nil)
	}
	root := document.Content[0]
	if (Node{yaml: root}).isNull() && root.Anchor == "" && root.Style == 0 {
		d.at(Position{}, "", "file.empty_document", d.such())
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

// complaints are what the YAML library says, with the codes that mean the same.
var complaints = [...]struct {
	found string
	code  Code
}{
	{"exceeded max depth", "yaml.depth"},
	{"did not find expected key", "yaml.key"},
	{"could not find expected ':'", "yaml.colon"},
	{"mapping values are not allowed", "yaml.second_colon"},
	{"cannot start any token", "yaml.first_character"},
	{"did not find expected ',' or ']'", "yaml.bracket"},
	{"did not find expected ',' or '}'", "yaml.brace"},
	{"unexpected end of stream", "yaml.quote"},
	{"document start", "yaml.after_end"},
	{"did not find expected '-'", "yaml.dash"},
	{"did not find expected node content", "yaml.value"},
	{"sequence entries are not allowed", "yaml.list_here"},
	{"unknown escape character", "yaml.escape"},
	{"did not find URI escape", "yaml.tag"},
	{"unknown anchor", "yaml.alias"},
	{"undefined tag handle", "yaml.tag"},
	{"found duplicate", "yaml.directive_twice"},
	{"incompatible YAML document", "yaml.directive"},
}

// plainCauses are lines that YAML refuses in words about other lines. What a pattern's group finds is replaced where
// fix says by what.
var plainCauses = [...]struct {
	line *regexp.Regexp
	code Code
	fix  string
}{
	{regexp.MustCompile(`^[ ]*(//)`), "yaml.comment", "#"},
	{regexp.MustCompile(`^[ ]*()(?:/\*|;|<!--)`), "yaml.comment", ""},
	{regexp.MustCompile(`^[ ]*(?:- +)?[A-Za-z_]+([ ]*=[ ]*)[^\s=]`), "yaml.assignment", ": "},
	{regexp.MustCompile(`^[ ]*(?:- +)?[A-Za-z_]+()[ ]*[=;][ ]*\S`), "yaml.assignment", ""},
	{regexp.MustCompile(`^[ ]*([a-z_]+: +\?+ *)$`), "yaml.unknown", "# $"},
	{regexp.MustCompile(`^[ ]*(?:- +)?()[a-z_]+: *[^,:{\["'#]+, *[a-z_]+: `), "yaml.keys_on_line", ""},
	{regexp.MustCompile(`^[ ]*(?:- +)?[a-z_]+: +()[^"'\[{#|>&*! ][^#"]*: `), "yaml.colon_in_text", ""},
	{regexp.MustCompile(`^([A-Za-z_]+)[ ]*$`), "yaml.no_colon", "$:"},
	{regexp.MustCompile(`^()\|.*\|[ ]*$`), "yaml.table", ""},
	{regexp.MustCompile(`^()\[[A-Za-z_ ]+\][ ]*$`), "yaml.section", ""},
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
			at := Position{number, len(m[1]) + 1}
			d.add(Fault{Position: at, Problem: Problem{Code: "colon.no_space"},
				Fix: &Fix{Position{number, len(m[1])}, ":", ": "}})
		}
	}
	for number, line := range lines(text) {
		for _, cause := range plainCauses {
			if m := cause.line.FindSubmatchIndex(line); m != nil && len(d.faults) < shownCauses {
				f := Fault{Position: Position{number, utf8.RuneCount(line[:m[2]]) + 1}, Problem: Problem{Code: cause.code}}
				found := string(line[m[2]:m[3]])
				if cause.fix != "" && found != "" {
					f.Fix = &Fix{f.Position, found, strings.Replace(cause.fix, "$", found, 1)}
				}
				if cause.code == "yaml.no_colon" {
					f.Column += len(found)
				}
				d.add(f)
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
	code := Code("yaml.other")
	for _, c := range complaints {
		if strings.Contains(problem, c.found) {
			code = c.code
			break
		}
	}
	if len(text) <= searchedBytes && (line == 0 || !strings.Contains(problem, "unexpected end of stream")) {
		line = failingLine(text, err)
	}
	d.at(lineStart(text, line), "", code, nil)
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

// such is the value of a key to begin a file with.
func (d *Document) such() Values { return Values{"example": d.example} }
