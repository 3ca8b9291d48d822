package solve

import (
	"cmp"
	"slices"

	"partsaloft/objective"
	"partsaloft/search/space"
)

// Incumbents is what a search has found so far. Candidates must be noted in an order that does not
// depend on the workers.
type Incumbents struct {
	Evaluated  int64
	Best       topN
	Champions  [objective.AxisCount]space.Scored // best on each axis, by that axis alone
	Front      ParetoFront
	Groups     Groups                     // kept for a spread list; else empty
	Each       func(*space.Scored)        // told of every evaluated candidate, if set
	Excluded   [objective.RuleCount]int64 // candidates by the first rule that they break in the air
	NearMisses []space.Scored             // infeasible, least excess first
}

// NewIncumbents are those of a search that has found nothing yet.
func NewIncumbents(s *space.Space, o *Options) Incumbents {
	t := Incumbents{Best: groupedTop(s, o)}
	if o.Spread {
		t.Groups = Groups{of: s.Group, best: map[space.Group]space.Scored{}}
	}
	return t
}

// note takes in an evaluated candidate.
func (t *Incumbents) note(s *space.Scored) {
	t.Evaluated++
	if t.Each != nil {
		t.Each(s)
	}
	if !s.Evaluation.Feasible() {
		t.Excluded[s.Evaluation.First]++
		t.noteMiss(s)
		return
	}
	t.Best.add(s)
	t.Front.add(s)
	t.Groups.add(s)
	for a := range t.Champions {
		if old := &t.Champions[a]; s.Evaluation.Axes[a] > old.Evaluation.Axes[a] {
			*old = *s
		}
	}
}

// Take takes in what another search of the same space has found.
func (t *Incumbents) Take(other *Incumbents) {
	evaluated, excluded := t.Evaluated, t.Excluded
	for _, list := range [...][]space.Scored{other.Best.List, other.Champions[:], other.Front.members(), other.NearMisses} {
		for i := range list {
			if !list[i].Evaluation.Feasible() || list[i].Evaluation.Axes.Sum() > 0 {
				t.note(&list[i])
			}
		}
	}
	for _, s := range other.Groups.Sorted() {
		t.Groups.add(&s)
	}
	t.Evaluated, t.Excluded = evaluated+other.Evaluated, excluded
}

// NearMissCount is how many near misses are kept.
const NearMissCount = 5

// noteMiss keeps what is nearest to being feasible, of the same motor, prop and pack one alone.
func (t *Incumbents) noteMiss(s *space.Scored) {
	order := func(a, b *space.Scored) int {
		return cmp.Or(cmp.Compare(a.Evaluation.Excess, b.Evaluation.Excess), a.Order(b))
	}
	if len(t.NearMisses) == NearMissCount && order(&t.NearMisses[NearMissCount-1], s) <= 0 {
		return
	}
	for i := range t.NearMisses {
		if c, d := t.NearMisses[i].Candidate, s.Candidate; c.Motor == d.Motor && c.Prop == d.Prop && c.Pack == d.Pack {
			if order(&t.NearMisses[i], s) <= 0 {
				return
			}
			t.NearMisses = slices.Delete(t.NearMisses, i, i+1)
			break
		}
	}
	i, _ := slices.BinarySearchFunc(t.NearMisses, s,
		func(have space.Scored, s *space.Scored) int { return order(&have, s) })
	t.NearMisses = slices.Insert(t.NearMisses, i, *s)
	t.NearMisses = t.NearMisses[:min(len(t.NearMisses), NearMissCount)]
}

// BestScore is the best score so far.
func (t *Incumbents) BestScore() float64 {
	if len(t.Best.List) == 0 {
		return 0
	}
	return t.Best.List[0].Evaluation.Score
}
