package calibration

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"partsaloft/physics/uncertain"
)

// Quantity is what a pair of stands is compared by.
type Quantity int

// The quantities.
const (
	PowerQuarter Quantity = iota // at a quarter of full thrust
	PowerMost                    // at 60 % of full thrust
	ThrustHalf                   // at half throttle
	ThrustFull
	CurrentHalf
	CurrentFull
	CT // of props alone
	CP
	quantities
)

func (q Quantity) String() string {
	return [...]string{"power at a quarter of full thrust", "power at 60 % of full thrust", "thrust at half throttle",
		"thrust at full throttle", "current at half throttle", "current at full throttle", "CT", "CP"}[q]
}

// Case is one measured quantity with its prediction; all values are logarithms.
type Case struct {
	Stand, Motor, Esc, Prop string
	MotorClass, PropClass   string
	Scaled                  bool // good for pairs alone
	Features                [features]float64
	Measured, Predicted     float64
	Drawn                   []float64
}

// The features that a rule of one feature may use.
const (
	diameter = iota
	pitch
	blades
	kv
	motorSize
	features
)

var featureNames = [features]string{"diameter", "pitch", "blades", "kV", "motor size"}

func caseOf(s *Standing, measured, predicted float64, drawn []float64) Case {
	volume := s.StatorM * s.StatorM * s.TallM
	return Case{Stand: s.Stand, Motor: s.Motor, Esc: s.Esc, Prop: s.Prop, MotorClass: MotorClass(s.StatorM),
		PropClass: PropClass(s.Spec.DiameterM), Scaled: s.ThrustScaled,
		Features: [features]float64{s.Spec.DiameterM, s.Spec.PitchM, float64(s.Spec.Blades), s.LabelKV, volume},
		Measured: measured, Predicted: predicted, Drawn: drawn}
}

// Error is ln of measured over predicted.
func (c *Case) Error() float64 { return c.Measured - c.Predicted }

// Inside reports whether the 80 % interval of the draws, widened by how far a stand repeats itself, holds the reading.
func (c *Case) Inside(repeatLnSD float64) bool {
	low, high := c.interval(repeatLnSD)
	return low <= c.Measured && c.Measured <= high
}

func (c *Case) interval(repeatLnSD float64) (low, high float64) {
	var kept []float64
	for _, x := range c.Drawn {
		if !math.IsNaN(x) {
			kept = append(kept, x)
		}
	}
	low, high = uncertain.Quantile(kept, uncertain.LowShare), uncertain.Quantile(kept, uncertain.HighShare)
	widen := func(end float64) float64 {
		side := end - c.Predicted
		return c.Predicted + math.Copysign(math.Hypot(side, uncertain.HalfWidth()*repeatLnSD), side)
	}
	return math.Min(widen(low), c.Predicted), math.Max(widen(high), c.Predicted)
}

// part is what a case's error hangs on most: its motor, or its prop where there is none.
func (c *Case) part() string {
	if c.Motor == "" {
		return c.Stand + " " + c.Prop
	}
	return c.Stand + " " + c.Motor
}

// Kind is what a pair has in common.
type Kind int

// The kinds.
const (
	SameMotor Kind = iota
	SameProp
	BothDiffer
	PropsAlone
	kinds
)

func (k Kind) String() string {
	return [...]string{"same motor", "same prop", "both differ", "props alone"}[k]
}

// pair is two cases of one stand, seen so that the first is the lower by prediction.
type pair struct {
	kind       Kind
	class      string
	right      bool    // the first is the lower by measurement
	said       float64 // share of draws in which the first is the lower
	difference float64 // ln of the measured ratio, absolute
	weight     float64
	parts      [2]string         // what errs by itself: each case's motor, or its prop where there is none
	rules      [features]float64 // 1 the feature grows with the measured value, 0 falls, 1/2 the same
}

// pairsOf are all pairs of the cases of a group. Every case counts alike: a pair counts one over the number of cases.
func pairsOf(cases []Case) []pair {
	var out []pair
	for i := range cases {
		for j := i + 1; j < len(cases); j++ {
			a, b := &cases[i], &cases[j]
			if b.Predicted < a.Predicted {
				a, b = b, a
			}
			p := pair{weight: 1 / float64(len(cases)), right: a.Measured < b.Measured,
				difference: math.Abs(a.Measured - b.Measured), class: a.PropClass}
			if a.PropClass != b.PropClass {
				p.class = "sizes differ"
			}
			p.parts = [2]string{a.part(), b.part()}
			motor, prop := a.Motor == b.Motor, a.Prop == b.Prop
			switch {
			case a.Measured == b.Measured || motor && prop:
				continue // boards cannot be told apart by their labels
			case a.Motor == "":
				p.kind = PropsAlone
			case motor:
				p.kind = SameMotor
			case prop:
				p.kind = SameProp
			default:
				p.kind = BothDiffer
			}
			var under, n float64
			for s := range a.Drawn {
				x, y := a.Drawn[s], b.Drawn[s]
				switch {
				case math.IsNaN(x) || math.IsNaN(y):
				case x < y:
					under++
					n++
				default:
					n++
				}
			}
			if n == 0 {
				continue
			}
			p.said = under / n
			for f := range p.rules {
				switch x := (a.Features[f] - b.Features[f]) * (a.Measured - b.Measured); {
				case x > 0:
					p.rules[f] = 1
				case x == 0:
					p.rules[f] = 0.5
				}
			}
			out = append(out, p)
		}
	}
	return out
}

