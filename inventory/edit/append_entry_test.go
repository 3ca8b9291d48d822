package edit

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// shelf is a drawer with one craft's parts, in which a log can be begun.
const shelf = `motors: [{id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}]   # four of them
props: [{id: p, size: 3.5x2.2x3, mass_g: 1.2}]
packs: [{id: k, size: 4S 650 95C, mass_g: 76}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}]
`

const partsOf = "- parts: {motor: m, prop: p, pack: k, frame: f, board: b}"

func logOf(t *testing.T, text []byte) []inventory.LogEntry {
	t.Helper()
	d, err := inventory.Read("shelf.yaml", bytes.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return d.Log
}

// Property: an entry stands last in the log whatever the log looked like before, with what was written, and every line
// that was there stays as it was and in its order.
func TestAppendEntry(t *testing.T) {
	entry := []string{partsOf, "  flight_minutes: 5:30", "  flown: cruise", "  used_mah: 480"}
	for name, log := range map[string]string{
		"none": "", "empty": "log:\n", "empty in a line": "log: []\n", "a remark": "log:   # 2026\n  # cold\n",
		"one": "log:\n  " + partsOf + "\n    all_up_g: 178\n", "not indented": "log:\n" + partsOf + "\n  all_up_g: 178\n# the end\n",
		"no line end":     "log:\n  " + partsOf + "\n    all_up_g: 178",
		"windows":         "log:\r\n  " + partsOf + "\r\n    all_up_g: 178\r\n",
		"before the rest": "log:\n  " + partsOf + "\n    all_up_g: 178\nfleet: []\n",
	} {
		before := shelf + log
		was := len(logOf(t, []byte(before)))
		after, mended, err := AppendEntry("shelf.yaml", []byte(before), entry)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		list := logOf(t, after)
		if len(list) != was+1 || *list[was].FlightMinutes != 5.5 || list[was].Flown != "cruise" || *list[was].UsedMAh != 480 ||
			len(mended) != 1 {
			t.Errorf("%s: %d entries, mended %v\n%s", name, len(list), mended, after)
		}
		rest := string(after)
		for line := range strings.Lines(before) {
			line = strings.TrimRight(line, "\r\n")
			if line == "log: []" {
				continue // what was empty in a line is opened
			}
			_, found, ok := strings.Cut(rest, line)
			if !ok {
				t.Errorf("%s: %q is gone or moved\n%s", name, line, after)
			}
			rest = found
		}
	}
}

// Property: an entry that is none, or goes into a drawer with faults, is refused, and no text comes
// back.
func TestAppendEntryRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		lines []string
	}{
		"no parts":    {shelf, []string{"- all_up_g: 178"}},
		"another key": {shelf, []string{partsOf, "  height_m: 3"}},
		"a value":     {shelf, []string{partsOf, "  all_up_g: heavy"}},
		"two entries": {shelf, []string{partsOf, "  all_up_g: 178", partsOf, "  all_up_g: 178"}},
		"a list more": {shelf, []string{partsOf, "  all_up_g: 178", "packs: []"}},
		"a fault":     {shelf + "colour: red\n", []string{partsOf, "  all_up_g: 178"}},
		"a log in a line": {shelf + "log: [{parts: {motor: m, prop: p, pack: k, frame: f, board: b}, all_up_g: 178}]\n",
			[]string{partsOf, "  all_up_g: heavy"}},
	} {
		text, _, err := AppendEntry("shelf.yaml", []byte(c.text), c.lines)
		var faults inventory.Faults
		var problem *strict.Problem
		if err == nil || text != nil || !errors.As(err, &faults) && !errors.As(err, &problem) {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
	}
}

// Property: whatever is written as an entry, and whatever stands behind the drawer, either one entry more is read from
// the new text and all else is as it was, or nothing comes back but faults.
func FuzzAppendEntry(f *testing.F) {
	f.Add("log:\n", "  flight_minutes: 5:30\n  flown: cruise\n  used_mah: 480")
	f.Add("log: []\n", "  all_up_g: 6.3oz\n  hover_rpm: 13.2k\n  within: {hover_rpm: 30}")
	f.Add("log:\n- parts: {motor: m, prop: p, pack: k, frame: f, board: b}\n  all_up_g: 1\n...\n", "  note: |\n    a\n  b")
	f.Add("fleet: []\n---\nlog:\n", "  note: \"\\\n  \"")
	f.Fuzz(func(t *testing.T, log, entry string) {
		before := []byte(shelf + log)
		after, _, err := AppendEntry("shelf.yaml", before, append([]string{partsOf}, strings.Split(entry, "\n")...))
		if err != nil {
			var faults inventory.Faults
			var problem *strict.Problem
			if after != nil || !errors.As(err, &faults) && !errors.As(err, &problem) {
				t.Fatalf("%v\n%s", err, after)
			}
			return
		}
		was, is := logOf(t, before), logOf(t, after)
		if len(is) != len(was)+1 || is[len(was)].Parts.Motor != "m" {
			t.Fatalf("%d entries, then %d\n%s", len(was), len(is), after)
		}
	})
}
