package render

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/clipperhouse/displaywidth"
)

// Clean replaces whatever could steer a terminal, hide or reorder text: control characters,
// direction marks and invalid UTF-8. Line breaks stay.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' {
			return r
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// Wrap breaks a paragraph into lines of at most width columns of a terminal at its spaces, but not between a
// number and its unit; continued lines begin with indent.
func Wrap(text string, width int, indent string) string {
	var b strings.Builder
	column := 0
	for i, word := range words(text) {
		length := displaywidth.String(word)
		switch {
		case i == 0:
		case column+1+length > width:
			b.WriteString("\n" + indent)
			column = displaywidth.String(indent)
		default:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += length
	}
	return b.String()
}

// words are what must stay on one line: words, and a number with the word after it.
func words(text string) []string {
	var list []string
	number := false
	for _, word := range strings.Fields(text) {
		if last := len(list) - 1; number {
			list[last] += " " + word
		} else {
			list = append(list, word)
		}
		last, _ := utf8.DecodeLastRuneInString(word)
		number = unicode.IsDigit(last)
	}
	return list
}