// Order is how often an order was right.
type Order struct {
	Pairs    int
	Right    float64 // share, of pairs that differ by over LeastDifference
	Rule     string  // the best rule of one feature, found on the pairs themselves
	RuleHits float64
	Close    float64 // share said to be too close: under CloseShare for either
}

// LeastDifference of the logarithm is what a stand can tell apart.
const LeastDifference = 0.03

// CloseShare is the share under which the program calls a lead too close.
const CloseShare = 0.70

func orderOf(pairs []pair) Order {
	var o Order
	var total, right, near float64
	var hits [features]float64
	for i := range pairs {
		p := &pairs[i]
		if p.difference <= LeastDifference {
			continue
		}
		o.Pairs++
		total += p.weight
		if p.right {
			right += p.weight
		}
		if math.Max(p.said, 1-p.said) < CloseShare {
			near += p.weight
		}
		for f, hit := range p.rules {
			hits[f] += p.weight * hit
		}
	}
	if total == 0 {
		return o
	}
	o.Right, o.Close = right/total, near/total
	for f, h := range hits {
		share, sign := h/total, "more "
		if share < 0.5 {
			share, sign = 1-share, "less "
		}
		if share > o.RuleHits {
			o.RuleHits, o.Rule = share, sign+featureNames[f]
		}
	}
	return o
}

// Band is how often pairs were right that were said to be within a band.
type Band struct {
	Pairs            int
	Said             float64 // mean said share
	Right, RightOver float64 // share right of all, and of those that differ by over LeastDifference
	// Error is the standard error of Right: pairs that share a motor are right or wrong together, so that thousands of
	// pairs may say little.
	Error float64
}

// bandsOf sorts pairs by their said share: 50s, 60s, 70s, 80s, 90s.
func bandsOf(pairs []pair) [5]Band {
	var sorted [5][]pair
	for _, p := range pairs {
		if p.said < 0.5 {
			p.said, p.right = 1-p.said, !p.right
		}
		k := min(int(p.said*10)-5, 4)
		sorted[k] = append(sorted[k], p)
	}
	var out [5]Band
	for k, list := range sorted {
		b := &out[k]
		b.Pairs = len(list)
		b.Said = meanOf(list, func(p *pair) (float64, bool) { return p.said, true })
		b.Right = meanOf(list, rightOf)
		b.RightOver = meanOf(list, func(p *pair) (float64, bool) {
			hit, _ := rightOf(p)
			return hit, p.difference > LeastDifference
		})
		b.Error = jackknife(list)
	}
	return out
}

func rightOf(p *pair) (float64, bool) {
	if p.right {
		return 1, true
	}
	return 0, true
}

// meanOf is the weighted mean of a number of those pairs that count.
func meanOf(pairs []pair, of func(*pair) (x float64, counts bool)) float64 {
	var sum, total float64
	for i := range pairs {
		if x, counts := of(&pairs[i]); counts {
			sum += pairs[i].weight * x
			total += pairs[i].weight
		}
	}
	return sum / total
}

// jackknife is the standard error of the share of pairs that are right, by leaving out one part after the other with
// all its pairs (B. Efron, The Jackknife, the Bootstrap and Other Resampling Plans, SIAM 1982, chapter 3); NaN of fewer
// than three parts.
func jackknife(pairs []pair) float64 {
	touched := map[string]int{}
	var parts []string
	for i := range pairs {
		for _, part := range pairs[i].parts {
			if touched[part] == 0 {
				parts = append(parts, part)
			}
			touched[part]++
		}
	}
	var left []float64
	for _, part := range parts {
		if touched[part] == len(pairs) {
			continue // nothing would be left
		}
		left = append(left, meanOf(pairs, func(p *pair) (float64, bool) {
			hit, _ := rightOf(p)
			return hit, p.parts[0] != part && p.parts[1] != part
		}))
	}
	if len(left) < 3 {
		return math.NaN()
	}
	n := float64(len(left))
	return math.Sqrt((n - 1) * (n - 1) / n * stat.Variance(left, nil))
}
