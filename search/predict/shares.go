package predict

import (
	"slices"

	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/physics"
)

// shares sets in how many draws each result stays ahead of the next, and is the best; equal scores
// share. The last has nobody behind it and is ahead in all.
func shares(results []Result, scores [][]float64) {
	var live []int
	for i := range results {
		if scores[i] != nil && results[i].Evaluation.Feasible() {
			live = append(live, i)
		}
	}
	for n, i := range live {
		r := &results[i]
		r.AheadShare, r.BestShare = 1, 0
		draws := float64(len(scores[i]))
		if n+1 < len(live) {
			ahead := 0.0
			for s, x := range scores[i] {
				switch y := scores[live[n+1]][s]; {
				case x > y:
					ahead++
				case x == y:
					ahead += 0.5
				}
			}
			r.AheadShare = ahead / draws
		}
		for s, x := range scores[i] {
			equal := 0
			top := true
			for _, j := range live {
				switch y := scores[j][s]; {
				case y > x:
					top = false
				case y == x:
					equal++
				}
			}
			if top {
				r.BestShare += 1 / (float64(equal) * draws)
			}
		}
	}
}

// Lead is how sure it is that a result stays ahead.
type Lead uint8

// The leads, by the share of draws in which a result is ahead.
const (
	TossUp     Lead = iota
	Likely          // 70 % and more
	Clear           // 90 % and more
	Endangered      // 70 % and more, but what may burn or fall is to be read first
)

// LeadOf is the lead of an AheadShare.
func LeadOf(share float64) Lead {
	switch {
	case share >= 0.90:
		return Clear
	case share >= 0.70:
		return Likely
	}
	return TossUp
}

// String returns the lead in words.
func (l Lead) String() string { return [...]string{"toss-up", "likely", "clear", "danger"}[l] }

// Lead is how sure it is that the result stays ahead of the next in its list.
func (r *Result) Lead() Lead {
	if lead := LeadOf(r.AheadShare); lead == TossUp || !r.Endangered() {
		return lead
	}
	return Endangered
}

// Endangered reports whether something of the result may burn or fall.
func (r *Result) Endangered() bool {
	return slices.ContainsFunc(r.Cautions, func(w physics.Warning) bool { return w.Caution.Danger() }) ||
		slices.ContainsFunc(r.Remarks, func(f compat.Finding) bool { return f.Danger() }) ||
		len(check.Dangers(&r.Combination)) > 0
}
