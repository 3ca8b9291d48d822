package edit

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Described is a part read from free text, such as "motor 1404 3900kv 9.3g x4".
type Described struct {
	Kind inventory.Kind
	ID   string
	// Understood says what was read of which words, in the order of the drawer's keys.
	Understood []Said
	// Unclear are the words that mean nothing here; they are kept in the part's note.
	Unclear []string
	// Readings say how words were read whose meaning is the trade's habit and not their own.
	Readings []strict.Problem
}

// Said is a key with its value, as the drawer writes it, and the words that it was read from; no
// words if it was made up, as an id is.
type Said struct{ Key, Value, Words string }

// keysOf are the keys of a kind of part in their order.
func keysOf(kind inventory.Kind) []string { return strict.KeysOf(kind.Empty()) }

// longestText bounds a description.
const longestText = 1000

// Describe reads a part from free text, for a drawer: its id becomes one that the drawer has not yet.
// The error is a Faults of what is missing or cannot be; words that mean nothing are no error.
func Describe(text string, drawer *inventory.Drawer) (*Described, error) {
	return describe(text, heading{}, drawer, drawer.IDs)
}

// describe is Describe for a part below a heading, whose id must not be among those taken of its kind.
func describe(text string, under heading, drawer *inventory.Drawer, taken func(inventory.Kind) []string) (*Described,
	error) {
	if len(text) > longestText {
		return nil, inventory.Faults{{Problem: strict.Problem{Code: "free.long",
			Values: strict.Values{"most": strict.Number(longestText)}}}}
	}
	t := &freeText{rest: spacedWords(text), under: under}
	t.takeWritten()
	t.rest = plusBetween.ReplaceAllString(gluedUnits(t.rest), "$1 + $2")
	role, err := t.takeKind()
	if err != nil {
		return nil, err
	}
	t.takeKeys()
	t.rest = colonBefore.ReplaceAllString(t.rest, " $1 $2")
	t.takeLeadingCount()
	if role != "" {
		t.say("role", string(role), string(role))
	}
	t.putAside()
	t.putAsideFrequency()
	t.takeCellFormat()
	t.takeMassAndMass()
	t.takeLargestProp()
	t.apply(formsOf(t.kind, t.valueOf("role")))
	t.takePower()
	t.takePropCode()
	t.applyHabits()
	t.putAsideForm(sidesForm)
	t.apply(commonForms)
	t.takeRoundCells()
	t.takeVolts()
	t.takeLoneSquare()
	t.apply(countForms)
	t.takeCountWord()
	t.takeLoneCount()
	t.massOfOne(text)
	t.noteSingleESCs(text)
	t.takePlug()
	t.takeHosts(drawer)
	t.dropKindWords()
	t.join()
	if t.controllerAlone(text) {
		return nil, inventory.Faults{{Problem: strict.Problem{Code: "free.no_escs"}}}
	}
	d := &Described{Kind: t.kind, Understood: t.said, Unclear: t.unclear(), Readings: t.readings}
	d.keepUnclear()
	d.name(taken(t.kind))
	d.sort()
	return d, d.check()
}

// say notes a key once; it says whether the key was free.
func (t *freeText) say(key, value, words string) bool {
	if slices.ContainsFunc(t.said, func(s Said) bool { return s.Key == key }) {
		return false
	}
	t.said = append(t.said, Said{key, value, words})
	return true
}

// cut takes the part of the rest between two places out, spaces left around it.
func (t *freeText) cut(from, to int) {
	t.rest = strings.Join(strings.Fields(t.rest[:from]+" "+understood+" "+t.rest[to:]), " ")
	t.rest = " " + t.rest + " "
}

var (
	written = regexp.MustCompile(`(?i) note[ :=]+(?:"([^"]*)"|(.*)) `)
	named   = regexp.MustCompile(`(?i) (?:id|called|named)[ :=]+"?([^\s"]+)"? `)
	// colonBefore is a word with a colon before a number, as lists have it.
	colonBefore = regexp.MustCompile(`(?i) ([a-z]+): ?(\d)`)
	// plusBetween are two things in one: vtx+cam.
	plusBetween = regexp.MustCompile(`(?i)([a-z]{2})[+&]([a-z]{2})`)
	hosts       = regexp.MustCompile(`(?i) (?:goes )?with ([\w.-]+(?: ?\+ ?[\w.-]+)*) `)
)

// takeWritten takes what a pilot names in words of his own: note and id.
func (t *freeText) takeWritten() {
	for _, form := range []struct {
		key     string
		pattern *regexp.Regexp
	}{{"note", written}, {"id", named}} {
		if m := form.pattern.FindStringSubmatchIndex(t.rest); m != nil {
			value := submatch(t.rest, m, 1) + submatch(t.rest, m, 2)
			if value = strings.TrimSpace(value); value != "" {
				t.say(form.key, strict.Scalar(value), strings.TrimSpace(t.rest[m[0]:m[1]]))
				t.cut(m[0], m[1])
			}
		}
	}
}

func submatch(s string, m []int, i int) string {
	if 2*i+1 >= len(m) || m[2*i] < 0 {
		return ""
	}
	return s[m[2*i]:m[2*i+1]]
}

