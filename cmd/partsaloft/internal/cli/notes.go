package cli

import (
	"slices"
	"strings"

	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/search"
)

// unknowns are the rules of fit in words, where the drawer does not say enough to try them.
var unknowns = [inventory.RuleEnd]string{
	inventory.RuleHoles:     "the motors' holes against the frame's",
	inventory.RulePropMount: "how the prop sits on the motor",
	inventory.RulePropSize:  "the room for the prop",
	inventory.RuleStack:     "the board's holes against the frame's",
	inventory.RuleCamera:    "the camera's width against the frame's",
	inventory.RuleConnector: "the plugs of pack and board",
	inventory.RuleBay:       "the room for the pack",
}

// leastGathered is the number of notes on what the drawer does not say from which on they share one
// sentence.
const leastGathered = 3

// noteList are a combination's notes for people. What the drawer leaves out of its parts' fit is one
// sentence if it is much; JSON and check have it in full.
func noteList(r *search.Result) render.List {
	rules := map[string]inventory.Rule{}
	for _, f := range r.Combination.Findings() {
		if f.Severity == inventory.Unknown && unknowns[f.Rule] != "" {
			rules[f.Text] = f.Rule
		}
	}
	var list render.List
	var look []string
	for i, note := range r.Notes {
		rule, ok := rules[note]
		if !ok || len(rules) < leastGathered {
			list = append(list, sentences(notesOf(r)[i:i+1])...)
			continue
		}
		if !slices.Contains(look, unknowns[rule]) {
			look = append(look, unknowns[rule])
		}
	}
	if len(look) > 0 {
		list = append(list, "Not said in the drawer, so look before you build: "+strings.Join(look, ", ")+".")
	}
	return list
}
