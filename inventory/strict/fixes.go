package strict

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Fix is a change of a text: From, which stands at At, becomes To.
type Fix struct {
	At       Position
	From, To string
}

// Fixed is a fix that was applied, with the path of the value that it changed.
type Fixed struct {
	Fix
	Path string
}

// Added reports whether the fix puts something where nothing stood.
func (f *Fix) Added() bool { return f.From == "" }

// maxRounds bounds how often a text is read again after it was mended: mended places let the reader
// see further.
const maxRounds = 40

// Mend applies the fixes of faults: numbers written another way (3,9k, 30 g, 1'300), words and keys in other
// spelling, spaces that are none. read says what is wrong with a text. It returns the mended text, what was changed,
// and the faults that are left.
func Mend(text []byte, read func([]byte) Faults) ([]byte, []Fixed, Faults) {
	var done []Fixed
	for range maxRounds {
		faults := read(text)
		if len(faults) == 0 {
			return text, done, nil
		}
		changed, now := apply(text, faults, done)
		if now == nil {
			return text, done, faults
		}
		done = append(done, now...)
		text = changed
	}
	return text, done, read(text)
}

// apply makes the changes that the fixes of faults ask for, no place twice and none that was made before.
func apply(text []byte, faults Faults, before []Fixed) ([]byte, []Fixed) {
	rest, marked := strings.CutPrefix(string(text), byteOrderMark)
	lines := splitLines(rest)
	var done []Fixed
	for i := len(faults) - 1; i >= 0; i-- { // from the end, so that places before stay where they are
		f := &faults[i]
		if f.Fix == nil || f.Fix.From == f.Fix.To {
			continue
		}
		change := Fixed{*f.Fix, f.Path}
		if slices.Contains(before, change) || slices.ContainsFunc(done, func(d Fixed) bool { return d.At == change.At }) {
			continue
		}
		if f.Fix.apply(lines) {
			done = append(done, change)
		}
	}
	slices.Reverse(done)
	changed := strings.Join(lines, "")
	if marked {
		changed = byteOrderMark + changed
	}
	return []byte(changed), done
}

// apply changes a text, line by line, and reports whether From stood there.
func (f *Fix) apply(lines []string) bool {
	if f.At.Line < 1 || f.At.Line > len(lines) {
		return false
	}
	line, at := lines[f.At.Line-1], 0
	for range f.At.Column - 1 {
		if at >= len(line) {
			return false
		}
		_, size := utf8.DecodeRuneInString(line[at:])
		at += size
	}
	rest, ok := strings.CutPrefix(line[at:], f.From)
	if ok {
		lines[f.At.Line-1] = line[:at] + f.To + rest
	}
	return ok
}

// splitLines splits a text behind each line end: LF, CRLF or CR.
func splitLines(rest string) []string {
	var list []string
	for rest != "" {
		end := strings.IndexAny(rest, "\r\n")
		switch {
		case end < 0:
			return append(list, rest)
		case rest[end] == '\r' && strings.HasPrefix(rest[end:], "\r\n"):
			end++
		}
		list, rest = append(list, rest[:end+1]), rest[end+1:]
	}
	return list
}

// scalarText is a single value as it stands in the text from rest on, false if it goes on in other lines or is no
// single value.
func scalarText(n *yaml.Node, rest string) (string, bool) {
	switch {
	case n.Kind != yaml.ScalarNode:
		return "", false
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := 1; i < len(rest); i++ {
			if rest[i] == '\\' {
				i++
			} else if rest[i] == '"' {
				return rest[:i+1], true
			}
		}
		return "", false
	case n.Style&yaml.SingleQuotedStyle != 0:
		if end := strings.IndexByte(rest[min(1, len(rest)):], '\''); end >= 0 && strings.HasPrefix(rest, "'") &&
			!strings.HasPrefix(rest[end+2:], "'") {
			return rest[:end+2], true
		}
		return "", false
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle|yaml.TaggedStyle) != 0 || n.Anchor != "":
		return "", false
	}
	return n.Value, n.Value != "" && strings.HasPrefix(rest, n.Value)
}

// lastKey is the last key of a path, without quotes; "" for an entry of a list.
func lastKey(path string) string {
	word := strings.TrimPrefix(path[len(parent(path)):], ".")
	if s, err := strconv.Unquote(word); err == nil {
		word = s
	}
	if strings.HasSuffix(word, "]") {
		return ""
	}
	return word
}

// sameKey reports whether a key that is not known can only be another one: in capitals or with other signs
// between its words, a slip in letters with the same unit at its end, a word that names no unit, or the key without
// its unit.
func (p *plan) sameKey(word, key string) bool {
	if plainWord(word) == plainWord(key) || p.withoutUnit(word) == key {
		return true
	}
	also := false
	for _, f := range p.fields {
		also = also || f.key == key && slices.Contains(f.rule.also, strings.ToLower(word))
	}
	if also && (unitOfKey(word) == "" || unitOfKey(word) == unitOfKey(key)) {
		return true
	}
	ending := func(s string) string {
		if i := strings.LastIndexByte(s, '_'); i >= 0 {
			return s[i:]
		}
		return ""
	}
	return ending(word) == ending(key) && editDistance(plainWord(word), plainWord(key)) <= 2 && len(word) > 3
}

// keyUnits are the units that a key may end in, behind its last underscore.
var keyUnits = wordSet("g kg oz lb mg mm in cm m a ma v mv w mw c mah ah mohm ohm khz hz pct s min cm2 hpa pa")

// unitOfKey is the unit that a key ends in, "" if it names none.
func unitOfKey(key string) string {
	if _, unit, ok := cutLast(strings.ToLower(key), "_"); ok && keyUnits[unit] {
		return unit
	}
	return ""
}

func cutLast(s, separator string) (before, after string, found bool) {
	i := strings.LastIndex(s, separator)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(separator):], true
}

// withoutUnit is the one key that a word is without its unit, as mass is mass_g; "" if there is none or more than one.
func (p *plan) withoutUnit(word string) string {
	found := ""
	for _, f := range p.fields {
		stem, unit, _ := cutLast(f.key, "_")
		if !keyUnits[unit] || plainWord(stem) != plainWord(word) {
			continue
		}
		if found != "" {
			return ""
		}
		found = f.key
	}
	return found
}
