package inventory

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

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
	case KindMotor:
		id = "m" + d.value("stator") + "-" + d.value("kv")
	case KindProp:
		id = "p" + d.value("size")
		if d.value("size") == "" {
			id = "p" + d.value("diameter_in") + "x" + d.value("pitch_in") + "x" + d.value("blades")
		}
	case KindPack:
		id = "k" + strings.ToLower(d.value("size"))
		if fields := strings.Fields(id); len(fields) == 3 {
			id = fields[0] + "-" + fields[1]
		}
	case KindFrame:
		id = "f" + d.value("max_prop_in")
		if d.value("max_prop_in") == "" {
			id = "f" + d.value("motor_spacing_mm") + "mm"
		}
	case KindBoard:
		id = "b" + d.value("esc_current_a")
	default:
		id = "x-" + d.value("role")
	}
	id = notInIDs.ReplaceAllString(id, "-")
	id = strings.Trim(id[:min(len(id), strict.MaxID-4)], "-")
	d.ID = id
	for n := 2; slices.Contains(taken, d.ID); n++ {
		d.ID = fmt.Sprintf("%s-%d", id, n)
	}
	d.Understood = append(d.Understood, Said{"id", strict.Scalar(d.ID), ""})
}

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
	slices.SortStableFunc(d.Understood, func(a, b Said) int { return slices.Index(keys, a.Key) - slices.Index(keys, b.Key) })
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
	_, err := ReadOffer("description", strings.NewReader(text))
	var faults Faults
	if !errors.As(err, &faults) {
		return err
	}
	prefix := d.Kind.Section() + "[0]"
	var errs []error
	for _, f := range faults {
		path := strings.TrimPrefix(strings.TrimPrefix(f.Path, prefix), ".")
		message := f.Message
		if way, ok := ways[path]; ok && strings.HasPrefix(message, "is missing") {
			message = "is missing: " + way
		}
		if path != "" {
			message = path + ": " + message
		}
		errs = append(errs, errors.New(message))
	}
	for _, words := range d.Unclear {
		errs = append(errs, fmt.Errorf("not understood: %s%s", words, d.Hint(words)))
	}
	return errors.Join(errs...)
}

var bareNumber = regexp.MustCompile(`^[0-9.,]+$`)

// Hint says how words that were not understood might be meant, "" if it cannot.
func (d *Described) Hint(words string) string {
	word := strings.ToLower(words)
	switch {
	case d.Kind == KindProp && code.MatchString(word):
		_, err := parsePropSize(word)
		if _, way, ok := strings.Cut(fmt.Sprint(err), "; "); ok {
			return " (" + way + ")"
		}
	case thousandsComma.MatchString(word):
		m := thousandsComma.FindStringSubmatch(word)
		return fmt.Sprintf(" (write %s%s%s or %s.%s%s)", m[1], m[2], m[3], m[1], m[2], m[3])
	case bareNumber.MatchString(word):
		return " (a number without a unit)"
	case d.Kind == KindPack && voltage.MatchString(word):
		if way := packSizeHelp(word + " 1000mah 10c"); way != packSizeForm {
			cells, _, _ := strings.Cut(strings.TrimPrefix(way, "write "), " ")
			return fmt.Sprintf(" (write its cells, %s)", cells)
		}
		return " (write its cells, such as 4S)"
	case strings.HasSuffix(word, "mw"):
		return " (radio power is not what it takes: write that in W)"
	}
	var near []string
	for _, m := range keyword.FindAllStringSubmatch(word, -1) {
		if key := strict.Meant(zeroPart(d.Kind), m[1]); key != "" && key != m[1] {
			near = append(near, fmt.Sprintf("for %s write %s=", m[1], key))
		}
	}
	if near != nil {
		return fmt.Sprintf(" (%s)", strings.Join(near, ", "))
	}
	return ""
}

var (
	voltage = regexp.MustCompile(`^\d{1,2}(?:[.,]\d{1,2})? ?v(?:olts?)?$`)
	keyword = regexp.MustCompile(`([a-z_]+) ?=`)
)

var thousandsComma = regexp.MustCompile(`^([1-9]\d{0,2}),(\d{3})([a-z]*)$`)

// ways say how a key that must be given is written in free text.
var ways = map[string]string{
	"stator":        "write width and height of the stator, such as 1404",
	"kv":            "write it with its unit, such as 3900kv",
	"mass_g":        "write it with its unit, such as 9.3g",
	"esc_current_a": "write it with its unit, such as 20A",
	"cells":         "write the range, such as 2-4S",
	"role":          "write camera, video, receiver, antenna, capacitor, adapter, strap or hardware",
}

var fillers = []string{"a", "an", "the", "of", "and", "with", "each", "piece", "set", "my", "one", "at", "for", "&", "+", "-", "/", "|", "in", "is", "to"}

func (t *freeText) unclear() []string {
	var words []string
	for _, run := range strings.Split(t.rest, understood) {
		kept := strings.Fields(run)
		for len(kept) > 0 && slices.Contains(fillers, strings.ToLower(kept[0])) {
			kept = kept[1:]
		}
		for len(kept) > 0 && slices.Contains(fillers, strings.ToLower(kept[len(kept)-1])) {
			kept = kept[:len(kept)-1]
		}
		if len(kept) > 0 {
			words = append(words, strings.Join(kept, " "))
		}
	}
	return words
}
