package catalogue

import "partsaloft/cmd/internal/answer/catalogue/phrase"

// Search names a sentence on what a search found: why it went about as it did, what a combination is to be
// minded for, what would mend it, what a change or a step is.
type Search string

// searches are the sentences of Search.
var searches = map[Search]string{
	// Why a search took its method, and how far its result is proven.
	"why.few_powertrains":  "{powertrains}, no more than {most}",
	"why.many_powertrains": "{powertrains}, too many to look at each",
	"why.asked":            "asked for; {powertrains}",
	"why.powertrains":      "{count} powertrains fit",
	"why.powertrains_over": "over {count} powertrains fit",
	"why.few_fit":          "{count} combinations fit, no more than {most}",
	"why.many_fit":         "{count} combinations fit, too many to look at each",
	"why.catalogue_asked":  "asked for",
	"why.named":            "the builds were named",
	"why.kind_missing":     "a kind of part is missing",
	"why.every_choice":     "every combination was looked at, and every choice that could be better",
	"why.choices_cut":      "the search for the best choice stopped after {most} steps",
	"why.wishes_cut": "the drawer is too large to look at every combination: each wish chooses among what a " +
		"genetic search found",
	"why.every_purchase": "every combination of the drawer with what can be bought was looked at",
	"why.purchases_cut": "{count} combinations are too many: purchases were judged with the owned parts of the " +
		"best {most} combinations alone",
	"why.pool":      "{why}; what is new is chosen among the {pool} best by score",
	"lacking":       "{drawer} holds no {kinds}; a craft takes motors, props, a pack, a frame and a board.",
	"set_aside":     "left out: {part}: {reason}",
	"unmet.lacking": "the drawer holds no {kinds}",
	"unmet.infeasible": "nothing in the drawer is feasible for it: of {candidates} candidates {fitted} fit " +
		"together and none keeps its rules",
	"shortage.pieces": "of {part} there {are} {pieces}, {by} {take} {taken}, and it would take {needed}",
	"shortage.uncounted": "{by} takes {parts}; no count is given, which is taken as enough for one craft: give it " +
		"if there are more",
	"shortage.along": "{by} carry {extra}, of which there {are} {pieces}: swap it over, or get another",
	"carried.lightest": "{role} {id} goes along, the lightest that fits of {choices}: use: optional on the " +
		"others settles it",
	"carried.none": "no {roles} on board: if the board has none built in, list it under extras, its grams " +
		"count",
	"misfit.prop":      "prop {prop}: {reason}",
	"misfit.too_light": "frame and extras weigh {mass} g together",
	"misfit.roles":     "it carries {roles}",
	"grounded": "allowing for uncertainty it cannot hover at half charge in {count} of 100 cases: hover " +
		"it low first, and watch the throttle",
	"risk.least":       "{figure} keeps its limit of at least {bound}, but may lie from {low} to {high}",
	"risk.most":        "{figure} keeps its limit of at most {bound}, but may lie from {low} to {high}",
	"risk.between":     "{figure} keeps its limit of {from} to {bound}, but may lie from {low} to {high}",
	"remedy.list_role": "list one under extras, or do not ask for the role",
	"remedy.pack": "a pack that gives about {needs} A where the label of this one claims {has} A (its " +
		"resistance allows {sag} A), or props that take less",
	"remedy.resistance":    "a pack with less resistance than {has} mΩ, or props that take less",
	"remedy.board":         "a board with ESCs for about {needs} A where these take {has} A, or props that take less",
	"remedy.plug":          "a plug for about {needs} A where this one takes {has} A, or props that take less",
	"remedy.motors":        "motors that take more, fewer cells, or props that take less",
	"remedy.board_steady":  "a board with ESCs for {needs} A continuous where these take {has} A",
	"remedy.plug_steady":   "a plug for {needs} A continuous where this one takes {has} A",
	"remedy.slower_motors": "motors of less kV, or fewer cells",
	"remedy.cooler_motors": "heavier motors, fewer cells or a smaller prop",
	"remedy.motors_steady": "motors for {needs} A continuous where {has} A are estimated for these; fewer cells, or " +
		"less weight",
	"remedy.mass_or_thrust":    "{needs} g less, or {has} times the thrust",
	"remedy.cannot_lift":       "more thrust or less weight: at full throttle it lifts {has} g and weighs {needs} g",
	"remedy.more_thrust":       "more thrust or less weight",
	"remedy.less_mass":         "{needs} g less",
	"remedy.other_parts":       "other parts",
	"remedy.loosened":          "{remedy}, or loosen the limit to {loose} (now {now})",
	"novel.nothing_flies":      "nothing flies yet that it could be like",
	"novel.alike":              "much like your {craft}",
	"novel.unlike":             "{differences}, against your {craft}",
	"novel.heavier":            "{amount} g heavier",
	"novel.lighter":            "{amount} g lighter",
	"novel.faster":             "{amount} m/s faster",
	"novel.slower":             "{amount} m/s slower",
	"novel.slower_to_answer":   "{amount} ms slower to answer",
	"novel.quicker_to_answer":  "{amount} ms quicker to answer",
	"novel.more_turn_throttle": "{amount} % more throttle in a turn",
	"novel.less_turn_throttle": "{amount} % less throttle in a turn",
	"novel.more_pull_out":      "{amount} m more to pull out",
	"novel.less_pull_out":      "{amount} m less to pull out",
	"novel.flying_time":        "{times} the flying time",
	"novel.load_factor":        "{times} the g in a level turn",
	"novel.thrust_step":        "{times} the throttle resolution step",
	"change.heavier":           "{amount} g heavier",
	"change.lighter":           "{amount} g lighter",
	"change.pitch":             "pitch {amount} %",
	"change.blade":             "one blade more",
	"change.cell_more":         "one cell more",
	"change.cell_less":         "one cell less",
	"change.capacity":          "{amount} % more capacity",
	"change.worn_pack":         "worn pack, twice the resistance",
	"change.cap":               "throttle stops at {amount} %, stick as it is",
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
	"step.cell-up":             "one cell more",
	"step.cell-down":           "one cell less",
	"step.capacity-up":         "30 % more capacity",
	"step.capacity-down":       "30 % less capacity",
	"step.lighter":             "20 % less weight",
	"step.stronger":            "ESCs for 40 % more current and 15 % more weight",
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
