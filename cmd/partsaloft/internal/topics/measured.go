package topics

import (
	"fmt"
	"slices"
	"strings"
)

// measuredError is a line of what "go run ./physics/internal/fit FOLDER errors" prints: the error of a figure on props,
// motors, packs and crafts that no constant was fitted to.
type measuredError struct {
	figure, from    string
	median, ninth   string // per cent, at the median and nine times in ten
	bias            string // per cent, of the prediction
	cases, measured string
}

// measuredErrors are those lines. README's short table is some of them; a test holds the two together.
var measuredErrors = [...]measuredError{
	{"static CT", "the label", "11.2", "28.6", "-1", "127 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"static CT, multirotor props", "the label", "11.7", "26.5", "+1", "38 props",
		"public thrust stands; Cao & Strawson 2018; Cox & Dantsker 2026"},
	{"static CP", "the label", "16.2", "30.4", "-2", "115 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"static CP, multirotor props", "the label", "22.5", "38.8", "-14", "26 props",
		"public thrust stands; Cao & Strawson 2018; Cox & Dantsker 2026"},
	{"static CP/CT^1.5, multirotor props", "the label", "4.9", "13.2", "-0", "26 props",
		"public thrust stands; Cao & Strawson 2018; Cox & Dantsker 2026"},
	{"CT in climb down to 0.4 of static", "the label", "12.1", "33.2", "-4", "89 props",
		"UIUC Propeller Database, vols 1-3"},
	{"CP in climb down to 0.4 of static CT", "the label", "14.6", "29.2", "-6", "89 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CT", "label and chord at 75 %", "5.6", "19.3", "-0", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CP", "label and chord at 75 %", "11.3", "38.2", "+0", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CT", "label, chord and angle at 75 %", "5.4", "15.1", "-0", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CP", "label, chord and angle at 75 %", "12.9", "26.8", "+3", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CT", "chord and angle all along", "5.6", "15.0", "+1", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CP", "chord and angle all along", "10.0", "28.4", "+0", "45 props",
		"UIUC Propeller Database, vols 1-3"},
	{"static CT at other speeds", "label and thrust at one speed", "1.6", "4.6", "+0", "119 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"static CP at other speeds", "label and thrust at one speed", "9.0", "19.2", "+1", "119 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"static CT at other speeds", "label, thrust and torque at one speed", "1.5", "4.4", "+0", "107 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"static CP at other speeds", "label, thrust and torque at one speed", "2.0", "6.0", "-0", "107 props",
		"UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"},
	{"CT in climb down to 0.4 of static", "label, thrust and torque at one speed", "6.4", "18.5", "-3", "89 props",
		"UIUC Propeller Database, vols 1-3"},
	{"CP in climb down to 0.4 of static CT", "label, thrust and torque at one speed", "6.2", "20.3", "-4", "89 props",
		"UIUC Propeller Database, vols 1-3"},
	{"rpm at full throttle", "stator, kV and a known prop", "2.9", "6.3", "+0", "16 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands"},
	{"thrust at full throttle", "stator, kV and a known prop", "5.7", "12.4", "+1", "16 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands"},
	{"current at full throttle", "stator, kV and a known prop", "5.7", "17.1", "-3", "16 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands"},
	{"power at the throttle of hover (duty under 0.35)", "stator, kV and a known prop", "11.3", "40.6", "+3", "22 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands"},
	{"power at part throttle (duty 0.35 to 0.6)", "stator, kV and a known prop", "11.5", "28.8", "-0", "25 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands"},
	{"thrust at full throttle", "stator, kV and the prop's label", "5.6", "33.7", "+5", "15 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands; makers' sheets"},
	{"current at full throttle", "stator, kV and the prop's label", "7.2", "30.9", "+1", "21 motors",
		"Cao & Strawson 2018; a public database of thrust tests; public thrust stands; makers' sheets"},
	{"motor mass", "stator", "8.7", "18.7", "-0", "38 motors",
		"makers' sheets"},
	{"pack mass", "cells and capacity", "18.6", "27.5", "-17", "48 packs",
		"makers' sheets, chargers' readings, packs weighed and loaded by pilots"},
	{"pack resistance", "cells and capacity", "32.8", "78.8", "-1", "36 packs",
		"makers' sheets, chargers' readings, packs weighed and loaded by pilots"},
	{"flying time by way of flying", "labels, mass where weighed", "20.5", "44.0", "+7", "30 flights of 16 crafts",
		"published build write-ups: crafts weighed, flown and timed by their owners"},
}

// errorsTopic is the table of measured errors with its sources and how to repeat it.
func errorsTopic() string {
	var b strings.Builder
	b.WriteString(`How far predictions were off, on props, motors, packs and crafts that the laws were not fitted to:
the median error, the error not exceeded in nine of ten cases, and the bias (+ means predicted too
high).
`)
	var sources []string
	said := map[string]bool{}
	for i, first := range measuredErrors {
		if said[first.figure] {
			continue
		}
		said[first.figure] = true
		fmt.Fprintf(&b, "\n%s\n", first.figure)
		for _, e := range measuredErrors[i:] {
			if e.figure == first.figure {
				fmt.Fprintf(&b, "  from %-39s %5s / %4s %%  (%3s)  %s\n", e.from, e.median, e.ninth, e.bias, e.cases)
			}
		}
	}
	for _, e := range measuredErrors {
		for _, source := range strings.Split(e.measured, "; ") {
			if !slices.Contains(sources, source) {
				sources = append(sources, source)
			}
		}
	}
	b.WriteString("\nMeasured by:\n")
	for _, source := range sources {
		b.WriteString("  " + source + "\n")
	}
	b.WriteString(`
To repeat it, in the folder of the source: go run ./physics/internal/fit FOLDER errors
(DEVELOPERS.md says what FOLDER holds). It splits the errors by class and size as well.`)
	return b.String()
}
