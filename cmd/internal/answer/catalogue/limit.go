package catalogue

import (
	"cmp"
	"math"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// meanNames are the keys of violations that are no figures, in words.
var meanNames = map[string]string{
	objective.MotorMeanKey:       "mean current in flight, of the motors' estimated continuous current",
	objective.SegmentThrottleKey: "throttle in the hardest segment",
	objective.BoardMeanKey:       "mean current in flight, of the ESC's continuous rating",
	objective.ConnectorMeanKey:   "mean current in flight, of the plug's continuous rating",
}

// FigureName is a figure or what a violation is of, in words.
func FigureName(key string) string {
	if f, ok := figure.ByKey(key); ok {
		return f.Name
	}
	return cmp.Or(meanNames[key], key)
}

// Sentences of a limit that is not kept: the figure is too large, too small, or cannot be computed.
const (
	overLimit      = "{figure} is {value}, must be at most {bound}"
	underLimit     = "{figure} is {value}, must be at least {bound}"
	undefinedLimit = "{figure}: {why}"
	cappedLimit    = "{what}, with the throttle capped at {cap} by {limit}"
	cappedSegment  = "{what}, the cap set by {limit}"
)

// capLimits are what holds the throttle back, in words.
var capLimits = [...]string{
	physics.NoLimit: "nothing", physics.PackLimit: "the pack's C rating",
	physics.CellLimit: "cell voltage under load", physics.BoardLimit: "the ESCs",
	physics.ConnectorLimit: "the plug", physics.MotorLimit: "the motors",
}

// Violation says which limit is not kept, what was found and what it may be, and what caps the throttle where that is
// why.
func Violation(v *objective.Violation) string {
	text := violation(v)
	if v.Cap == physics.NoLimit {
		return text
	}
	form := cappedLimit
	if v.Key == objective.SegmentThrottleKey {
		form = cappedSegment
	}
	return phrase.Fill(form, map[string]any{"what": text, "cap": WithUnit(Fixed(math.Floor(v.CapPct), 0), "%"),
		"limit": capLimits[v.Cap]})
}

func violation(v *objective.Violation) string {
	values := map[string]any{"figure": FigureName(v.Key)}
	if v.Why != physics.Defined {
		values["why"] = Undefined(v.Why)
		return phrase.Fill(undefinedLimit, values)
	}
	gap := math.Abs(v.Value - v.Bound)
	digits := max(Decimals(v.Value, v.Value-gap, v.Value+gap), 0)
	if math.Abs(v.Value) < 10 {
		digits = max(digits, 1)
	}
	values["value"], values["bound"] = WithUnit(Fixed(v.Value, digits), v.Unit), WithUnit(Raw(Round(v.Bound)), v.Unit)
	if v.Key == objective.SegmentThrottleKey { // its bound is a throttle cap, and these are rounded down
		values["bound"] = WithUnit(Fixed(math.Floor(v.Bound), 0), v.Unit)
	}
	if v.Unit == "°C" && v.Over() {
		values["value"] = HeatBand(v.Value)
	}
	if v.Over() {
		return phrase.Fill(overLimit, values)
	}
	return phrase.Fill(underLimit, values)
}
