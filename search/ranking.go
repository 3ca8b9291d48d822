package search

import (
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// ReasonCount is how many candidates fell to a reason: a fit rule, or a rule in the air.
type ReasonCount struct {
	Reason string
	Count  int64
}

// NearMiss is an infeasible combination that is near to being feasible, with what would mend it.
type NearMiss struct {
	predict.Result
	Remedies []Remedy
}

// Ranking is the outcome of a search.
type Ranking struct {
	Drawer string // its name
	Method string // exact or genetic
	Why    Why    // why this method
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
	// Best are the best builds of the best groups: the rows. Groups say, row by row, what stands behind each.
	Best   []predict.Result
	Groups []Group
	// BestScore is the score of the best build of all, which is not the first where something new is wished for.
	BestScore float64
	// Most is the most that any build that was looked at has of each axis.
	Most objective.Axes
	// Front are combinations that none of those looked at beats on every axis: the best of them by
	// score, then the one that leads on each axis. Their shares are not set, unless they are in Best
	// as well. FrontAxes are the axes of all that were found, best score first; FrontProven says that
	// no candidate is missing among them, AxesProven that none has more of an axis than those that lead on it.
	Front       []predict.Result
	FrontAxes   []objective.Axes
	FrontProven bool
	AxesProven  bool
	// FrontGap is by how many points on every axis at most a candidate that is missing lies beyond some member of the
	// front; 0 where it is proven, or where nothing is known.
	FrontGap   float64
	NearMisses []NearMiss
	// SetAside are parts of the drawer that nothing could be reckoned with.
	SetAside []space.SetAside
	// Lacking are the kinds of part that a craft needs and the drawer holds none of; then there is nothing
	// else.
	Lacking []inventory.Kind
}