// takeKeys takes what is written as in the drawer: shaft_mm=1.5.
func (t *freeText) takeKeys() {
	keys := keysOf(t.kind)
	slices.SortFunc(keys, func(a, b string) int { return cmp.Compare(len(b), len(a)) })
	pattern := regexp.MustCompile(` (` + strings.Join(keys, "|") + `)(?:=|: ?)(\[[^\]]*\]|\{[^}]*\}|"[^"]*"|\S+) `)
	for {
		m := pattern.FindStringSubmatchIndex(t.rest)
		if m == nil || !t.say(submatch(t.rest, m, 1), submatch(t.rest, m, 2), strings.TrimSpace(t.rest[m[0]:m[1]])) {
			return
		}
		t.cut(m[0], m[1])
	}
}

// apply tries the forms in their order, each until it finds nothing more.
func (t *freeText) apply(forms []form) {
	for _, f := range forms {
		t.applyForm(f, "")
	}
}

// applyForm tries a form until it finds nothing more; reading is noted with what was found, unless it is "".
func (t *freeText) applyForm(f form, reading strict.Code) {
	pattern := f.compiled()
	for start := 0; ; {
		m := pattern.FindStringSubmatchIndex(t.rest[start:])
		if m == nil {
			return
		}
		for i := range m {
			if m[i] >= 0 {
				m[i] += start
			}
		}
		groups := make([]string, len(m)/2)
		for i := range groups {
			groups[i] = submatch(t.rest, m, i)
		}
		if !t.accept(f, groups) {
			start = m[0] + 1 // the words within may be read in another way
			continue
		}
		t.cut(m[0], m[1])
		if start = 0; reading != "" {
			t.readAs(reading, strings.Trim(groups[0], " "+understood))
		}
	}
}

// accept notes what a form reads, all of it or nothing.
func (t *freeText) accept(f form, groups []string) bool {
	values := f.read(groups[1:])
	if values == nil {
		return false
	}
	for i, key := range f.keys {
		if i < len(values) && values[i] != "" && slices.ContainsFunc(t.said, func(s Said) bool { return s.Key == key }) {
			return false
		}
	}
	for i, key := range f.keys {
		if i < len(values) && values[i] != "" {
			t.say(key, values[i], strings.TrimSpace(groups[0]))
		}
	}
	return true
}

// takePlug takes one or two words that name a known type of plug.
func (t *freeText) takePlug() {
	if t.kind != inventory.KindPack && t.kind != inventory.KindBoard && t.kind != inventory.KindExtra {
		return
	}
	words := strings.Fields(t.rest)
	for _, n := range []int{3, 2, 1} {
		for i := 0; i+n <= len(words); i++ {
			name := strings.Join(words[i:i+n], " ")
			plug := inventory.NamePlug(name)
			if strings.Contains(name, understood) || !plug.Known() || !t.say("connector", strict.Scalar(string(plug)), name) {
				continue
			}
			from := strings.Index(t.rest, " "+name+" ")
			t.cut(from, from+len(name)+2)
			return
		}
	}
}

// takeHosts takes the ids of frames or boards that an extra goes with.
func (t *freeText) takeHosts(d *inventory.Drawer) {
	m := hosts.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindExtra || m == nil {
		return
	}
	ids := strings.FieldsFunc(submatch(t.rest, m, 1), func(r rune) bool { return r == '+' || r == ' ' })
	for _, id := range ids {
		if d.Frame(id) == nil && d.Board(id) == nil {
			return
		}
	}
	if t.say("with", "["+strings.Join(ids, ", ")+"]", strings.TrimSpace(t.rest[m[0]:m[1]])) {
		t.cut(m[0], m[1])
	}
}

// join writes cells, mAh and C of a pack in one key, as a label does.
func (t *freeText) join() {
	at := func(key string) int { return slices.IndexFunc(t.said, func(s Said) bool { return s.Key == key }) }
	cells, capacity, rating := at("cells"), at("capacity_mah"), at("discharge_c")
	if t.kind != inventory.KindPack || cells < 0 || capacity < 0 || rating < 0 || at("size") >= 0 {
		return
	}
	joined := Said{"size", fmt.Sprintf("%sS %s %sC", t.said[cells].Value, t.said[capacity].Value, t.said[rating].Value),
		""}
	for _, i := range []int{cells, capacity, rating} {
		if words := t.said[i].Words; !strings.Contains(joined.Words, words) {
			joined.Words = strings.TrimSpace(joined.Words + " " + words)
		}
	}
	if inventory.PackSizeProblem(joined.Value) != nil {
		return
	}
	t.said = slices.DeleteFunc(t.said, func(s Said) bool {
		return s.Key == "cells" || s.Key == "capacity_mah" ||
			s.Key == "discharge_c"
	})
	t.said = append(t.said, joined)
}

// keepUnclear puts what was not understood into the note, so that nothing is lost.
func (d *Described) keepUnclear() {
	if d.Unclear == nil {
		return
	}
	rest := strings.Join(d.Unclear, ", ")
	i := slices.IndexFunc(d.Understood, func(s Said) bool { return s.Key == "note" })
	if i < 0 {
		d.Understood = append(d.Understood, Said{"note", strict.Scalar(rest), ""})
		return
	}
	note := d.Understood[i].Value
	if s, err := strconv.Unquote(note); err == nil {
		note = s
	}
	d.Understood[i].Value = strict.Scalar(note + "; " + rest)
}
