// Package compat holds the rules of fit: which parts go together, and why not. Each rule is a quick verdict for the
// search, which builds no text and allocates nothing, and a finding with its kind and values for the pilot. The rules
// are common practice among pilots; none has a standard behind it.
package compat

import "partsaloft/inventory/strict"

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
	return [...]string{"none", "count", "worn pack", "cells", "holes", "prop mount", "prop size", "stack", "camera",
		"connector", "bay"}[r]
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

// Finding is what a rule says of two parts: its kind as a code, with both parts and both numbers as values and, for a
// misfit, what would put it right.
type Finding struct {
	Rule     Rule
	Severity Severity
	strict.Problem
}

// Danger reports whether a finding of parts that go together is of what may burn: more cells than such a motor is used
// on. It is to be read before anything that speaks for the craft.
func (f *Finding) Danger() bool { return f.Code == "fit.motor_cells_high" }

// found is one finding.
func found(r Rule, s Severity, code strict.Code, values strict.Values) Finding {
	return Finding{r, s, strict.Problem{Code: code, Values: values}}
}

// with are values with one more.
func with(v strict.Values, name string, value any) strict.Values {
	v[name] = value
	return v
}
