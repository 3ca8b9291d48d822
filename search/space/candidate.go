package space

import (
	"cmp"

	"partsaloft/inventory"
	"partsaloft/objective"
)

// Candidate is a combination that fits, by index.
type Candidate struct{ Motor, Prop, Pack, Body int32 }

// NewCandidate is the candidate of parts by index.
func NewCandidate(motor, prop, pack, body int) Candidate {
	return Candidate{int32(motor), int32(prop), int32(pack), int32(body)}
}

// Compare orders candidates by the ids of motor, prop, pack, frame, board and extras.
func (c Candidate) Compare(d Candidate) int {
	return cmp.Or(cmp.Compare(c.Motor, d.Motor), cmp.Compare(c.Prop, d.Prop), cmp.Compare(c.Pack, d.Pack),
		cmp.Compare(c.Body, d.Body))
}

// Combination is the candidate with the given indices.
func (s *Space) Combination(c Candidate) inventory.Combination {
	b := &s.Bodies[c.Body]
	return inventory.Combination{
		Motor: s.Motors[c.Motor], Prop: s.Props[c.Prop], Pack: s.Packs[c.Pack],
		Frame: s.Frames[b.Frame], Board: s.Boards[b.Board], Extras: b.With[s.SupplyOf[c.Pack]],
	}
}

// FitsTogether reports whether the parts of any choice go together.
func (s *Space) FitsTogether(c Candidate) bool {
	f, fit := s.Bodies[c.Body].Frame, &s.Compatible
	return fit.Motors[f].Has(int(c.Motor)) && fit.Props[c.Motor].Has(int(c.Prop)) && fit.PropsOf[f].Has(int(c.Prop)) &&
		fit.Packs[c.Motor].Has(int(c.Pack)) && s.Bodies[c.Body].With[s.SupplyOf[c.Pack]] != nil
}

// Each yields every candidate that fits, by frame, motor, prop, pack and body, until yield says no.
func (s *Space) Each(yield func(Candidate) bool) {
	for f := range s.Frames {
		first, end := s.BodyOf[f][0], s.BodyOf[f][1]
		ok := s.Compatible.Motors[f].Each(nil, func(m int) bool {
			return s.Compatible.Props[m].Each(s.Compatible.PropsOf[f], func(p int) bool {
				return s.Compatible.Packs[m].Each(s.Compatible.PacksOf[f], func(k int) bool {
					for b := first; b < end; b++ {
						if s.Bodies[b].With[s.SupplyOf[k]] != nil && !yield(NewCandidate(m, p, k, b)) {
							return false
						}
					}
					return true
				})
			})
		})
		if !ok {
			return
		}
	}
}

// Scored is a candidate with its evaluation.
type Scored struct {
	Candidate  Candidate
	Evaluation objective.Evaluation
}

// Order sorts the better first, ties by ids.
func (a *Scored) Order(b *Scored) int {
	if c := objective.Compare(&a.Evaluation, &b.Evaluation); c != 0 {
		return c
	}
	return a.Candidate.Compare(b.Candidate)
}

// Evaluate predicts and judges a candidate; one that breaks a rule of the style is not scored.
func (s *Space) Evaluate(c Candidate) Scored {
	craft := s.Craft(c)
	return Scored{c, s.Problem.Style.Judge(&craft, &s.asks)}
}
