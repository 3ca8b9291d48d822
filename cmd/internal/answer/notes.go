package answer

import (
	"fmt"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/search/predict"
)

// unknowns are the rules of fit in words, where the drawer does not say enough to try them.
var unknowns = [compat.RuleEnd]string{
	compat.RuleHoles:     "the motors' holes against the frame's",
	compat.RulePropMount: "how the prop sits on the motor",
	compat.RulePropSize:  "the room for the prop",
	compat.RuleStack:     "the board's holes against the frame's",
	compat.RuleCamera:    "the camera's width against the frame's",
	compat.RuleConnector: "the plugs of pack and board",
	compat.RuleBay:       "the room for the pack",
}

// leastGathered is the number of notes on what the drawer does not say from which on they share one
// sentence.
const leastGathered = 3

// partNotes are what the drawer's notes say of a combination's parts, in its order.
func partNotes(c *inventory.Combination) []string {
	var list []string
	add := func(kind inventory.Kind, id, note string) {
		if note != "" {
			list = append(list, fmt.Sprintf("the drawer says of %s %s: %s", kind, id, note))
		}
	}
	add(inventory.KindMotor, c.Motor.ID, c.Motor.Note)
	add(inventory.KindProp, c.Prop.ID, c.Prop.Note)
	add(inventory.KindPack, c.Pack.ID, c.Pack.Note)
	add(inventory.KindFrame, c.Frame.ID, c.Frame.Note)
	add(inventory.KindBoard, c.Board.ID, c.Board.Note)
	for _, e := range c.Extras {
		add(inventory.KindExtra, e.ID, e.Note)
	}
	return list
}

// ownNotes are the same as a list for people.
func ownNotes(c *inventory.Combination) []string {
	var list []string
	for _, note := range partNotes(c) {
		list = append(list, catalogue.Sentence(note))
	}
	return list
}

// allNotes are what a document notes of a combination: what fits but wants a word, what to mind, and the drawer's own
// notes.
func allNotes(r *predict.Result) []string { return append(noteTexts(r), partNotes(&r.Combination)...) }

// noteList are a combination's notes for people, its dangers left out. What the drawer leaves out of its parts' fit is one
// sentence if it is much; JSON and check have it in full.
func noteList(r *predict.Result) []string {
	notes := slices.DeleteFunc(Notes(r), func(n Note) bool { return n.Kind == DangerNote })
	gathered := func(n *Note) bool { return n.Kind == UnknownNote && unknowns[n.Rule] != "" }
	many := 0
	for i := range notes {
		if gathered(&notes[i]) {
			many++
		}
	}
	var list []string
	var look []string
	for i := range notes {
		n := &notes[i]
		if !gathered(n) || many < leastGathered {
			list = append(list, sentences([]string{n.Text()})...)
		} else if !slices.Contains(look, unknowns[n.Rule]) {
			look = append(look, unknowns[n.Rule])
		}
	}
	list = append(list, ownNotes(&r.Combination)...)
	if len(look) > 0 {
		list = append(list, "Not said in the drawer, so look before you build: "+strings.Join(look, ", ")+".")
	}
	return list
}
