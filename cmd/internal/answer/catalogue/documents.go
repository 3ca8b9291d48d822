package catalogue

import "partsaloft/cmd/internal/answer/catalogue/phrase"

// documents are the sentences of Answer in the documents of one question each.
var documents = map[Answer]string{
	"points":             "{points} points",
	"doing.preparing":    "preparing the parts",
	"doing.searching":    "searching for the best builds",
	"doing.doubting":     "working out likely ranges",
	"doing.detailing":    "working out figures",
	"doing.varying":      "trying changes",
	"doing.purchasing":   "trying purchases",
	"doing.planning":     "sharing out the parts",
	"why.same":           "It scores the same as rank 2{why}.",
	"why.leads":          "It leads rank 2 by {points}{why}.",
	"why.behind":         "Rank 1 leads it by {points}{why}.",
	"why.behind_same":    "Rank 1 scores the same{why}.",
	"why.axes":           ": {axes}",
	"why.gives":          "{axis} gives {points} ({against})",
	"why.costs":          "{axis} costs {points} ({against})",
	"miss":               "{build}: {faults}.",
	"miss.fix":           "{build}: {faults}. To fix it: {fix}.",
	"instead":            "{build}: {deltas}; score {score}",
	"instead.danger":     "{offer}; danger: {dangers}",
	"instead.none":       "nothing has noticeably more than this one",
	"instead.none_found": "nothing found has noticeably more than this one",
	"instead.gap":        "Not every build was checked for these: one with up to {points} points (of 100) more on an axis may exist.",
	"instead.axes":       "{axes}: {offer}.",
	"axis.unweighted":    "{axis} {value} of 100, not counted in this style.",
	"axis.free":          "{axis} {value} of 100, weight {weight} %: costs nothing.",
	"axis.costs":         "{axis} {value} of 100, weight {weight} %: costs {points} points, because of {figure} {number}.",
	"axis.costs_most": "{axis} {value} of 100, weight {weight} %: costs {points} points, mostly because of " +
		"{figure} {number}.",
	"score.costs": "Costs: points the score would gain if that axis alone were at 100. In brackets: how good " +
		"each figure is, from 0 to 100.",
	"score.ahead":    "It is {points} ahead of {rank}: {reasons}.",
	"score.behind":   "It is {points} behind {rank}: {reasons}.",
	"stands.score":   "Score {score} of 100 in {style}.",
	"stands.breaks":  "It breaks a limit, so rank leaves it out.",
	"stands.only":    "It is the only build from this drawer that can be flown.",
	"stands.at":      "It is at rank {rank}; rank 1 is {build}.",
	"stands.below":   "It is not among the best {listed}; rank 1 is {build}, score {best}.",
	"flight":         "A flight in this style uses {used} of {capacity} mAh in {minutes} and ends {end}.",
	"flight.reserve": "with {left} % of the charge in reserve",
	"flight.cell":    "when the cells reach {cell} V under load, before the reserve",
	"punch.full": "Full throttle, held from a full pack, pulls the cells down to {cell} V in about " +
		"{time}.",
	"punch.capped": "Capped throttle, held from a full pack, pulls the cells down to {cell} V in about " +
		"{time}.",
	"punch.full_at_once":   "Full throttle pulls full cells below {cell} V at once.",
	"punch.capped_at_once": "Capped throttle pulls full cells below {cell} V at once.",
	"trade.none":           "{axis}: nothing; no build from this drawer has more.",
	"trade.none_found":     "{axis}: nothing; no build found has more.",
	"trade":                "{axis}: {points:point|points}, {against}; {other} has the most.",
	"swap":                 "{part} → {to}: {what}",
	"swap.heavier":         "{amount} g heavier",
	"swap.lighter":         "{amount} g lighter",
	"swap.hover":           "hover {was} → {is}",
	"swap.score":           "score {gain}",
	"swap.axis":            "{axis}: {swap}.",
	"spares":               "Spare props left of {id}: {left}.",
	"spares.sets":          "Spare props left of {id}: {left}, {sets:full set|full sets}.",
	"packs.beaten":         "{pack} weighs less and flies longer",
	"packs.breaks":         "breaks: {limit}",
	"packs.weak":           "too weak for flying {ways}",
	"class.left":           "{left} g to spare under {class} ({range}).",
	"class.over":           "It is {over} g over {class} ({range}).",
	"class.either":         "Weigh it: at {mass} ({range}) it may be over or under {class}.",
	"class.swap":           "{part} → {to}: {mass}, score {gain}",
	"class.swaps":          "One swap gets it under: {swaps}.",
	"class.no_swap":        "No single swap gets it under.",
	"compare.title":        "Side by side, {style}",
	"compare.told":         "What {other} has over {first}, and why",
	"compare.side":         "{name}: {build}{why}.",
	"compare.misfit":       "; cannot be built: {reasons}",
	"compare.limit":        "; breaks a limit: {limit}",
	"compare.difference":   "{figure} {more}{range}{causes}",
	"compare.range":        " ({range})",
	"compare.causes":       ": {causes}",
	"compare.cause":        "{what} {by}",
	"vary.base":            "Score {score} in {style}: {axes}.",
	"vary.axis":            "{axis} {value} ({figure})",
	"vary.cannot":          "{change}: {reasons}.",
	"rank.unlike":          "rank {rank}: {what}.",
	"move.in":              "{build} comes in at {rank}",
	"move.from":            "{build} goes from {before} to {rank}",
	"move.out":             "{build}, at {before} before, leaves the list",
	"plan.unmet":           "{craft}: {reasons}.",
	"left.pieces":          "{id} ×{pieces}",
	"left.retire":          "{id} (retire it)",
	"left.uncounted":       "{id} (not counted)",
	"left.kind":            "{kind}s: {parts}.",
	"fits.title":           "Which {a} fits which {b}",
	"fits.too_many": "{as} kinds of {a} and {bs} of {b}: over {most} pairs, too many to list. Check fewer at a " +
		"time, or let rank find what goes together",
	"fits.alone":      "{kind} {id} fits no {other} in the drawer",
	"fits.alike":      "; same with {others}",
	"bench.on_stand":  "{title} on a stand",
	"bench.alone":     "{title} alone",
	"pick.nothing":    "nothing that can be flown in this style has {parts}; name all parts to see why: {form}",
	"bench.cells":     "{cells}S is read as {volts} V at the ESC, {cell} V a cell.",
	"bench.with":      "{motors} with {props}",
	"bench.undefined": "No number: {why}.",
	"gap.mass":        "weigh {kind} {id}",
	"gap.winding":     "look up the winding resistance of motor {id}",
	"gap.no_load":     "read the current of motor {id} without a prop at a known voltage",
	"gap.cell":        "read the cell resistance of pack {id} with a charger",
	"gap.hover":       "weigh a craft with prop {id}, read its rotor rpm in hover and log both",
	"gap.drag":        "give the drag area of frame {id}, or log a timed top speed and run learn",
	"gap.power":       "measure the power {kind} {id} draws, in W",
	"gaps.one":        "This measurement",
	"gaps.two":        "These two measurements",
	"gaps.three":      "These three measurements",
	"gaps": "{these} would narrow the score from ±{before} to ±{after} points, on average over {builds} in style " +
		"{style}{halved}.",
	"gaps.halved": ", and halve the uncertainty of {count} of them",
	"gaps.builds": "{n:build|builds} that can be flown",
	"gaps.best":   "the {n} best builds",
	"gaps.many":   "the drawer holds over {most} kinds of prop, too many to say which reading helps most",
	"gaps.none":   "no build can be flown in style {style}, so no measurement helps yet",
	"buy.gain": "{parts}: +{gain} points, {before} → {after}, better in {share} of 100 cases{price}{deltas}; " +
		"makes {build}{uses}.",
	"buy.no_gain":        "{parts}: no gain in this style{price}; makes {build}{uses}.",
	"buy.price":          "; {price} {currency}",
	"buy.price_per":      "; {price} {currency}, {per} points per {unit}",
	"buy.deltas":         "; {deltas}",
	"buy.uses":           "; puts to use {parts}",
	"buy.outfit":         "{part} (equipped like {outfit})",
	"buy.unit":           "unit of price",
	"style.about":        "{style}: {about} Flown {segments}.{carries}",
	"style.plain":        "{style}: Flown {segments}.{carries}",
	"style.carries":      " Must carry: {roles}.",
	"style.ducted":       "{limit} with ducts",
	"segment":            "{share} % {kind}",
	"segment.speed":      " {speed} m/s",
	"segment.speed_part": " at {share} % of full speed",
	"segment.load":       " at {load} g",
	"segment.load_part":  " with {share} % of spare thrust",
}

