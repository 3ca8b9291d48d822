package edit

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// kindWords lead to a kind of part. The first in a text counts, and of those that begin together the longest: a
// battery strap is a strap.
var kindWords = []struct {
	word string
	kind inventory.Kind
	role inventory.Role
}{
	{"motors?", inventory.KindMotor, ""},
	{"props?|propellers?", inventory.KindProp, ""},
	{"packs?|battery|batteries|batts?|lipos?|(?:lipo|battery) (?:packs?|battery|batteries)", inventory.KindPack, ""},
	{"(?:whoop )?frames?|airframe|motor[- ]to[- ]motor", inventory.KindFrame, ""},
	{"boards?|fcs?|aios?|flight controllers?|(?:4 ?-?in-? ?1 |aio )?escs?|(?:4 ?-?in-? ?1|aio)(?: boards?)?",
		inventory.KindBoard, ""},
	{"extras?", inventory.KindExtra, ""},
	{"cameras?|cams?", inventory.KindExtra, inventory.Camera},
	{"videos?|vtxs?|video transmitters?", inventory.KindExtra, inventory.Video},
	{"receivers?|rx", inventory.KindExtra, inventory.Receiver},
	{"(?:(?:vtx|video|rx|receiver|gps) )?(?:antennas?|antennae|ants?\\.?)", inventory.KindExtra, inventory.Antenna},
	{"(?:escs? )?(?:capacitors?|caps?)", inventory.KindExtra, inventory.Capacitor},
	{"(?:(?:battery|pack|lipo|esc|board) )?(?:adapters?(?: leads?)?|leads?)", inventory.KindExtra, inventory.Adapter},
	{"(?:(?:battery|pack|lipo) )?straps?", inventory.KindExtra, inventory.Strap},
	{"(?:(?:motor|prop|frame|board|esc|fc) )?(?:hardware|screws)|buzzers?|beepers?|gps", inventory.KindExtra, inventory.Hardware},
	{"(?:(?:motor|prop|frame|arm|camera|cam|vtx|rx|receiver|gps|antenna|battery|pack|lipo|board|esc|fc|capacitor|tpu) )+" +
		"(?:mounts?|covers?|holders?|cases?|guards?|protectors?|plates?|pads?|spacers?|bumpers?)|canopy|canopies|" +
		"standoffs?|landing (?:gear|legs)|guards?", inventory.KindExtra, inventory.Hardware},
}

// kindSigns tell the kind of a part whose description does not name it: what stands on parts of one kind only.
var kindSigns = []struct {
	kind inventory.Kind
	sign string
}{
	{inventory.KindMotor, `(?:N|Nk)(?:kv|rpm/v)|kv[:=]? ?N`},
	{inventory.KindMotor, `(?:0[6-9]|1\d|2[0-8])\d\d(?:[.,]5)? \d{4,5}(?: [^ ]+)* shafts?`},
	{inventory.KindProp, bladesForm},
	{inventory.KindProp, lengthForm + `[x×*]` + lengthForm + `[x×*][2-8]`},
	{inventory.KindPack, `li[- ]?po|li[- ]?hv|li[- ]?ion`},
	{inventory.KindPack, `N(?:mah|ah)`},
	{inventory.KindPack, `\d{1,2}s(?:1p)?(?:\d{3,5})?(?:mah)?(?: [^ ]+)* N(?:c[+]?|c?[/-]Nc)`},
	{inventory.KindPack, `\d{1,2}s(?:1p)? ?\d{3,5}(?:mah)? (?:[^ ]+ )*(?:hv|bt ?2\.0|ph ?2\.0|xt30|xt60)`},
	{inventory.KindProp, `[a-z]?\d{4,5}(?:[x*/-][2-8])? (?:tri|bi)`},
	{inventory.KindProp, lengthForm + ` ?[x×*] ?` + lengthForm + ` (?:tri|bi)`},
	{inventory.KindFrame, `wheelbase|deadcat|toothpick|cinewhoop`},
	{inventory.KindBoard, `Na(?:mps?)?(?: [^ ]+)* \d{1,2}s?[-–~]\d{1,2}s|\d{1,2}s?[-–~]\d{1,2}s(?: [^ ]+)* Na(?:mps?)?`},
}

