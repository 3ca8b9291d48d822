package strict

import (
	"fmt"
	"math"
	"regexp"
	"strconv"

	"gopkg.in/yaml.v3"
)

var (
	plainNumber = regexp.MustCompile(`^[+-]?(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?$`)
	octal       = regexp.MustCompile(`^([+-]?)0+([0-9]+(?:\.[0-9]*)?)$`)
	notFinite   = regexp.MustCompile(`^[+-]?\.?(?i:nan|inf|infinity)$`)
)

// Number reads a bare, finite number inside the rule's bounds.
func (n Node) Number() (float64, bool) {
	x, ok := n.bare(false)
	if !ok || !n.inBounds(x) {
		return 0, false
	}
	return x, true
}

// Int reads a bare whole number inside the rule's bounds.
func (n Node) Int() (int, bool) {
	x, ok := n.bare(true)
	switch {
	case !ok:
		return 0, false
	case math.Abs(x) > 1e9:
		n.Fault("must be a whole number of at most nine digits, got %s; check the digits", Show(n.yaml.Value))
		return 0, false
	case x != math.Trunc(x):
		n.Fault("must be a whole number, got %s; write %s or %s", Show(n.yaml.Value), formatNumber(math.Floor(x)), formatNumber(math.Ceil(x)))
		return 0, false
	case !n.inBounds(x):
		return 0, false
	}
	return int(x), true
}

func (n Node) bare(whole bool) (float64, bool) {
	if n.yaml.Kind != yaml.ScalarNode {
		way := ""
		if n.yaml.Kind == yaml.SequenceNode {
			way = "; write one number without brackets"
		}
		n.Fault("must be one number, got %s%s", n.kind(), way)
		return 0, false
	}
	s := n.yaml.Value
	if plainNumber.MatchString(s) {
		if n.yaml.Style&quoted != 0 {
			n.Fault("must be a bare number, got %s; write %s without quotes", strconv.Quote(s), s)
			return 0, false
		}
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			n.Fault("must be a finite number, got %s; check the digits", Show(s))
			return 0, false
		}
		return x, true
	}
	if m := octal.FindStringSubmatch(s); m != nil {
		n.Fault("must be a plain number, got %s; write %s%s, a leading zero can mean an octal number", Show(s), m[1], m[2])
		return 0, false
	}
	if notFinite.MatchString(s) {
		n.Fault("must be a finite number, got %s; write a number, or leave the key out", Show(s))
		return 0, false
	}
	n.Fault("must be a plain number, got %s; %s", Show(s), numberHelp(s, n.rule, whole))
	return 0, false
}

func (n Node) inBounds(x float64) bool {
	r := n.rule
	if x <= r.high && (x > r.low || x == r.low && !r.lowOpen) {
		return true
	}
	got := Show(n.yaml.Value)
	switch allowed := r.bounds(); {
	case x <= 0 && (r.low > 0 || r.low == 0 && r.lowOpen):
		n.Fault("must be over 0, got %s; allowed is %s", got, allowed)
	case x < 0 && r.low == 0:
		n.Fault("must not be under 0, got %s; allowed is %s", got, allowed)
	default:
		check := "check the digits and the unit in the key"
		if r.unit == "" {
			check = "check the digits"
		}
		if help := rangeHelp(x, r, n.path); help != "" {
			check = help
		}
		n.Fault("must be %s, got %s; %s", allowed, got, check)
	}
	return false
}

// bounds says the allowed range with its unit.
func (r rule) bounds() string {
	unit := ""
	if r.unit != "" {
		unit = " " + r.unit
	}
	low, high := formatNumber(r.low), formatNumber(r.high)
	switch {
	case math.IsInf(r.high, 1) && r.lowOpen:
		return "over " + low + unit
	case math.IsInf(r.high, 1):
		return "at least " + low + unit
	case math.IsInf(r.low, -1):
		return "at most " + high + unit
	case r.lowOpen:
		return fmt.Sprintf("over %s and at most %s%s", low, high, unit)
	}
	return fmt.Sprintf("from %s to %s%s", low, high, unit)
}

func formatNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
