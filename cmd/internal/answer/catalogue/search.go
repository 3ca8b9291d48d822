package catalogue

import (
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// Search names a sentence on what a search found: why it went about as it did, what a combination is to be
// minded for, what would mend it, what a change or a step is.
type Search string

// searches are the sentences of Search.
var searches = map[Search]string{
	// Why a search took its method, and how far its result is proven.
	"why.few_powertrains": "{powertrains}, no more than {most}",
	"why.long_proof": "proving the best would take far over {most} evaluations and was stopped after {count}; " +
		"--method exact goes on",
	"why.provable":         "{powertrains}, not too many to prove the best",
	"why.many_powertrains": "{powertrains}, too many to check each",
	"why.asked":            "as asked; {powertrains}",
	"why.powertrains":      "{count} powertrains fit",
	"why.powertrains_over": "over {count} powertrains fit",
	"why.few_fit":          "{count} combinations fit, no more than {most}",
	"why.many_fit":         "{count} combinations fit, too many to check each",
	"why.catalogue_asked":  "as asked",
	"why.named":            "the builds were named",
	"why.kind_missing":     "a kind of part is missing",
	"why.every_choice":     "every combination was checked, and every choice that could be better",
	"why.choices_cut":      "the search for the best choice stopped after {most} steps",
	"why.wishes_cut": "the drawer is too large to check every combination: each craft is chosen from what a " +
		"genetic search found",
	"why.every_purchase": "every combination of the drawer with what is on offer was checked",
	"why.purchases_cut": "{count} combinations are too many: purchases were judged with the parts of your best " +
		"{most} combinations only",
	"why.pool":      "{why}; new ones are chosen from the best {pool} by score",
	"lacking":       "{drawer} has no {kinds}; a craft needs motors, props, a pack, a frame and a board.",
	"set_aside":     "left out: {part}: {reason}",
	"unmet.lacking": "the drawer has no {kinds}",
	"unmet.infeasible": "nothing in the drawer can be flown this way: of {candidates} combinations {fitted} fit " +
		"together, and each breaks a limit",
	"shortage.pieces": "{part}: {pieces} in all; {by} {take} {taken}, this craft needs {needed}",
	"shortage.uncounted": "{by} uses {parts}; no count is given, so one craft's worth is assumed: add count if " +
		"you have more",
	"shortage.along": "{by} all carry {extra}, but there {are} only {pieces}: swap it over, or get another",
	"carried.lightest": "{role} {id} is on board, the lightest of {choices} that fit; to pick another, set use: " +
		"optional on the rest",
	"carried.none": "no {roles} on board: unless the board has one built in, list it under extras, its weight " +
		"counts",
	"misfit.prop":      "prop {prop}: {reason}",
	"misfit.too_light": "frame and extras weigh {mass} g together",
	"misfit.roles":     "it has {roles}",
	"grounded": "hover it low first and watch the throttle: allowing for uncertainty it cannot hover at half " +
		"charge in {count} of 100 cases",
	"risk.least": "{figure} is within its limit of at least {bound}, but its likely range is {low} to " +
		"{high}",
	"risk.most": "{figure} is within its limit of at most {bound}, but its likely range is {low} to {high}",
	"risk.between": "{figure} is within its limit of {from} to {bound}, but its likely range is {low} to " +
		"{high}",
	"remedy.list_role": "list one under extras, or do not ask for it",
	"remedy.pack": "a pack that gives about {needs} A (this label says {has} A, its resistance allows {sag} A), " +
		"or props that draw less",
	"remedy.resistance":    "a pack with a lower resistance than {has} mΩ, or props that draw less",
	"remedy.board":         "a board with ESCs for about {needs} A (these take {has} A), or props that draw less",
	"remedy.plug":          "a plug for about {needs} A (this one takes {has} A), or props that draw less",
	"remedy.motors":        "motors that take more current, fewer cells, or props that draw less",
	"remedy.board_steady":  "a board with ESCs for {needs} A continuous (these take {has} A)",
	"remedy.plug_steady":   "a plug for {needs} A continuous (this one takes {has} A)",
	"remedy.slower_motors": "lower-kV motors, or fewer cells",
	"remedy.cooler_motors": "heavier motors, fewer cells or a smaller prop",
	"remedy.motors_steady": "motors for {needs} A continuous ({has} A is estimated for these), fewer cells, or " +
		"less weight",
	"remedy.mass_or_thrust":    "{needs} g less weight, or {has} times the thrust",
	"remedy.cannot_lift":       "more thrust or less weight: it weighs {needs} g, and full throttle lifts {has} g",
	"remedy.more_thrust":       "more thrust or less weight",
	"remedy.less_mass":         "{needs} g less weight",
	"remedy.other_parts":       "other parts",
	"remedy.loosened":          "{remedy}, or loosen the limit to {loose} (now {now})",
	"novel.nothing_flies":      "nothing flies yet to compare it with",
	"novel.alike":              "much like your {craft}",
	"novel.unlike":             "{differences}, compared with your {craft}",
	"novel.heavier":            "{amount} g heavier",
	"novel.lighter":            "{amount} g lighter",
	"novel.faster":             "{amount} m/s faster",
	"novel.slower":             "{amount} m/s slower",
	"novel.slower_to_answer":   "{amount} ms slower to respond",
	"novel.quicker_to_answer":  "{amount} ms quicker to respond",
	"novel.more_turn_throttle": "{amount} % more throttle in a turn",
	"novel.less_turn_throttle": "{amount} % less throttle in a turn",
	"novel.more_pull_out":      "{amount} m more height lost in a pull-out",
	"novel.less_pull_out":      "{amount} m less height lost in a pull-out",
	"novel.flying_time":        "{times} the flying time",
	"novel.load_factor":        "{times} the g in a level turn",
	"novel.thrust_step":        "{times} the throttle resolution",
	"change.heavier":           "{amount} g heavier",
	"change.lighter":           "{amount} g lighter",
	"change.pitch":             "pitch {amount} %",
	"change.blade":             "one more blade",
	"change.cell_more":         "one more cell",
	"change.cell_less":         "one cell less",
	"change.capacity":          "{amount} % more capacity",
	"change.worn_pack":         "worn pack, twice the resistance",
	"change.cap":               "throttle capped at {amount} %, stick unchanged",
	"change.stick":             "whole stick scaled to {amount} %",
	"change.root_mass":         "blade mass at the root",
	"change.tip_mass":          "blade mass at the tip",
	"change.camera_off":        "camera off",
	"change.wind":              "in {amount} m/s of wind",
	"change.altitude":          "at {amount} m",
	"change.temperature":       "at {amount} °C",
	"step":                     "{part} with {step}",
	"step.kv-up":               "10 % more kV",
	"step.kv-down":             "9 % less kV",
	"step.pitch-up":            "10 % more pitch",
	"step.pitch-down":          "9 % less pitch",
	"step.cell-up":             "one more cell",
	"step.cell-down":           "one cell less",
	"step.capacity-up":         "30 % more capacity",
	"step.capacity-down":       "30 % less capacity",
	"step.row-up":              "one more row of cells in parallel",
	"step.row-down":            "one row of cells in parallel less",
	"step.amps-up":             "cells for 50 % more current",
	"step.lighter":             "20 % less weight",
	"step.stronger":            "ESCs for 40 % more current, 15 % heavier",
}

// Template is the sentence with its placeholders.
func (s Search) Template() string { return searches[s] }

// Form is the sentence with {} in place of its values, and these in their order.
func (s Search) Form(values map[string]any) (form string, list []string) {
	return phrase.Form(searches[s], values)
}

// Sentence is the sentence with its values.
func (s Search) Sentence(values map[string]any) string { return phrase.Fill(searches[s], values) }

// Searches are the names of all sentences of Search.
func Searches() []Search {
	list := make([]Search, 0, len(searches))
	for s := range searches {
		list = append(list, s)
	}
	return list
}

// InsteadGapSentence says how much more of an axis a build may have that was not looked at; empty where none may, and
// where that is not known.
func InsteadGapSentence(r *search.Ranking) string {
	if r.FrontGap == 0 {
		return ""
	}
	return Say("instead.gap", "points", Number(r.FrontGap, 0, 2*r.FrontGap))
}

// InsteadSentences name for each axis a combination that has more of it, with what it gains and costs against the one at
// a place of the ranking, counted from 0, and its dangers.
func InsteadSentences(r *search.Ranking, at int) []string {
	best := &r.Best[at]
	var tops [objective.AxisCount]*predict.Result
	var offers []string
	for axis := range objective.AxisCount {
		offer := Say("instead.none")
		if !r.AxesProven {
			offer = Say("instead.none_found")
		}
		if tops[axis] = instead(r, best, axis); tops[axis] != nil {
			offer = OtherText(&best.Combination, &tops[axis].Combination)
		}
		offers = append(offers, offer)
	}
	axes := []objective.Axis{objective.Grip, objective.Endurance, objective.Smoothness, objective.TopSpeed}
	return Gathered(axes, offers, func(i int, asked []objective.Axis) string {
		if tops[i] == nil {
			return offers[i]
		}
		text := Say("instead", "build", offers[i], "deltas", DeltasText(best, tops[i], asked), "score",
			Fixed(tops[i].Evaluation.Score, 1))
		if dangers := dangerTexts(tops[i]); len(dangers) > 0 {
			text = Say("instead.danger", "offer", text, "dangers", strings.Join(dangers, "; "))
		}
		return text
	})
}

// instead is what to take for more of an axis than one has: of those that have at least half of what more there is, the one
// that scores best of those without dangers, or of all where each has some. It is nil if there is none.
func instead(r *search.Ranking, than *predict.Result, axis objective.Axis) *predict.Result {
	has := than.Evaluation.Axes[axis]
	most := has
	for _, pool := range [...][]predict.Result{r.Front, r.Best} {
		for i := range pool {
			most = math.Max(most, pool[i].Evaluation.Axes[axis])
		}
	}
	if most-has < leastTold {
		return nil
	}
	var top, safe *predict.Result
	for _, pool := range [...][]predict.Result{r.Front, r.Best} {
		for i := range pool {
			one := &pool[i]
			if one.Evaluation.Axes[axis]-has < math.Max((most-has)/2, leastTold) {
				continue
			}
			if top == nil || one.Evaluation.Score > top.Evaluation.Score {
				top = one
			}
			if (safe == nil || one.Evaluation.Score > safe.Evaluation.Score) && len(dangerTexts(one)) == 0 {
				safe = one
			}
		}
	}
	if safe != nil {
		return safe
	}
	return top
}

// leastTold is the gain on an axis, in points, from which on a pilot notices it (judgement).
const leastTold = 2.0

// Gathered says what is offered for several axes at once in one sentence; say is told which axes
// ask for offer i.
func Gathered(axes []objective.Axis, offers []string, say func(i int, asked []objective.Axis) string) []string {
	var list []string
	for i := range offers {
		if slices.Contains(offers[:i], offers[i]) {
			continue
		}
		var asked []objective.Axis
		var names []string
		for k := i; k < len(offers); k++ {
			if offers[k] == offers[i] {
				asked, names = append(asked, axes[k]), append(names, axes[k].String())
			}
		}
		list = append(list, Say("instead.axes", "axes", names, "offer", say(i, asked)))
	}
	return list
}
