package inventory

// Rule is a rule of fit, in the order in which they are tried.
type Rule uint8

// The rules; NoRule is the zero value and means that nothing fails.
const (
	NoRule Rule = iota
	RuleCount
	RuleWear
	RuleCells
	RuleHoles
	RulePropMount
	RulePropSize
	RuleStack
	RuleCamera
	RuleConnector
	RuleBay
	RuleEnd // one past the last
)

// String is the rule's name in output.
func (r Rule) String() string {
	return [...]string{"none", "count", "worn pack", "cells", "holes", "prop mount", "prop size", "stack", "camera", "connector", "bay"}[r]
}

// Severity is what a rule says of two parts.
type Severity uint8

// The severities: they fit; they fit with a remark; not enough is known; they do not fit.
const (
	Fits Severity = iota
	Remark
	Unknown
	Misfit
)

// String is the severity's name in output.
func (s Severity) String() string { return [...]string{"fits", "note", "unknown", "fault"}[s] }

// Finding is what a rule says of two parts, in one sentence with both parts and both numbers and,
// for a misfit, what would mend it.
type Finding struct {
	Rule     Rule
	Severity Severity
	Text     string
}
