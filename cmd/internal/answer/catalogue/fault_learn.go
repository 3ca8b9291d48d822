package catalogue

import "partsaloft/inventory/strict"

// learnFaults are of a log that is learned from, and of a file of what was learned.
var learnFaults = map[strict.Code]string{
	"learn.nothing":            "holds no log and no bench readings: there is nothing to learn from; write under log what you weighed, flew and measured",
	"learn.cannot":             ": {cause}",
	"learn.no_start":           ": no craft that its parts could make does what was read; check the parts and readings of each entry",
	"learn.no_fit":             ": the readings do not settle on one answer; check the parts and readings of each entry",
	"learn.no_thrust":          ": prop {prop} gives no thrust at its bench points' speed",
	"learn.cell_over_full":     "must be under the {full} V of a full {chemistry} cell, got {got}; write the voltage of one cell under load",
	"learn.used_over_capacity": "is {got}, but pack {pack} holds {capacity}; correct one of them, or the pack",
	"learn.hover_over_full":    "contradicts full_throttle_current_a: {hover} A in hover and {full} A at full throttle; correct one of them",
	"learn.flown":              ": no way of flying is called {got}; known are {known}, and a style whose file is named by --style",
	"learn.bench_prop":         ": no prop is called {id}; add it, or take the row out",
	"learned.version":          "is {got}, this program reads {reads}; run learn again",
	"learned.input":            ": a {kind} has no {got} to learn; run learn again",
	"learned.twice":            ": {label} stands in the file already; keep one",
	"learned.changes":          "hold {got} changes, over {most}; is it the right file?",
	"learned.stranger":         ": {label} stands under no part; run learn again",
	"learned.correlations":     ": the correlations contradict each other; run learn again",
	"learned.itself":           "joins {label} to itself; run learn again",
	"learned.changed":          "was learned with {was}, but now has {now}; run learn again",
}
