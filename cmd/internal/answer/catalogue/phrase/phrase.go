// Package phrase fills the sentences of the catalogue with values, and writes whole numbers, nouns and lists of words.
package phrase

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fill puts values into a sentence. {name} stands for the value of that name; {name:one|many} for a whole
// number with its noun, as in {n:pack|packs}: "1 pack", "12 packs". Text stands as it is, whole numbers
// with their thousands apart, other numbers with up to six digits, lists as "a, b and c". A placeholder
// without a value stays as it is, which the tests of the tables find.
func Fill(sentence string, values map[string]any) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(sentence, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		inside, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.WriteString("{" + rest)
			return b.String()
		}
		sentence = after
		name, nouns, counted := strings.Cut(inside, ":")
		value, ok := values[name]
		switch {
		case !ok:
			b.WriteString("{" + inside + "}")
		case counted:
			one, many, _ := strings.Cut(nouns, "|")
			b.WriteString(Plural(whole(value), one, many))
		default:
			b.WriteString(Text(value))
		}
	}
}

// Form is a sentence with {} in place of its values, and these in their order.
func Form(sentence string, values map[string]any) (form string, list []string) {
	blank := map[string]any{}
	for _, name := range Placeholders(sentence) {
		blank[name] = "{}"
		list = append(list, Text(values[name]))
	}
	return Fill(sentence, blank), list
}

// Placeholders are the names in a sentence that want a value, in its order.
func Placeholders(sentence string) []string {
	var names []string
	for {
		_, rest, found := strings.Cut(sentence, "{")
		inside, after, closed := strings.Cut(rest, "}")
		if !found || !closed {
			return names
		}
		name, _, _ := strings.Cut(inside, ":")
		names, sentence = append(names, name), after
	}
}

// Text is a value as it stands in a sentence.
func Text(value any) string {
	switch x := value.(type) {
	case string:
		return x
	case []string:
		return Words(x)
	case float64:
		return strconv.FormatFloat(x, 'g', 6, 64)
	case int, int64, int32, uint64:
		return Grouped(whole(x))
	}
	return fmt.Sprint(value)
}

// whole is a value as a whole number.
func whole(value any) int64 {
	switch x := value.(type) {
	case int:
		return int64(x)
	case int32:
		return int64(x)
	case int64:
		return x
	case uint64:
		return int64(x)
	case float64:
		return int64(x)
	}
	return 0
}

// Plural is a number with its noun: "1 pack", "12 packs".
func Plural(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Grouped(n) + " " + many
}

// Grouped writes a whole number with its thousands apart.
func Grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	digits := len(strings.TrimPrefix(s, "-"))
	var b strings.Builder
	b.WriteString(s[:len(s)-digits])
	for i, r := range s[len(s)-digits:] {
		if i > 0 && (digits-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Words joins words: "a, b and c".
func Words(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Sentence makes a sentence of a note: a capital letter and a full stop.
func Sentence(note string) string {
	first, size := utf8.DecodeRuneInString(note)
	return string(unicode.ToUpper(first)) + strings.TrimRight(note[size:], ".") + "."
}
