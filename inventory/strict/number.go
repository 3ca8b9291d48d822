package strict

import (
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
		n.Fault("number.nine_digits", n.got())
		return 0, false
	case x != math.Trunc(x):
		n.Fault("number.whole", Values{"got": Raw(n.yaml.Value), "low": Number(math.Floor(x)), "high": Number(math.Ceil(x))})
		return 0, false
	case !n.inBounds(x):
		return 0, false
	}
	return int(x), true
}

func (n Node) bare(whole bool) (float64, bool) {
	if n.yaml.Kind != yaml.ScalarNode {
		p := Problem{Code: "number.one", Values: Values{"got": n.shape()}}
		if n.yaml.Kind == yaml.SequenceNode {
			p.Way = "write.no_brackets"
		}
		n.Add(p)
		return 0, false
	}
	s := n.yaml.Value
	if plainNumber.MatchString(s) {
		if n.yaml.Style&quoted != 0 {
			n.Add(Problem{Code: "number.bare", Values: Values{"got": Quoted(s)}, Way: "write.no_quotes", Write: s})
			return 0, false
		}
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			n.Add(Problem{Code: "number.finite", Values: n.got(), Way: "check.digits"})
			return 0, false
		}
		return x, true
	}
	if m := octal.FindStringSubmatch(s); m != nil {
		n.Add(Problem{Code: "number.plain", Values: n.got(), Way: "write.octal", Write: m[1] + m[2]})
		return 0, false
	}
	if notFinite.MatchString(s) {
		n.Add(Problem{Code: "number.finite", Values: n.got(), Way: "write.number_or_leave"})
		return 0, false
	}
	p := numberHelp(s, n.rule, whole)
	p.Code = "number.plain"
	n.Add(p.With("got", Raw(s)))
	return 0, false
}

func (n Node) inBounds(x float64) bool {
	r := n.rule
	if x <= r.high && (x > r.low || x == r.low && !r.lowOpen) {
		return true
	}
	values := Values{"got": Raw(n.yaml.Value), "allowed": Bounds{r.low, r.high, r.lowOpen, r.unit}}
	switch {
	case x <= 0 && (r.low > 0 || r.low == 0 && r.lowOpen):
		n.Fault("number.over_zero", values)
	case x < 0 && r.low == 0:
		n.Fault("number.under_zero", values)
	default:
		p := rangeHelp(x, r, n.path)
		p.Code = "number.range"
		for name, value := range values {
			p = p.With(name, value)
		}
		n.Add(p)
	}
	return false
}

// got is what stands at the node, for a message.
func (n Node) got() Values { return Values{"got": Raw(n.yaml.Value)} }