// weakSigns count where there is no other: a frame has a stack as well.
var weakSigns = []struct {
	kind inventory.Kind
	sign string
}{{inventory.KindFrame, `whoops?`}, {inventory.KindFrame, `\d{1,2}(?:[.,]\d)?(?:in|inch|"|″|”)(?: [a-z]+){0,2} \d{3}mm`}, {inventory.KindBoard, `stacks?`}}

// heading is what stands over parts in a list: their kind, and the role of extras; empty where it does not say.
type heading struct {
	kind inventory.Kind
	role inventory.Role
}

// packing is a pack that things are sold in: a 10 pack.
var packing = regexp.MustCompile(`(?i) \d{1,3}[- ]?(?:x )?pack $`)

// kindWord finds the first word in a text that names a kind of part, and the longest of those that begin together.
func kindWord(text string) (found heading, first, end int) {
	first = len(text)
	for _, w := range kindWords {
		m := regexp.MustCompile(`(?i) (?:` + w.word + `):? `).FindStringIndex(text)
		if m != nil && w.kind == inventory.KindPack && packing.MatchString(text[:m[1]]) {
			continue
		}
		if m != nil && (m[0] < first || m[0] == first && m[1] > end) {
			first, end, found = m[0], m[1], heading{w.kind, w.role}
		}
	}
	return found, first, end
}

// takeKind finds the first word that names a kind of part, or signs that are those of one kind only. Below a heading a
// word counts where the part is plainly another: it begins with the word, or its signs are those of the word's kind.
func (t *freeText) takeKind() (inventory.Role, error) {
	word, first, end := kindWord(t.rest)
	signs, _ := t.signs()
	if m := whoopWith.FindStringIndex(t.rest); m != nil && word.kind == inventory.KindProp {
		word, first, end = heading{kind: inventory.KindFrame}, m[1], m[1]
	}
	switch under := t.under; {
	case under.kind == "" || word.kind == under.kind:
	case under.role == "" && under.kind == inventory.KindExtra:
		// All sorts of things: what the text says itself counts.
		if word.kind == "" && signs == "" {
			t.kind = inventory.KindExtra
			return "", nil
		}
	case word.kind == "" && signs != "" && (under.kind == inventory.KindFrame || under.kind == inventory.KindBoard):
		// What has a capacity or a current is no frame.
	case word.kind == "" || len(strings.Fields(t.rest[:first])) > 1 && signs != word.kind:
		t.kind = under.kind
		return under.role, nil
	}
	t.kind = word.kind
	role := word.role
	if t.kind == "" {
		return "", t.inferKind()
	}
	switch word := strings.ToLower(t.rest[first:end]); {
	case role == "" && strings.Contains(word, "lipo"), strings.Contains(word, "whoop"), strings.Contains(word, " to"),
		strings.Contains(word, "-to"):
		return role, nil // The word says more than the kind.
	}
	if m := countBefore.FindStringSubmatchIndex(t.rest[:first+1]); m != nil && !endsInTimes(t.rest[:m[0]]) &&
		strings.HasSuffix(strings.TrimRight(t.rest[:end], ": "), "s") {
		if n := wholeNumber(submatch(t.rest, m, 1)); n != "" && t.say("count", n, strings.TrimSpace(t.rest[m[0]:end])) {
			first = m[0]
		}
	}
	t.cut(first, end)
	return role, nil
}

// whoopWith is a whoop that is said to take props.
var whoopWith = regexp.MustCompile(`(?i)^ (?:\d{2,3}(?:mm)? )?(?:[a-z]+ )?whoop `)

// countBefore is a bare number before the word of a kind in the plural: 4 motors.
var countBefore = regexp.MustCompile(`(?i) (\d{1,3}|` + numberWordsForm + `)(?: x| of(?: these)?)? $`)

// endsInTimes reports whether a number behind a text would be the last of a size: 5.1 x 4.3 x 3 props.
func endsInTimes(s string) bool {
	return strings.HasSuffix(s, "x") || strings.HasSuffix(s, "X") || strings.HasSuffix(s, "×") || strings.HasSuffix(s, "*")
}

// signs are the kind that the text has signs of, "" if there are none; mixed says that there are those of more than one.
func (t *freeText) signs() (kind inventory.Kind, mixed bool) {
	for _, s := range kindSigns {
		switch {
		case kind == s.kind || !(form{pattern: s.sign}).compiled().MatchString(t.rest):
		case kind != "":
			return "", true
		default:
			kind = s.kind
		}
	}
	return kind, false
}