// Holding says what a list of combinations holds that is ranked anew for other weights and limits, and how far its
// order can be trusted.
type Holding uint8

// The sentences on what is held, in the order in which they follow each other.
const (
	HoldingCounts     Holding = iota // what was looked at and what is feasible
	HoldingUnproven                  // what a search came across
	HoldingProvenTop                 // how many places are proven all the same
	HoldingAll                       // everything feasible
	HoldingWithinLoss                // the best up to a bound
	HoldingBest                      // everything that can be the best
	HoldingKept                      // limits that cannot be moved
	HoldingLeftOut                   // a part that was set aside
	HoldingEnd                       // one past the last
)

var holdings = [HoldingEnd]string{
	HoldingCounts: "Style {style}: {candidates} combinations, {fitted} fit together, {feasible} of {whole} can " +
		"be flown.",
	HoldingUnproven: "Too many to check them all: this page holds {held} of the {evaluated} that the search " +
		"tried. If you change weights or limits, something better may be missing.",
	HoldingProvenTop: "With the weights it opens with, the first {complete} places are proven.",
	HoldingAll:       "All of them are in this page, so the order is complete for any weights and limits.",
	HoldingWithinLoss: "This page holds {held} of them. Whatever the weights and limits, the best in the drawer " +
		"scores at most {loss} % more than the first place here.",
	HoldingBest: "This page holds {held} of them: every build that can come first for some weights and limits. " +
		"Whatever you set, the first place is the best in the drawer. Further down, a build may be missing if " +
		"another one beats it in everything; as the page opens, the first {complete} places are complete.",
	HoldingKept:    "Always kept: {limits}.",
	HoldingLeftOut: "Left out: {kind} {id}, {reason}.",
}

// Sentence is the sentence with its values.
func (h Holding) Sentence(values map[string]any) string { return phrase.Fill(holdings[h], values) }
