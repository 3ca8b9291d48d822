package objective

import (
	"fmt"

	"partsaloft/physics"
)

// Rule is what a craft breaks in the air, in the order in which the rules are tried.
type Rule uint8

// The rules.
const (
	Kept Rule = iota
	Currents
	ElectricalRule
	HoverRule
	Thrust
	HeatRule
	StyleLimits
	RuleCount
)

var ruleNames = [RuleCount]string{"kept", "currents", "electrical speed", "hover", "thrust", "heat", "style limits"}

// String returns the rule in words.
func (r Rule) String() string { return ruleNames[r] }

// What every craft must keep, whatever the style (common practice, no source).
const (
	highestHoverPct   = 90.0
	lowestThrustRatio = 2.0
	shortestS         = 6.0 // a tenth of a minute; a flight that ends before it begins is told by it
)

// Keys of broken rules that are no figures: first the mean current of the style's steady segments in per
// cent of a continuous rating.
const (
	BoardMeanKey     = "board_mean_current_use_pct"
	MotorMeanKey     = "motor_mean_current_use_pct"
	ConnectorMeanKey = "connector_mean_current_use_pct"
	// SegmentThrottleKey is the throttle of the hardest steady segment at half charge, in per cent; over 100 it is the
	// voltage needed over the one that there is.
	SegmentThrottleKey = "segment_throttle_pct"
)

// Violation is a rule that a craft breaks and by how much. If Why is not physics.Defined the figure
// could not be computed, and Value is 0.
type Violation struct {
	Rule         Rule
	Key          string
	Unit         string
	Value, Bound float64
	// Excess is how far the value lies beyond the bound, over 0, as a share of the bound.
	Excess float64
	Why    physics.Reason
	// Cap is what holds the throttle to CapPct where that, not the full throttle, is too little.
	Cap    physics.Limit
	CapPct float64
}

// Over reports whether the value is too large, else it is too small.
func (b *Violation) Over() bool { return b.Value > b.Bound }

// String is the violation in brief, for logs and tests.
func (b *Violation) String() string {
	if b.Why != physics.Defined {
		return fmt.Sprintf("%s: %s undefined (%d)", b.Rule, b.Key, b.Why)
	}
	return fmt.Sprintf("%s: %s=%g bound=%g", b.Rule, b.Key, b.Value, b.Bound)
}
