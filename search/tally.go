package search

import (
	"cmp"
	"slices"

	"partsaloft/objective"
)

// tally is what a search has found so far. Candidates must be noted in an order that does not
// depend on the workers.
type tally struct {
	evaluated int64
	best      best
	champion  [objective.AxisCount]scored // best on each axis, by that axis alone
	front     frontier
	triples   triples                    // kept for a spread list; else nil
	each      func(*scored)              // told of every evaluated candidate, if set
	fallen    [objective.RuleCount]int64 // candidates by the first rule that they break in the air
	nearest   []scored                   // infeasible, least excess first
}

// note takes in an evaluated candidate.
func (t *tally) note(s *scored) {
	t.evaluated++
	if t.each != nil {
		t.each(s)
	}
	if !s.verdict.Feasible() {
		t.fallen[s.verdict.First]++
		t.noteMiss(s)
		return
	}
	t.best.add(s)
	t.front.add(s)
	if t.triples != nil {
		t.triples.add(s)
	}
	for a := range t.champion {
		if old := &t.champion[a]; s.verdict.Axes[a] > old.verdict.Axes[a] {
			*old = *s
		}
	}
}

// missCount is how many near misses are kept.
const missCount = 5

// noteMiss keeps what is nearest to being feasible, of the same motor, prop and pack one alone.
func (t *tally) noteMiss(s *scored) {
	order := func(a, b *scored) int {
		return cmp.Or(cmp.Compare(a.verdict.Excess, b.verdict.Excess), a.order(b))
	}
	if len(t.nearest) == missCount && order(&t.nearest[missCount-1], s) <= 0 {
		return
	}
	for i := range t.nearest {
		if c := t.nearest[i].candidate; c.motor == s.candidate.motor && c.prop == s.candidate.prop && c.pack == s.candidate.pack {
			if order(&t.nearest[i], s) <= 0 {
				return
			}
			t.nearest = slices.Delete(t.nearest, i, i+1)
			break
		}
	}
	i, _ := slices.BinarySearchFunc(t.nearest, s, func(have scored, s *scored) int { return order(&have, s) })
	t.nearest = slices.Insert(t.nearest, i, *s)
	t.nearest = t.nearest[:min(len(t.nearest), missCount)]
}

// top is the best score so far.
func (t *tally) top() float64 {
	if len(t.best.list) == 0 {
		return 0
	}
	return t.best.list[0].verdict.Score
}
