package strict

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxTokens bounds the nodes of a file, and with them memory and time: each needs one of the
// characters that are counted.
const maxTokens = 400_000

const byteOrderMark = "\ufeff"

// scan looks at the bytes of a file for what YAML would refuse in words of its own or would let
// pass. It returns the text without a byte order mark, and false if the text cannot be parsed.
func (d *Document) scan(raw []byte) ([]byte, bool) {
	if code := NotText(raw); code != "" {
		d.at(Position{1, 1}, "", code, nil)
		return nil, false
	}
	raw = bytes.TrimPrefix(raw, []byte(byteOrderMark))
	if tokens(raw) > maxTokens {
		d.at(Position{}, "", "file.entries", Values{"most": Number(maxTokens)})
		return nil, false
	}
	if at := tooDeep(raw); at != (Position{}) {
		d.at(at, "", "yaml.depth", nil)
		return nil, false
	}
	empty := true
	for number, line := range lines(raw) {
		d.scanLine(number, line)
		if len(bytes.TrimSpace(line)) == 0 {
			blank(line)
		}
		if trimmed := strings.TrimSpace(string(line)); trimmed != "" && trimmed[0] != '#' {
			empty = false
		}
	}
	if len(d.faults) > 0 {
		return nil, false
	}
	if empty {
		code := Code("file.empty")
		if len(bytes.TrimSpace(raw)) > 0 {
			code = "file.comments_only"
		}
		d.at(Position{}, "", code, d.such())
		return nil, false
	}
	return raw, true
}

// NotText is the code of what bytes are that are no text in UTF-8 from the start, "" if they may be.
func NotText(raw []byte) Code {
	begins := func(mark string) bool { return bytes.HasPrefix(raw, []byte(mark)) }
	switch {
	case begins("\xff\xfe\x00\x00"), begins("\x00\x00\xfe\xff"):
		return "file.utf32"
	case begins("\xff\xfe"), begins("\xfe\xff"), len(raw) > 3 && (raw[0] == 0) != (raw[1] == 0) &&
		(raw[0] == 0) == (raw[2] == 0) && (raw[1] == 0) == (raw[3] == 0):
		return "file.utf16"
	case begins("PK\x03\x04"):
		return "file.zip"
	case begins("\xd0\xcf\x11\xe0"):
		return "file.office"
	case begins("%PDF-"):
		return "file.pdf"
	case begins("\x1f\x8b"), begins("BZh"), begins("\xfd7zXZ\x00"), begins("(\xb5/\xfd"), begins("7z\xbc\xaf"):
		return "file.compressed"
	case begins("\x89PNG"), begins("\xff\xd8\xff"), begins("GIF8"):
		return "file.picture"
	case bytes.Count(raw[:min(len(raw), headBytes)], []byte{0}) > mostNULs:
		return "file.binary"
	}
	return ""
}

// A text in whose first bytes there are more NULs than slips explain is none.
const headBytes, mostNULs = 4096, 8

// blank turns tabs on a line without text into spaces: YAML would refuse them.
func blank(line []byte) {
	for i, c := range line {
		if c == '\t' {
			line[i] = ' '
		}
	}
}

func tokens(raw []byte) (n int) {
	for _, c := range raw {
		switch c {
		case '\n', '\r', ',', '[', '{', ':', '-', '?':
			n++
		}
	}
	return n
}

// lines yields number (from 1) and text of each line; lines end with LF, CRLF or CR.
func lines(raw []byte) func(yield func(int, []byte) bool) {
	return func(yield func(int, []byte) bool) {
		for number := 1; ; number++ {
			end := bytes.IndexAny(raw, "\r\n")
			if end < 0 {
				yield(number, raw)
				return
			}
			next := end + 1
			if raw[end] == '\r' && next < len(raw) && raw[next] == '\n' {
				next++
			}
			if !yield(number, raw[:end]) {
				return
			}
			raw = raw[next:]
		}
	}
}

// afterColon finds a space that is none, as text editors on phones like to write it.
var afterColon = regexp.MustCompile(`^[ ]*(?:- *)?(?:[A-Za-z_0-9]+:|-)([\x{00a0}\x{2007}\x{202f}\x{2009}\x{3000}])`)

func (d *Document) scanLine(number int, line []byte) {
	// odd is the fault of a character at a byte of the line, with the fix that leaves a plain space there.
	odd := func(offset int, code Code, r rune) Fault {
		at := Position{number, utf8.RuneCount(line[:offset]) + 1}
		return Fault{Position: at, Problem: Problem{Code: code, Values: Values{"character": character(r)}},
			Fix: &Fix{at, string(r), " "}}
	}
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRune(line[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			d.at(Position{number, utf8.RuneCount(line[:i]) + 1}, "", "byte", Values{"byte": fmt.Sprintf("0x%02x", line[i])})
			return
		case r != '\t' && !allowedRune(r):
			f := odd(i, "character.control", r)
			if f.Fix.To = ""; !hidden(r) {
				f.Fix = nil
			}
			d.add(f)
			return
		}
		i += size
	}
	blank := len(bytes.TrimSpace(line)) == 0
	for i, r := range string(line) {
		if r == ' ' {
			continue
		}
		switch {
		case blank:
		case r == '\t':
			indent := string(line[:len(line)-len(bytes.TrimLeft(line, " \t"))])
			d.add(Fault{Position: Position{number, utf8.RuneCount(line[:i]) + 1}, Problem: Problem{Code: "indent.tab"},
				Fix: &Fix{Position{number, 1}, indent, strings.ReplaceAll(indent, "\t", "  ")}})
		case unicode.IsSpace(r):
			d.add(odd(i, "indent.space", r))
		}
		break
	}
	if m := afterColon.FindSubmatchIndex(line); m != nil {
		d.add(odd(m[2], "colon.space", []rune(string(line[m[2]:m[3]]))[0]))
	}
}

// hidden reports whether a character takes no room and says nothing: it may go.
func hidden(r rune) bool {
	return r >= 0x200b && r <= 0x200f || r == 0x2060 || r == 0xfeff || r == 0xad
}

var oddSpaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ")

// PlainSpaces turns spaces that only look like one into plain ones.
func PlainSpaces(text string) string { return oddSpaces.Replace(text) }

// allowedRune refuses control characters and those that reverse, hide or break a line of text.
func allowedRune(r rune) bool {
	switch {
	case unicode.IsControl(r),
		r == 0xad,                  // soft hyphen
		r >= 0x200b && r <= 0x200f, // zero width, direction marks
		r >= 0x2028 && r <= 0x202e, // line and paragraph separators, embeddings, overrides
		r >= 0x2060 && r <= 0x206f, // invisible operators, isolates
		r == 0xfeff, r >= 0xfff9 && r <= 0xfffb,
		r == utf8.RuneError, r >= 0xe0000 && r <= 0xe007f:
		return false
	}
	return true
}
