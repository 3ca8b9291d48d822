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
	if message := NotText(raw); message != "" {
		d.add(Position{1, 1}, "", message)
		return nil, false
	}
	raw = bytes.TrimPrefix(raw, []byte(byteOrderMark))
	if tokens(raw) > maxTokens {
		d.add(Position{}, "", fmt.Sprintf("holds more than %d entries, more than is read; split it", maxTokens))
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
		what := "is empty"
		if len(bytes.TrimSpace(raw)) > 0 {
			what = "holds only comments"
		}
		d.add(Position{}, "", what+"; write at least one key, such as "+d.example)
		return nil, false
	}
	return raw, true
}

// NotText says what bytes are that are no text in UTF-8 from the start, "" if they may be.
func NotText(raw []byte) string {
	begins := func(mark string) bool { return bytes.HasPrefix(raw, []byte(mark)) }
	switch {
	case begins("\xff\xfe\x00\x00"), begins("\x00\x00\xfe\xff"):
		return "is UTF-32 text; save it as UTF-8"
	case begins("\xff\xfe"), begins("\xfe\xff"), len(raw) > 3 && (raw[0] == 0) != (raw[1] == 0) && (raw[0] == 0) == (raw[2] == 0) && (raw[1] == 0) == (raw[3] == 0):
		return "is UTF-16 text; save it as UTF-8"
	case begins("PK\x03\x04"):
		return "is a ZIP archive, as spreadsheets and word processors save them; save a list of parts as CSV in UTF-8 and import that"
	case begins("\xd0\xcf\x11\xe0"):
		return "is an office document; save a list of parts as CSV in UTF-8 and import that"
	case begins("%PDF-"):
		return "is a PDF document; write a plain text"
	case begins("\x1f\x8b"), begins("BZh"), begins("\xfd7zXZ\x00"), begins("(\xb5/\xfd"), begins("7z\xbc\xaf"):
		return "is a compressed file; unpack it first"
	case begins("\x89PNG"), begins("\xff\xd8\xff"), begins("GIF8"):
		return "is a picture; write a plain text"
	}
	return ""
}

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
	fault := func(offset int, format string, args ...any) {
		d.add(Position{number, utf8.RuneCount(line[:offset]) + 1}, "", fmt.Sprintf(format, args...))
	}
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRune(line[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fault(i, "byte 0x%02x is not UTF-8 text (Latin-1?); save the file as UTF-8", line[i])
			return
		case r != '\t' && !allowedRune(r):
			fault(i, "holds the control character %U; delete it", r)
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
			fault(i, "a tab in the indentation; indent with spaces")
		case unicode.IsSpace(r):
			fault(i, "a non-breaking space (%U) in the indentation; indent with plain spaces", r)
		}
		break
	}
	if m := afterColon.FindSubmatchIndex(line); m != nil {
		fault(m[2], "a non-breaking space (%U) where a plain space must stand; type a plain space", []rune(string(line[m[2]:m[3]]))[0])
	}
}

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