// inferKind takes the kind from its signs; the error says that there are none, or those of more than one kind.
func (t *freeText) inferKind() error {
	kind, mixed := t.signs()
	if mixed {
		return inventory.Faults{{Problem: strict.Problem{Code: "free.no_kind"}}}
	}
	t.kind = kind
	for _, weak := range weakSigns {
		if t.kind == "" && (form{pattern: weak.sign}).compiled().MatchString(t.rest) {
			t.kind = weak.kind
		}
	}
	if t.kind == "" {
		return inventory.Faults{{Problem: strict.Problem{Code: "free.no_kind"}}}
	}
	return nil
}

// leadingCount is a bare number before everything else.
var leadingCount = regexp.MustCompile(`(?i)^ (\d{1,2}|` + numberWordsForm + `) ([^ ]+) `)

// notCounted follow a number that is no count.
var notCounted = []string{"x", "×", "*", "in", "to", "or", "by", "-", "/", "cw", "ccw", "inch", "blade", "arm"}

// takeLeadingCount takes a number before everything for the count: 4 1404 4600kv. Of frames it can be a size.
func (t *freeText) takeLeadingCount() {
	m := leadingCount.FindStringSubmatchIndex(t.rest)
	if m == nil || t.kind == inventory.KindFrame {
		return
	}
	words, next := submatch(t.rest, m, 1), strings.ToLower(submatch(t.rest, m, 2))
	n := wholeNumber(words)
	if slices.Contains(notCounted, next) || n == "" || n == "0" || strings.EqualFold(words, "one") {
		return
	}
	if t.kind == inventory.KindProp && bareNumber.MatchString(next) && !propDigits.MatchString(next) {
		return // the first of a size
	}
	if t.say("count", n, words) {
		t.cut(m[0], m[1]-len(next)-1)
	}
}

// loneCount is a number that stands between what was understood, with what pilots write around a count.
var loneCount = regexp.MustCompile(`(?i)` + understood + ` (?:[-–,:] )?(\d{1,3})(?: (?:off|left|only|pieces|in all))? (?:` + understood + `|$)`)

// takeLoneCount takes a number by itself for the count, where all that a part needs is known, so that it can hardly be
// anything else, and notes how it was read.
func (t *freeText) takeLoneCount() {
	known := false
	switch t.kind {
	case inventory.KindMotor:
		known = t.valueOf("stator") != "" && t.valueOf("kv") != ""
	case inventory.KindProp:
		size := t.valueOf("size")
		known = t.valueOf("blades") != "" || strings.Count(size, "x") == 2
	case inventory.KindPack:
		known = t.valueOf("cells") != "" && t.valueOf("capacity_mah") != "" && t.valueOf("discharge_c") != "" ||
			t.valueOf("size") != ""
	}
	m := loneCount.FindStringSubmatchIndex(t.rest)
	if m == nil || !known || t.valueOf("count") != "" || t.valueOf("directions") != "" {
		return
	}
	n := wholeNumber(submatch(t.rest, m, 1))
	if n == "0" || len(n) > 2 && t.kind != inventory.KindProp {
		return
	}
	words := strings.Trim(t.rest[m[0]:m[1]], " -–,:"+understood)
	if t.say("count", n, words) {
		end := m[1]
		if strings.HasSuffix(t.rest[:end], understood) {
			end--
		}
		t.cut(m[0]+1, end)
		t.readAs("free.read_count", words)
	}
}

var (
	escWord  = regexp.MustCompile(`(?i) escs?[: ]`)
	fourESCs = regexp.MustCompile(`(?i) (?:4 ?-?in-? ?1|aio|fcs?|flight|stacks?|boards?)[: ]`)
)

// noteSingleESCs says how many boards were read of what may be single ESCs, four of which make one.
func (t *freeText) noteSingleESCs(text string) {
	text = spacedWords(text)
	if n := t.numberOf("count"); t.kind == inventory.KindBoard && n >= 4 && math.Mod(n, 4) == 0 &&
		escWord.MatchString(text) && !fourESCs.MatchString(text) {
		t.readAs("free.read_boards", strings.TrimSpace(escWord.FindString(text)))
	}
}

// kindAgain are words that say once more what a board is.
var kindAgain = regexp.MustCompile(`(?i) (?:4 ?-?in-? ?1|escs?|fcs?|aio|boards?|combo|stack|flight controllers?|\+) `)

// dropKindWords takes such words away.
func (t *freeText) dropKindWords() {
	for t.kind == inventory.KindBoard {
		m := kindAgain.FindStringIndex(t.rest)
		if m == nil {
			return
		}
		t.cut(m[0], m[1])
	}
}

