package edit

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// name makes an id from what the part is, in the manner of m1404-3900, unless it was given.
func (d *Described) name(taken []string) {
	if s := d.value("id"); s != "" {
		d.ID = s
		return
	}
	var id string
	switch d.Kind {
	case inventory.KindMotor:
		id = "m" + d.value("stator") + "-" + d.value("kv")
	case inventory.KindProp:
		id = "p" + d.value("size")
		if d.value("size") == "" {
			id = "p" + d.value("diameter_in") + "x" + d.value("pitch_in") + "x" + d.value("blades")
		} else if blades := d.value("blades"); blades != "" && !strings.ContainsAny(d.value("size"), "xX×*") {
			id += "-" + blades
		}
	case inventory.KindPack:
		id = "k" + strings.ToLower(d.value("size"))
		if fields := strings.Fields(id); len(fields) == 3 {
			id = fields[0] + "-" + fields[1]
		} else if d.value("size") == "" {
			id = "k" + d.value("cells") + "s-" + d.value("capacity_mah")
		}
	case inventory.KindFrame:
		id = "f" + d.value("max_prop_in")
		if d.value("max_prop_in") == "" {
			id = "f" + d.frameMm() + "mm"
		}
	case inventory.KindBoard:
		id = "b" + d.value("esc_current_a")
	default:
		id = "x-" + d.value("role")
	}
	id = notInIDs.ReplaceAllString(id, "-")
	id = strings.ReplaceAll(id, "--", "-")
	id = strings.Trim(id[:min(len(id), strict.MaxID-4)], "-")
	d.ID = id
	for n := 2; slices.Contains(taken, d.ID); n++ {
		d.ID = fmt.Sprintf("%s-%d", id, n)
	}
	d.Understood = append(d.Understood, Said{"id", strict.Scalar(d.ID), ""})
}

// frameMm is the size in mm that a frame goes by: the distance of opposite motors where that was said.
func (d *Described) frameMm() string {
	for _, r := range d.Readings {
		if words, ok := r.Values["words"].(string); ok && (r.Code == "free.read_whoop" || r.Code == "free.read_wheelbase") {
			if m := firstNumber.FindString(words); m != "" {
				return m
			}
		}
	}
	return d.value("motor_spacing_mm")
}

var firstNumber = regexp.MustCompile(`\d+(?:\.\d+)?`)

var notInIDs = regexp.MustCompile(`[^A-Za-z0-9._-]+`)

// value is what a key was given, without quotes; "" if it was not.
func (d *Described) value(key string) string {
	for _, s := range d.Understood {
		if s.Key == key {
			return strings.Trim(s.Value, `"`)
		}
	}
	return ""
}

// sort brings what was understood into the order of the drawer's keys.
func (d *Described) sort() {
	keys := keysOf(d.Kind)
	slices.SortStableFunc(d.Understood, func(a, b Said) int {
		return slices.Index(keys, a.Key) - slices.Index(keys,
			b.Key)
	})
}

// Lines are the part as an entry of its list, without indentation: the first begins with a dash.
func (d *Described) Lines() []string {
	lines := make([]string, len(d.Understood))
	for i, s := range d.Understood {
		lines[i] = "  " + s.Key + ": " + s.Value
	}
	if len(lines) > 0 {
		lines[0] = "- " + lines[0][2:]
	}
	return lines
}

// check reads the part as a drawer's reader does, but for the ids of other parts.
func (d *Described) check() error {
	text := d.Kind.Section() + ":\n  " + strings.Join(d.Lines(), "\n  ") + "\n"
	_, err := inventory.ReadOffer("description", strings.NewReader(text))
	var faults inventory.Faults
	if !errors.As(err, &faults) {
		return err
	}
	prefix := d.Kind.Section() + "[0]"
	var list inventory.Faults
	for _, f := range faults {
		f = inventory.Fault{Path: strings.TrimPrefix(strings.TrimPrefix(f.Path, prefix), "."), Problem: f.Problem}
		if way, ok := ways[f.Path]; ok && f.Code == "missing" {
			f.Problem = strict.Problem{Code: "free.missing", Way: way}
		}
		list = append(list, f)
	}
	for _, words := range d.Unclear {
		list = append(list, inventory.Fault{Problem: d.Unknown(words)})
	}
	return list
}

var bareNumber = regexp.MustCompile(`^[0-9.,]+$`)

