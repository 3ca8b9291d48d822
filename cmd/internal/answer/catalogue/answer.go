// Package catalogue holds the sentences of the program, each once: tables from a code (of a rule, a note, a caution …)
// to a text with {placeholders}, which phrase fills; faults has those of a file. The rooms below carry codes and
// values; what a pilot reads is made here. A file holds the sentences of one room or of one document.
package catalogue

import (
	"maps"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
)

// Answer names a sentence of an answer: what to build, what it does, what limits it, how sure that is.
type Answer string

// answers are the sentences of Answer.
var answers = map[Answer]string{
	// A build in words.
	"build":            "{motors}, {props}, {pack}, {frame}, {board}{carried}{lacks}",
	"build.carried":    "; carries {roles}",
	"build.lacks":      "; no {roles} listed",
	"build.motors":     "{stator} {kv} kV motors",
	"build.mixed":      "{stator} motors, {first} of {first_kv} kV and {second} of {second_kv} kV",
	"build.props":      "{size} {blades}-blade props",
	"build.pack":       "{cells}S {capacity} mAh {chemistry}",
	"build.frame":      "{class}frame",
	"build.inch":       "{inches}-inch ",
	"build.ducted":     "ducted ",
	"build.span":       "{span} mm ",
	"build.whoop":      "whoop ",
	"build.rotors":     "{rotors}-rotor ",
	"build.board":      "{amps} A board",
	"build.this":       "Build: {build}.",
	"build.dangerous":  "Build, but read the dangers below first: {build}.",
	"build.ranked":     "Rank {rank}: {build}.",
	"build.named":      "{name}: {build}.",
	"build.plain":      "{build}.",
	"build.ids":        "Parts: {parts}.",
	"build.advised":    "Build rank {rank}, the best without dangers: {build}.",
	"build.first":      "Rank 1 scores {points} more, but read its dangers below first: {build}.",
	"build.first_even": "Rank 1 scores the same, but has the dangers below: {build}.",
	"build.safer":      "Without dangers: rank {rank}, {behind} points lower: {build}.",
	"build.safer_even": "Without dangers: rank {rank}, same score: {build}.",
	"dangers.rank":     "Rank {ranks}: {danger}.",
	"dangers.ranks":    "Ranks {ranks}: {danger} (figures for rank {first}).",
	"dangers":          "{name}: {dangers}.",
	"expect":           "Expect {mass}, {time}, {ratio}, {speed}; likely ranges in brackets.",
	"expect.mass":      "{value} all-up",
	"expect.time":      "{value} of {style} flying",
	"expect.ratio":     "thrust-to-weight {value}",
	"expect.speed":     "top speed {value}",
	"expect.no_mass":   "weight unknown",
	"expect.no_time":   "no flying time ({why})",
	"expect.no_ratio":  "no thrust-to-weight ({why})",
	"expect.no_speed":  "no top speed ({why})",
	"limit.pack": "Limit: the pack. Full throttle draws {amps}, {use} of the {safe} on its label; {cap}. Its " +
		"resistance alone would allow {sag}, but what its cells can take is not known.",
	"limit.pack_assumed": "Limit: the pack. Its C rating is not given; {safe} is assumed, and full throttle draws {amps}, " +
		"{use} of that; {cap}. If its label allows more, write discharge_c.",
	"limit.cell":     "Limit: cell voltage. At full throttle a full cell sags to {cell}; {cap}.",
	"limit.collapse": "Limit: cell voltage. At full throttle {why}; {cap}.",
	"limit.board": "Limit: the ESCs. Full throttle takes {use} of the {burst} A that one can take for a few " +
		"seconds; {cap}.",
	"limit.plug": "Limit: the plug. Full throttle draws {amps}, {use} of the {peak} A that pilots pull through " +
		"{plug} for a few seconds; {cap}.",
	"limit.motor": "Limit: the motors. Full throttle takes {use} of their max current, {current} A; {cap}.",
	"limit.motor_est": "Limit: the motors. Full throttle takes {use} of {current} A (estimated, max current not " +
		"given); {cap}.",
	"limit.cap": "cap throttle at {duty} duty ({shown} on the display), and check the setting before the first " +
		"punch",
	"limit.none": "No throttle limit needed: full throttle uses at most {most}.",
	"limit.none_given": "No throttle limit needed: full throttle uses at most {most}. Max motor current not " +
		"given: after landing, disarmed and unplugged, check motor temperature.",
	"use.pack":         "{use} of the pack's rating",
	"use.pack_assumed": "{use} of what is assumed for the pack, whose C rating is not given",
	"use.board":        "{use} of one ESC's rating",
	"use.plug":         "{use} of the {peak} A that pilots pull through its plug for a few seconds",
	"use.motor":        "{use} of the motors' max current",
	// How sure it is that the first is the better one, and what would tell.
	"sure.wins":    "Allowing for uncertainty {first} beats rank 2 in {share} of 100 cases: {lead}.",
	"sure.next":    "Allowing for uncertainty {first} beats rank 2 (--top 2 shows it) in {share} of 100 cases: {lead}.",
	"sure.only":    "It is the only build that can be flown.",
	"sure.listed":  "It is the only one listed.",
	"lead.toss-up": "too close to call",
	"lead.likely":  "probably the better one",
	"lead.clear":   "clearly the better one",
	"lead.danger":  "read its dangers first",
	"decide": "To decide between them, {reading}: the better one is then picked in {right} of 100 cases instead " +
		"of {now}.",
	"decide.stand": "Build the one you like better: only a thrust stand would decide between them ({reading}; " +
		"the better one is then picked in {right} of 100 cases instead of {now}).",
	"decide.none":        "Build the one you like better: no single reading would decide between them.",
	"measure.weigh":      "weigh {part}",
	"measure.weigh_all":  "weigh the parts of both",
	"measure.resistance": "read the cell resistance of pack {id} on the charger",
	"measure.capacity":   "recharge pack {id} after a flight to the landing voltage and note the mAh",
	"measure.prop":       "run prop {id} on a thrust stand, one reading",
	"measure.caliper": "measure blade width and angle of prop {id} at three quarters of its radius, with a " +
		"ruler",
	"measure.motor":    "run motor {id} with a known prop on a thrust stand, one reading",
	"measure.rpm":      "build this one and read motor rpm in hover",
	"measure.throttle": "build this one and read the hover throttle",
	"measure.current":  "build this one and read the hover current",
	"measure.time":     "build this one and time a flight",
	// What to do where nothing is feasible, or a build is not to be.
	"nothing.lacking": "Nothing can be built yet: add {kinds}.",
	"nothing.near":    "Nothing here can be flown this way yet. Closest: {build}. To get it flying: {remedy}.",
	"nothing.unfit":   "Nothing here fits together yet. Closest: {build}. In the way: {faults}.",
	"nothing.unfit_weak": "Nothing here fits together yet. Closest: {build}. In the way: {faults}. " +
		"And to fly this way: {remedy}.",
	"nothing.far": "Nothing here can be flown this way yet, and nothing comes close. Run check to see which " +
		"parts fit.",
	"nothing.odd": "Do not build or fly this as it is: {build}.",
	// What to do with several crafts, with a shop, with two builds, with a change.
	"plan.all":     "Build {n:craft|crafts} from this drawer: {met}.",
	"plan.some":    "Build {n:craft|crafts} from this drawer: {met}; short of parts for {unmet}.",
	"plan.none":    "None of these crafts can be built yet; below is what each is short of.",
	"plan.scores":  "The scores add up to {total}, the lowest is {worst}; {proof}.",
	"plan.open":    "not proven best: {why}",
	"buy.part":     "{words} ({part})",
	"buy.get":      "Buy {parts}: score {before} → {after}, better than what you own in {share} of 100 cases.",
	"buy.unblocks": "Buy {parts}: without it nothing you own can be flown, with it the score is {after}.",
	"buy.measure":  "Measure before you buy: {reading}. Nothing on offer is likely to beat what you own.",
	"buy.wait":     "Measure before you buy: nothing on offer is likely to beat what you own.",
	"buy.nothing":  "Buy nothing: nothing on offer raises the score or puts an idle part to use.",
	"buy.idle":     "Buy nothing for the score: what is on offer only puts idle parts to use.",
	"buy.no_help":  "Buy nothing: no single part and no pair on offer gets a craft into the air.",
	"buy.makes":    "Then build: {build}.",
	"buy.owned":    "Build what you own: {build}.",
	"take":         "Take {name}: it beats {other} by {points} ({why}) and is the best in {share} of 100 cases.",
	"take.close": "Take either {name} or {other}: {name} leads by {points} ({why}) but is the best in only " +
		"{share} of 100 cases, too close to call.",
	"take.same": "Take either {name} or {other}: they score the same.",
	"take.safe": "Take {name}, the best without dangers: {first} leads it by {points}, but read its dangers before you " +
		"take it.",
	"take.danger": "Read the dangers of {name} before you take it: it beats {other} by {points} and is the best " +
		"in {share} of 100 cases.",
	"take.only": "Take {name}: it is the only one that can be built and flown, not {out}.",
	"take.none": "Take none of these: none can be built and flown.",
	"vary.do":   "Best change: {change}, {points} points: {deltas}.",
	"vary.bare": "Best change: {change}, {points} points.",
	"vary.none": "Leave it as it is: no change tried here gains anything in this style.",
	// What to read on a first flight, and where.
	"read.scale":          "scale",
	"read.display":        "display",
	"read.stopwatch":      "stopwatch",
	"read.alarm":          "alarm to set",
	"read.mass":           "all-up weight, pack on board",
	"read.hover_throttle": "hover throttle, pack half empty; displays differ, so log throttle_kind too",
	"read.hover_output":   "motor output in hover, pack half empty",
	"read.hover_thrust":   "thrust command in hover, pack half empty",
	"read.hover_signal":   "ESC signal in hover, pack half empty",
	"read.hover_current":  "current in hover, pack half empty",
	"read.punch":          "cell voltage in a short punch, pack full (plug and leads lose some)",
	"read.punch_capped":   "cell voltage in a short punch at the {cap} cap, pack full (plug and leads lose some)",
	"read.time":           "full pack to landing, flown as the style says",
	"read.landing":        "land at this cell voltage on the display",
	"read.landing_pack":   "land at this cell voltage on the display ({pack} V for the pack)",
	// What was searched.
	"searched":        "Searched: {drawer}, {style}, {candidates}{feasible}; {method} search, {evaluated}, {proof}.",
	"searched.plan":   "Searched: {drawer}, {candidates}, {method} search, {evaluated}.",
	"searched.shop":   "Searched: {drawer}, {style}, {evaluated} with what can be bought; {proof}.",
	"searched.most":   "nothing on offer gains more than what is shown",
	"searched.some":   "not all purchases were checked: {why}",
	"buy.before":      "What you own scores {score}.",
	"searched.of":     ", {count} can be flown",
	"searched.all":    "every combination was checked",
	"searched.proven": "proven best",
	"searched.gap":    "not proven best: one up to {points} points better may exist",
	"searched.open":   "not proven best (--method exact checks all)",
	"searched.cut":    "interrupted: the best found so far",
	"searched.none":   "none can be flown",
	"ruled_out":       "Ruled out: {counts}.",
	"ruled_out.by":    "{count} by {reason}",
}

// Template is the sentence with its placeholders.
func (a Answer) Template() string {
	if text, ok := answers[a]; ok {
		return text
	}
	return documents[a]
}

// Sentence is the sentence with its values.
func (a Answer) Sentence(values map[string]any) string { return phrase.Fill(a.Template(), values) }

// Say is a sentence with its values, each behind its name.
func Say(a Answer, named ...any) string {
	values := make(map[string]any, len(named)/2)
	for i := 0; i+1 < len(named); i += 2 {
		if name, ok := named[i].(string); ok {
			values[name] = named[i+1]
		}
	}
	return a.Sentence(values)
}

// Answers are the names of all sentences of Answer.
func Answers() []Answer {
	return append(slices.Collect(maps.Keys(answers)), slices.Collect(maps.Keys(documents))...)
}
