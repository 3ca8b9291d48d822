package search

import (
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// Value is one predicted figure in SI units, with the 10 % and 90 % points over the draws. If Why
// is not physics.Defined the figure is undefined and the numbers are 0.
type Value struct {
	Value, Low, High float64
	Basis            uncertain.Basis
	Why              physics.Reason
}

// Result is one combination with what it is predicted to do.
type Result struct {
	Combination inventory.Combination
	Craft       physics.Craft
	Performance physics.Performance
	Verdict     objective.Verdict
	// Broken lists the rules it breaks in the air; Misfits says which parts do not fit. Both are
	// empty for a feasible combination. One that does not fit has no performance.
	Broken  []objective.Broken
	Misfits []string
	// Notes are what fits but wants a word, and what to mind.
	Notes []string
	// Figures holds every figure by its quantity.
	Figures [figure.Count]Value
	// AheadShare is the share of the draws in which it stays ahead of the next in the list; BestShare
	// that in which it is the best of the list. Both are over the list's feasible results.
	AheadShare, BestShare float64
	// Unlike is how far it lies from the nearest craft of the fleet over all figures, 0 to 1, and
	// UnlikeText says where it differs most from that craft; set if Options.Novel asks for it.
	Unlike     float64
	UnlikeText string

	novelty float64 // Options.Novel
}

// ReasonCount is how many candidates fell to a reason: a fit rule, or a rule in the air.
type ReasonCount struct {
	Reason string
	Count  int64
}

// Miss is an infeasible combination that is near to being feasible, with what would mend it.
type Miss struct {
	Result
	Mend []string
}

// Ranking is the outcome of a search.
type Ranking struct {
	Method string // exact or genetic
	Why    string // why this method
	// Candidates is the size of the space; Evaluated how many craft evaluations the search took;
	// Skipped how many candidates were left out because a bound shows that they cannot enter.
	Candidates, Evaluated, Skipped int64
	// Proven says that no candidate beats what is listed; Gap is how much a better score could
	// still be, 0 if proven.
	Proven      bool
	Gap         float64
	Interrupted bool
	// Infeasible counts the candidates that fell, by the first rule that they break, in the rules'
	// order. An exact search without a bound counts them all.
	Infeasible []ReasonCount
	Best       []Result
	// Front are combinations that none of those looked at beats on every axis: the best of them by
	// score, then the one that leads on each axis. Their shares are not set, unless they are in Best
	// as well. FrontAxes are the axes of all that were found, best score first; FrontProven says that
	// no candidate is missing among them.
	Front       []Result
	FrontAxes   []objective.Axes
	FrontProven bool
	NearMisses  []Miss
	// SetAside are parts of the drawer that nothing could be reckoned with.
	SetAside []SetAside
	// Notes say what else holds for the whole drawer.
	Notes []string
}