// Unknown is the problem of words that were not understood, with how they might be meant, if that is known.
func (d *Described) Unknown(words string) strict.Problem {
	p := strict.Problem{Code: "free.not_understood", Values: strict.Values{"words": words}}
	word := strings.ToLower(words)
	switch {
	case asideWay(d.Kind, words) != "":
		p.Way = asideWay(d.Kind, words)
	case d.Kind == inventory.KindFrame && loneSquare.MatchString(" "+word+" "):
		p.Way = "free.square"
	case d.Kind == inventory.KindProp && propInMm.MatchString(word):
		if size := inventory.PropSizeProblem(word); size != nil && size.Way == "prop_size.if_mm" {
			p.Way, p.Values["got"], p.Values["rest"] = size.Way, size.Values["got"], size.Values["rest"]
		}
	case d.Kind == inventory.KindProp && propDigits.MatchString(word):
		if size := inventory.PropSizeProblem(word); size != nil && size.Values["as"] != nil {
			p.Way, p.Values["as"] = size.Way, size.Values["as"]
		}
	case thousandsComma.MatchString(word):
		m := thousandsComma.FindStringSubmatch(word)
		p.Way, p.Values["whole"], p.Values["point"] = "free.comma", m[1]+m[2]+m[3], m[1]+"."+m[2]+m[3]
	case bareNumber.MatchString(word):
		p.Way = "free.no_unit"
	case d.Kind == inventory.KindPack && voltage.MatchString(word) && d.value("cells")+d.value("size") == "" &&
		nominalOfOthers(word):
		p.Way = "free.cells_full"
	case d.Kind == inventory.KindPack && voltage.MatchString(word):
		p.Way = "free.cells_such"
		if meant := inventory.PackSizeMeant(word + " 1000mah 10c"); meant != "" {
			cells, _, _ := strings.Cut(meant, " ")
			p.Way, p.Values["cells"] = "free.cells", cells
		}
	case radioBand.MatchString(" "+word+" ") && d.value("mass_g") == "":
		p.Way, p.Values["as"] = "free.band", word
	case strings.HasSuffix(word, "mw"):
		p.Way = "free.radio"
	case d.value("role") == string(inventory.Video) && wattsWord.MatchString(word):
		p.Way = "free.radio_or_draw"
	default:
		for _, m := range keyword.FindAllStringSubmatch(word, -1) {
			if key := strict.Meant(d.Kind.Empty(), m[1]); key != "" && key != m[1] {
				p.Way, p.Values["written"], p.Values["near"] = "free.key", m[1], key
				break
			}
		}
	}
	return p
}

// nominalOfOthers reports whether volts may be those of a full pack or the nominal ones of more cells.
func nominalOfOthers(word string) bool {
	volts := mustNumber(decimal(strings.TrimRight(strings.ToLower(word), " volts"), 1))
	cells := math.Round(volts / liionCellV)
	return math.Abs(volts-cells*liionCellV) < 0.051 && fullOfOthers(volts, cells)
}

var (
	wattsWord  = regexp.MustCompile(`^[\d.,]+w$`)
	propDigits = regexp.MustCompile(`^(?:[a-z] ?)?\d{4}(?: ?[x×*/-]? ?\d)?$`)
	propInMm   = regexp.MustCompile(`^\d{2,3}(?:\.\d)?[x×*][\d.]+[x×*]\d$`)
	voltage    = regexp.MustCompile(`^\d{1,2}(?:[.,]\d{1,2})? ?v(?:olts?)?$`)
	keyword    = regexp.MustCompile(`([a-z_]+) ?=`)
)

var thousandsComma = regexp.MustCompile(`^([1-9]\d{0,2}),(\d{3})([a-z]*)$`)

// ways are how a key that must be given is written in free text.
var ways = map[string]strict.Code{
	"stator": "free.stator", "kv": "free.kv", "mass_g": "free.mass", "esc_current_a": "free.amps", "cells": "free.range", "role": "free.role",
}

var fillers = []string{"a", "an", "the", "of", "and", "with", "each", "ea", "piece", "per", "set", "my", "one", "at",
	"for", "&",
	"+", "-", "–", "—", "/", "|", "in", "is", "to", "about", "approx", "from", "w/",
	"this", "these", "them", "some", "have", "i", "weight", "mass", "size"}

func (t *freeText) unclear() []string {
	var words []string
	for _, run := range strings.Split(t.rest, understood) {
		kept := strings.FieldsFunc(run, func(r rune) bool { return r == ' ' })
		for len(kept) > 0 && slices.Contains(fillers, strings.ToLower(kept[0])) {
			kept = kept[1:]
		}
		for len(kept) > 0 && slices.Contains(fillers, strings.ToLower(kept[len(kept)-1])) {
			kept = kept[:len(kept)-1]
		}
		if len(kept) > 0 {
			words = append(words, strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(kept, " "), joined, " ")), " "))
		}
	}
	return words
}
