package faults

import "partsaloft/inventory/strict"

// styleFaults are of styles, and of the weights and limits of a command line.
var styleFaults = map[strict.Code]string{
	"weight.form":   ": {got} is not a valid weight: write AXIS=NUMBER, such as grip=4,endurance=1",
	"weight.axis":   ": {got} is not an axis: the axes are {axes}",
	"weight.twice":  ": {axis} is given twice; keep one",
	"weight.number": ": weight of {axis} must be a number from 0 to {most}, got {got}",
	"weight.range":  ": weight of {axis} must be from 0 to {most}, got {got}",
	"weight.none": ": all weights are 0, so every craft would score the same: give at least one axis a weight, such " +
		"as grip=1 (axes: {axes})",
	"limit.form":     ": {got} is not a valid limit: write FIGURE=RANGE, such as all_up_g=..250",
	"limit.figure":   ": unknown figure {got}",
	"range.form":     ": {got} is not a valid range: write ..250 (at most), 3.. (at least) or 2..4 (between)",
	"range.end":      ": range {range}: {got} is not a number; write it plainly, such as 250 or 3.5",
	"range.empty":    ": range {got} has no number: write ..250, 3.. or 2..4",
	"range.swapped":  ": range {range}: the lower end {low} lies over the upper end {high}; swap them",
	"segments.sum":   ": the shares must add up to 100 %, got {sum} %; change one by {by} %",
	"segment.punch":  ": a punch is full throttle and takes no speed or load; leave them out",
	"segment.either": ": give {one} or {other}, not both",
	"segment.kind":   "must be hover, cruise, turn or punch, got {got}",
	"style.weights":  ": weights must add up to 1, got {sum}",
	"style.quantity": ": limit {n} is on quantity {got} of {count}",
	"style.order":    ": limits must be sorted by quantity and unique, {limit} is not",
	"style.role":     ": {got} is not a role of an extra; the roles are {roles}",
}
