package readings

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// shelf is a drawer with two crafts that fly.
const shelf = `# the shelf
motors: [{id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}]
props: [{id: p, size: 3.5x2.2x3, mass_g: 1.2}]
packs:
  - {id: k, size: 4S 650 95C, mass_g: 76}   # the good one
  - {id: l, size: 3S 650 95C, mass_g: 60}
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}]
fleet:
  - name: grey gull
    parts: {motor: m, prop: p, pack: k, frame: f, board: b}
  - name: tern
    parts: {motor: m, prop: p, pack: l, frame: f, board: b}
log:
  # cold
  - {date: 2026-01-02, parts: {motor: m, prop: p, pack: l, frame: f, board: b}, flight_minutes: 6, flown: cruise, used_mah: 480}
# the end
`

func record(craft string, pairs ...string) *Record {
	r := &Record{Name: "shelf.yaml", Text: []byte(shelf), Craft: craft, Way: "freestyle", Ways: learn.Ways{}}
	for _, name := range objective.PresetNames() {
		style, _ := objective.Preset(name)
		r.Ways[name] = style.Flying
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		r.Readings = append(r.Readings, Reading{pairs[i], pairs[i+1]})
	}
	return r
}

// Property: values as typed, with their units, stand in the log in the key's; every other line stays.
func TestRecordReadsUnits(t *testing.T) {
	r := record("gull", "date", "2026-05-01", "all_up_g", "6.3oz", "hover_throttle_pct", "31%", "hover_rpm", "13.2k",
		"flight_minutes", "5:20", "used_mah", "520mAh", "end_pack_v", "14.1V")
	d, text, err := r.Answer(t.Context(), answer.Head{})
	if err != nil {
		t.Fatal(err)
	}
	after, err := inventory.Read("shelf.yaml", strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	e := after.Log[1]
	if len(after.Log) != 2 || d.Entry != 2 || e.Date != "2026-05-01" || *e.AllUpG < 178.5 || *e.AllUpG > 178.7 ||
		*e.HoverThrottlePct != 31 || *e.HoverRPM != 13200 || *e.FlightMinutes != 5.333 || *e.UsedMAh != 520 ||
		*e.EndPackV != 14.1 || e.Parts.Pack != "k" || e.Flown != "freestyle" || d.Craft != "grey gull" {
		t.Errorf("entry %+v\n%s", e, text)
	}
	lines := strings.Split(string(text), "\n")
	for _, line := range strings.Split(shelf, "\n") {
		if !slices.Contains(lines, line) {
			t.Errorf("%q is gone:\n%s", line, text)
		}
	}
	for _, one := range d.Readings {
		if one.Key == "flight_minutes" && (one.Value != "5.333" || one.Typed != "5:20") {
			t.Errorf("%+v", one)
		}
	}
}

// Property: a flight goes on as the craft was flown last, unless it says how.
func TestRecordFlownAsBefore(t *testing.T) {
	for _, c := range []struct{ craft, said, want string }{{"tern", "", "cruise"}, {"tern", "race", "race"},
		{"1", "", "cruise"}, {"grey gull", "", "freestyle"}} {
		r := record(c.craft, "flight_minutes", "5", "used_mah", "450")
		if c.said != "" {
			r.Readings = append(r.Readings, Reading{"flown", c.said})
		}
		_, text, err := r.Answer(t.Context(), answer.Head{})
		if err != nil {
			t.Fatal(err)
		}
		d, err := inventory.Read("shelf.yaml", strings.NewReader(string(text)))
		if err != nil || d.Log[1].Flown != c.want {
			t.Errorf("%+v: flown %q, %v", c, d.Log[1].Flown, err)
		}
	}
}

// Property: a craft that is not there, an entry that no craft reads, and a drawer with faults are refused by code, and
// no text comes back.
func TestRecordRefuses(t *testing.T) {
	for _, c := range []struct {
		r    *Record
		want strict.Code
	}{
		{record("albatross", "all_up_g", "180"), "record.no_craft"}, {record("", "all_up_g", "180"), "record.which"},
		{record("7", "all_up_g", "180"), "record.no_entry"}, {record("r", "all_up_g", "180"), "record.two"},
		{record("tern", "all_up_g", "much"), "number.plain"}, {record("tern", "hover_pack_v", "3.7", "all_up_g", "100"),
			"learn.pack_volts"}, {record("tern", "used_mah", "450"), "flight.no_minutes"},
		{record("tern", "flight_minutes", "5", "flown", "sideways"), "learn.flown"},
	} {
		_, text, err := c.r.Answer(t.Context(), answer.Head{})
		var list inventory.Faults
		var problem *strict.Problem
		got := strict.Code("")
		switch {
		case errors.As(err, &list):
			got = list[0].Code
			if list[0].Line != 0 {
				t.Errorf("%s has a place in a text that nobody wrote", got)
			}
		case errors.As(err, &problem):
			got = problem.Code
		}
		if got != c.want || text != nil {
			t.Errorf("%+v: %v (%s), want %s", c.r.Readings, err, got, c.want)
		}
	}
	r := record("tern", "all_up_g", "100")
	r.Text = append(r.Text, "props: 7\n"...)
	if _, _, err := r.Answer(t.Context(), answer.Head{}); err == nil {
		t.Error("a drawer with faults was written to")
	}
}

// Property: the weight is asked first of a craft that was never weighed, then what narrows most; each question leaves
// less of the doubt than the one before, and what was read is not what is asked for its companions twice.
func TestQuestionsNarrow(t *testing.T) {
	d, text, err := record("gull").Answer(t.Context(), answer.Head{})
	if err != nil || text != nil {
		t.Fatal(err)
	}
	if len(d.Questions) < 3 || d.Questions[0].Key != "all_up_g" {
		t.Fatalf("%+v", d.Questions)
	}
	seen := map[string]bool{}
	left := 101.0
	for _, q := range d.Questions {
		for _, one := range append([]Question{q}, q.With...) {
			if seen[one.Key] || one.Text == "" {
				t.Errorf("%s is asked twice or without words", one.Key)
			}
			seen[one.Key] = true
		}
		if q.LeftPct >= left {
			t.Errorf("%s leaves %.1f %%, the one before %.1f", q.Key, q.LeftPct, left)
		}
		left = q.LeftPct
	}
	if left > 60 {
		t.Errorf("all questions leave %.0f %% of the doubt", left)
	}
	for _, key := range Recordable() {
		if text, _ := catalogue.AskFor(key); text == "" {
			t.Errorf("%s has no question", key)
		}
	}
}

// Property: a slip of the unit is said, and recorded all the same.
func TestRecordChecks(t *testing.T) {
	d, text, err := record("gull", "all_up_g", "18").Answer(t.Context(), answer.Head{})
	if err != nil || text == nil || len(d.Checks) == 0 {
		t.Errorf("%+v %v", d.Checks, err)
	}
	if d, _, err = record("gull", "all_up_g", "178").Answer(t.Context(), answer.Head{}); err != nil || len(d.Checks) > 0 {
		t.Errorf("%+v %v", d.Checks, err)
	}
}
