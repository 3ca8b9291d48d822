package catalogue

import (
	"fmt"
	"strings"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

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

// stylesAbout says what the built-in styles are for.
var stylesAbout = map[string]string{
	"cruise":    "Gentle flight over a distance: minutes first, then a calm throttle.",
	"freestyle": "Figures with turns, dives and pull-outs: grip and a fine throttle.",
	"race":      "Around gates as fast as it goes, for one heat.",
	"indoor":    "Slow flight in a home, near people.",
	"hall":      "Slow flight between obstacles in a hall.",
}

// AboutStyle says in a sentence what a built-in style is for, "" of others.
func AboutStyle(name string) string { return stylesAbout[name] }

// landingClasses are crafts whose flights end alike.
var landingClasses = [physics.LandingClassEnd]string{
	physics.IonLanding: "Li-ion", physics.WhoopLanding: "one cell", physics.LightLanding: "crafts under 200 g with " +
		"small props",
	physics.OtherLanding: "others",
}

// UsualLandings says what parts of speed and thrust are of, and how flights end in a style that leaves it to the craft.
func UsualLandings() string {
	var words []string
	for k := range physics.LandingClassEnd {
		reserve, cellV := k.Usual()
		words = append(words, fmt.Sprintf("%s at %s V a cell or %.0f %% left", landingClasses[k], Fixed(cellV, 1),
			100*reserve))
	}
	return "Full speed and spare thrust are what motors, props and cells reach on a body of usual drag. Where a style " +
		"sets no " +
		"landing, a flight ends as usual, whichever comes first: " + strings.Join(words, ", ") + "."
}
