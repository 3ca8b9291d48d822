package catalogue

import (
	"math"
	"strings"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Property: a violation of any figure, and of the ratings that are no figures, is said with its name, what was found
// and what it may be, or why it cannot be computed.
func TestEveryViolationIsSaid(t *testing.T) {
	keys := append(figure.Keys(), objective.BoardMeanKey, objective.ConnectorMeanKey, objective.SegmentThrottleKey)
	for _, key := range keys {
		if FigureName(key) == key {
			t.Errorf("%s has no name in words", key)
		}
		for _, v := range []objective.Violation{
			{Key: key, Unit: "u", Value: 12, Bound: 10}, {Key: key, Unit: "u", Value: 8, Bound: 10}, {Key: key,
				Why: physics.CannotHover, Bound: math.Inf(1)},
		} {
			text := Violation(&v)
			side := "at least 10 u"
			if v.Over() {
				side = "at most 10 u"
			}
			if v.Why != physics.Defined {
				side = Undefined(v.Why)
			}
			if strings.ContainsAny(text, "{}") || !strings.HasPrefix(text, FigureName(key)) || !strings.Contains(text, side) {
				t.Errorf("%s: %s", key, text)
			}
		}
	}
	if got := Violation(&objective.Violation{Key: "thrust_to_weight", Value: 1.874,
		Bound: 2}); got != "thrust-to-weight is 1.87, must be at least 2" {
		t.Errorf("got %s", got)
	}
}

// What caps the throttle is said with its number where too little is left at the cap.
func TestCapIsSaid(t *testing.T) {
	for limit := physics.PackLimit; limit <= physics.MotorLimit; limit++ {
		v := objective.Violation{Key: "thrust_to_weight", Value: 1.7, Bound: 2, Cap: limit, CapPct: 36.9}
		if got := Violation(&v); !strings.HasSuffix(got, "at least 2, with the throttle capped at 36 % by "+capLimits[limit]) ||
			capLimits[limit] == "" {
			t.Errorf("got %s", got)
		}
	}
	v := objective.Violation{Key: objective.SegmentThrottleKey, Unit: "%", Value: 44, Bound: 36.25, Cap: physics.PackLimit,
		CapPct: 36.25}
	if got := Violation(&v); !strings.HasSuffix(got, "the cap set by the pack's C rating") {
		t.Errorf("got %s", got)
	}
}