// radioBand is what a receiver's or transmitter's band looks like in short: 2.4g. It can be a mass as well.
var radioBand = regexp.MustCompile(`(?i)( [^ ]+)? ((?:2[.,]4|5[.,]8)g(?:hz)?) `)

// putAsideFrequency keeps the band of a radio from being read as its mass, unless a word says that it is one.
func (t *freeText) putAsideFrequency() {
	switch inventory.Role(t.valueOf("role")) {
	case inventory.Receiver, inventory.Video, inventory.Antenna:
	default:
		return
	}
	m := radioBand.FindStringSubmatchIndex(t.rest)
	if m == nil {
		return
	}
	switch before := strings.Trim(strings.ToLower(submatch(t.rest, m, 1)), " .:="); before {
	case "mass", "weight", "weighs", "wt":
		return
	}
	t.rest = t.rest[:m[5]] + joined + t.rest[m[5]:]
}

// numberWords are the numbers that pilots write as words.
var numberWords = [...]string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
	"twelve"}

const numberWordsForm = `one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve`

// wholeNumber is a whole number from digits or a word, "" if it is none.
func wholeNumber(s string) string {
	for i, word := range numberWords {
		if strings.EqualFold(s, word) {
			return strconv.Itoa(i + 1)
		}
	}
	if n, err := strconv.Atoi(s); err == nil {
		return strconv.Itoa(n)
	}
	return ""
}

// timesPieces multiplies what pilots count in: sets and pairs.
func timesPieces(m []string) []string {
	n := 1
	for _, s := range m {
		if s == "" {
			continue
		}
		k, err := strconv.Atoi(wholeNumber(s))
		if err != nil || k > 1000 {
			return nil
		}
		n *= k
	}
	return []string{strconv.Itoa(n)}
}

// sidesForm are two lengths: none of them is a count.
const sidesForm = `N(?:mm)? ?[x×] ?N(?:mm)`

// eachForm says that a mass is that of one piece.
const eachForm = `each|per piece|per prop|per motor|a piece|apiece|ea|pp`

// massOfOne notes that a mass was read as that of one piece where sets and pairs are counted.
func (t *freeText) massOfOne(text string) {
	i := slices.IndexFunc(t.said, func(s Said) bool { return s.Key == "mass_g" })
	if i < 0 || (form{pattern: eachForm}).compiled().MatchString(gluedUnits(spacedWords(text))) {
		return
	}
	for _, s := range t.said {
		words := strings.ToLower(s.Words)
		if s.Key == "count" && (strings.Contains(words, "set") || strings.Contains(words, "pair")) {
			t.readAs("free.read_mass_of_one", t.said[i].Words)
		}
	}
}

// pairs is timesPieces by two.
func pairs(m []string) []string { return timesPieces(append([]string{"2"}, m...)) }

// countForms are read last, for a number may belong to something else.
var countForms = []form{
	{[]string{"count"}, `(?:(\d{1,2}|` + numberWordsForm + `) )?sets? of (\d{1,2}|` + numberWordsForm + `)`, timesPieces},
	{[]string{"count"}, `(?:(\d{1,2}|` + numberWordsForm + `) )?pairs?(?: of)?`, pairs},
	{[]string{"count"}, `(?:a )?dozen`, word("12")},
	{[]string{"count"}, `(\d{1,3}) ?[-x]?(?:pk|pack)`, first},
	{[]string{"count"}, `(?:count|qty|quantity)[:=]? ?(` + numberWordsForm + `)`,
		func(m []string) []string { return []string{wholeNumber(m[0])} }},
}

// countWord is a number as a word that stands for itself: before everything, or before what was understood.
var countWord = regexp.MustCompile(`(?i)(?:^ (` + numberWordsForm + `)| (` + numberWordsForm +
	`)(?: of(?: them| these)?)? (?:` + understood + `|$))`)

// takeCountWord takes a number as a word for the count, but not that of something else, as in ten flights.
func (t *freeText) takeCountWord() {
	m := countWord.FindStringSubmatchIndex(t.rest)
	if m == nil {
		return
	}
	words := submatch(t.rest, m, 1) + submatch(t.rest, m, 2)
	if !strings.EqualFold(words, "one") && t.say("count", wholeNumber(words), words) {
		t.cut(m[0], m[1])
	}
}
