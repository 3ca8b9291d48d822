package catalogue

import (
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/physics/uncertain"
)

// Property: every finding of learning has its sentence, and every placeholder in it a value.
func TestEveryFindingOfLearningIsSaid(t *testing.T) {
	whole := func(what, text string) {
		t.Helper()
		if text == "" || strings.ContainsAny(text, "{}") || strings.Contains(text, "  ") {
			t.Errorf("%s: %q", what, text)
		}
	}
	d := &inventory.Drawer{}
	one := learn.Entry{Number: 1, Line: 7, Readings: []learn.Compared{{
		Reading: learn.Reading{Key: learn.AllUp, Measured: 92, SD: 0.5}, Off: 4,
		Expected: learn.Interval{Value: 88, Low: 86, High: 90, Known: true}}}}
	bench := learn.Entry{What: "bench m p, 16 V, 100 %", Readings: one.Readings}
	r := &learn.Report{Entries: []learn.Entry{one, one}, Bench: []learn.Entry{bench}}
	whole("a log with benches", LearnLog("d.yaml", r))
	whole("a log alone", LearnLog("d.yaml", &learn.Report{Entries: r.Entries}))
	whole("a misfit", Misfit(&one, &one.Readings[0]))
	whole("a misfit of a bench", Misfit(&bench, &learn.Compared{Reading: one.Readings[0].Reading, Off: -3}))
	whole("a conflict", Conflict(&learn.Conflict{A: 1, B: 2, Key: learn.HoverThrottle, ValueA: 30, ValueB: 40}))

	inputs := 0
	for _, kind := range []inventory.Kind{inventory.KindMotor, inventory.KindProp, inventory.KindPack,
		inventory.KindFrame, inventory.KindBoard, learn.KindFlying} {
		for input := range uncertain.InputCount {
			if learn.InputKey(kind, input) == "" {
				continue
			}
			inputs++
			what := string(kind) + " " + input.String()
			whole(what, LearnedInput(input))
			for _, shift := range []float64{0.3, -0.3} {
				p := &learn.Part{Kind: kind, ID: "x", Changes: []learn.Change{{Input: input, LnFactor: shift, LnSDBefore: 0.2,
					LnSDAfter: 0.05, Readings: 2}}}
				whole(what, LearnedPart(d, r, p))
			}
			surer := &learn.Part{Kind: kind, ID: "x", Changes: []learn.Change{{Input: input, LnSDBefore: 0.2, LnSDAfter: 0.05}}}
			whole(what+" surer", UnshiftedPart(surer))
			given := &learn.Part{Kind: kind, ID: "x", Changes: []learn.Change{{Input: input, LnSDBefore: 0.2, LnSDAfter: 0.19}}}
			whole(what+" as given", UnshiftedPart(given))
			for _, best := range []learn.FurtherReading{{}, {Key: learn.TopSpeed, Entry: 2, Left: 0.4},
				{Bench: learn.PropBench, ID: "p", Left: 0.4},
				{Bench: learn.PackBench, ID: "k", Left: 0.4}, {Bench: learn.MotorBench, ID: "m", Left: 0.4}} {
				in := learn.PartInput{Kind: kind, ID: "x", Input: input}
				whole(what+" inseparable", Inseparable(&learn.Inseparable{A: in, B: in, Correlation: -0.6, Best: best}))
			}
		}
	}
	if inputs < 19 {
		t.Errorf("%d inputs are learned", inputs)
	}
	for _, k := range []learn.Key{learn.AllUp, learn.HoverThrottle, learn.HoverCurrent, learn.HoverSpeed,
		learn.FlightMinutes,
		learn.UsedCharge, learn.FullThrottleCurrent,
		learn.LoadedCell, learn.TopSpeed, learn.StandSpeed, learn.StandCurrent, learn.StandThrust, learn.LabelThrust, learn.LabelTorque} {
		whole(string(k), ReadingName(k))
	}
	seen := map[string]bool{}
	for _, c := range []learn.Report{
		{CrossCheck: learn.CrossCheck{Readings: 3, Before: 1, After: 0.8}, Inflation: 1, Entries: r.Entries[:1]},
		{CrossCheck: learn.CrossCheck{Readings: 3, Before: 1, After: 1}, Inflation: 0, Entries: r.Entries},
		{CrossCheck: learn.CrossCheck{Readings: 3, Before: 1, After: 0.9}, Inflation: 2, Entries: r.Entries},
		{CrossCheck: learn.CrossCheck{Readings: 3, Before: 1, After: 0.999}, Inflation: 1, Entries: r.Entries},
		{CrossCheck: learn.CrossCheck{Readings: 3, Before: 1, After: 0.8}, Inflation: 1, Entries: r.Entries},
	} {
		text := CrossCheck(&c)
		whole("a cross-check", text)
		if seen[text] {
			t.Errorf("two outcomes are said alike: %s", text)
		}
		seen[text] = true
	}
	if text := CrossCheck(&learn.Report{}); text != "" || len(seen)+1 != len(crossChecks) {
		t.Errorf("%d outcomes are said, of %d; of nothing %q", len(seen)+1, len(crossChecks), text)
	}
}
