package faults

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// Regression: what is wrong with weights and limits is said in words, each with what was written and a way out, and no
// placeholder is left without its value.
func TestStyleFaultSentences(t *testing.T) {
	open := regexp.MustCompile(`\{[a-z_]+\}`)
	said := func(err error, want string) {
		t.Helper()
		if err == nil {
			t.Errorf("no error; want %s", want)
			return
		}
		if got := Error(err); !strings.Contains(got, want) || open.MatchString(got) {
			t.Errorf("got %s\nwant %s", got, want)
		}
	}
	for text, want := range map[string]string{
		"grip=0": "all weights are 0, so every craft would score the same: give at least one axis a weight, such " +
			"as grip=1 (axes: grip, endurance, smoothness, top_speed)",
		"grip=-1":         `weight of grip must be a number from 0 to 1000000, got "-1"`,
		"speed=1":         `"speed" is not an axis: the axes are grip, endurance, smoothness, top_speed`,
		"grip":            `"grip" is not a valid weight: write AXIS=NUMBER, such as grip=4,endurance=1`,
		"grip=1,grip=2":   "grip is given twice; keep one",
		"grip=x,speed=1":  "\"x\"\n\"speed\" is not an axis",
		"endurance=1e400": `weight of endurance must be a number from 0 to 1000000, got "1e400"`,
	} {
		_, err := objective.ParseWeights(text)
		said(err, want)
	}
	for text, want := range map[string]string{
		"all_up_g=250":     `limit all_up_g: "250" is not a valid range: write ..250 (at most), 3.. (at least) or 2..4 (between)`,
		"all_up_g=..":      `limit all_up_g: range ".." has no number: write ..250, 3.. or 2..4`,
		"all_up_g=4..2":    `limit all_up_g: range "4..2": the lower end 4 lies over the upper end 2; swap them`,
		"all_up_g=..nan":   `limit all_up_g: range "..nan": "nan" is not a number; write it plainly, such as 250 or 3.5`,
		"all_up=..250":     `unknown figure "all_up"; did you mean all_up_g?`,
		"wings=..250":      `unknown figure "wings"; use the key of a figure, such as all_up_g`,
		"all_up_g":         `"all_up_g" is not a valid limit: write FIGURE=RANGE, such as all_up_g=..250`,
		"loaded_cellv=3..": `unknown figure "loaded_cellv"; did you mean loaded_cell_v?`,
	} {
		_, err := objective.ParseLimit(text)
		said(err, want)
	}
	speed := 3.0
	w := objective.Written{
		Weights: map[string]float64{"grip": -1, "pace": 1},
		Limits:  map[string]string{"all_up_g": "250", "weight": "..250"},
		Flying: &objective.WrittenFlying{Segments: []objective.WrittenSegment{
			{Kind: "glide", SharePct: 50}, {Kind: "punch", SharePct: 40, SpeedMps: &speed}}},
	}
	_, faults := w.Style()
	var lines []string
	for i := range faults {
		f := strict.Fault{File: "s.yaml", Path: faults[i].Path, Problem: faults[i].Problem}
		lines = append(lines, Fault(&f))
	}
	got := strings.Join(lines, "\n")
	const want = `s.yaml: weights.grip must be from 0 to 1000000, got -1
s.yaml: weights.pace: "pace" is not an axis: the axes are grip, endurance, smoothness, top_speed
s.yaml: limits.all_up_g: "250" is not a valid range: write ..250 (at most), 3.. (at least) or 2..4 (between)
s.yaml: limits.weight: unknown figure "weight"; use the key of a figure, such as all_up_g
s.yaml: flying.segments[0].kind must be hover, cruise, turn or punch, got "glide"
s.yaml: flying.segments[1]: a punch is full throttle and takes no speed or load; leave them out
s.yaml: flying.segments: the shares must add up to 100 %, got 90 %; change one by 10 %`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	bad := objective.Style{Weights: objective.Weights{2},
		Limits: []objective.Limit{{Quantity: 200}, {Range: objective.Range{Low: 3, High: 2}}, {}}}
	err := bad.Check()
	var list strict.Faults
	if !errors.As(err, &list) || len(list) < 4 {
		t.Fatalf("a style made by hand: %v", err)
	}
	for i := range list {
		if text := Problem(&list[i].Problem); open.MatchString(text) || text == "" {
			t.Errorf("a style made by hand: %s", text)
		}
	}
}

// Property: what physics finds of a way of flying reaches a style's faults by code and values, and is said in words.
func TestFaultsOfFlyingAreSaid(t *testing.T) {
	style, _ := objective.Preset("freestyle")
	style.Flying.Segments = nil
	style.Flying.Reserve = 2
	got := Error(style.Check())
	for _, want := range []string{"a way of flying has 1 to ", "reserve must be from 0 to under 90 %, got 200 %"} {
		if !strings.Contains(got, want) || strings.Contains(got, "flying.") {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
