// Package predict says what combinations do in the air and how sure that is: figures with intervals on
// common draws, shares of the draws in which one stays ahead, differences and what makes them, what to read
// on a first flight and on a thrust stand, which measurement is worth most, and how far a craft lies from
// those that fly already. It makes no sentences: what it says are kinds with values.
package predict

import (
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
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
	Evaluation  objective.Evaluation
	// Violations are the rules it breaks in the air; Misfits say why it cannot be built. Both are
	// empty for a feasible combination. One that cannot be built has no performance.
	Violations []objective.Violation
	Misfits    []Misfit
	// Remarks are findings of fit on what fits but wants a word, Cautions what its numbers warn of, and
	// AtRisk the limits that its figures keep and their intervals do not.
	Remarks  []compat.Finding
	Cautions []physics.Warning
	AtRisk   []LimitAtRisk
	// Figures holds every figure by its quantity.
	Figures [figure.Count]Value
	// Shown is the throttle in hover that a display shows, at half charge: what HoverThrottle's duty is on it.
	Shown Value
	// AheadShare is the share of the draws in which it stays ahead of the next in the list; BestShare
	// that in which it is the best of the list. Both are over the list's feasible results.
	AheadShare, BestShare float64
	// GroundedShare is the share of the draws in which it cannot hover at half charge.
	GroundedShare float64
	// Novelty is how far it lies from the crafts that fly already; nil if nobody asked.
	Novelty *Novelty
}

// FlaggedShare is the GroundedShare from which on it is told (judgement).
const FlaggedShare = 0.10

// Feasible reports whether a combination fits and breaks no rule.
func (r *Result) Feasible() bool { return len(r.Misfits) == 0 && r.Evaluation.Feasible() }

// MisfitKind is a kind of reason why a combination cannot be.
type MisfitKind uint8

// The kinds of misfit.
const (
	DoesNotFit  MisfitKind = iota // a rule of fit: Finding
	CannotBe                      // numbers that no craft has: Err, of the prop Prop if it is that
	TooLight                      // more mass is taken off than frame and extras have: StructureKg
	LacksRoles                    // no extra of wanted roles: Roles
	MisfitKinds                   // one past the last
)

// Misfit is a reason why a combination cannot be.
type Misfit struct {
	Kind        MisfitKind
	Finding     compat.Finding
	Err         error
	Prop        string
	StructureKg float64
	Roles       []inventory.Role
}

// LimitAtRisk is a limit that a figure keeps and its interval does not; Low and High are the interval, in
// the figure's unit.
type LimitAtRisk struct {
	objective.Limit
	Low, High float64
}
