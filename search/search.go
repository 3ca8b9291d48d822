package search

import (
	"context"
	"fmt"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
)

const defaultTop = 10

// Search ranks the candidates. An ended context is no error: the ranking holds the best so far and
// says that it was interrupted. Nothing feasible is no error either: Best is empty and NearMisses
// is not.
func (s *Space) Search(ctx context.Context, o Options) (*Ranking, error) {
	if o.Top <= 0 {
		o.Top = defaultTop
	}
	if !(o.Novel >= 0 && o.Novel <= 1) {
		return nil, fmt.Errorf("the weight of what is new must be from 0 to 1, got %g", o.Novel)
	}
	o.Workers = workersOr(o.Workers)
	r := &Ranking{Candidates: s.candidates, SetAside: s.aside}
	method, why, err := s.method(o.Method)
	if err != nil {
		return nil, err
	}
	r.Method, r.Why = string(method), why

	// One more than is listed, so that the last has a next to stay ahead of.
	listed := o.Top
	o.Top++
	if o.Novel > 0 {
		o.Top = max(o.Top, novelPool)
	}
	t, list, err := s.seek(ctx, method, &o, r)
	if err != nil {
		return nil, err
	}
	r.Evaluated = t.evaluated
	r.Infeasible = s.infeasible(t)
	if o.Novel > 0 {
		list = s.chooseNew(list, listed, &o, r)
	}
	if o.Spread {
		list = spreadOut(list, listed+1)
	}
	list = list[:min(len(list), listed+1)]
	// What is found is shown in full even after an interrupt.
	s.fill(context.WithoutCancel(ctx), r, t, list, &o, listed)
	return r, nil
}

// seek runs a method and returns what it found, the best list first by score, and notes in the
// ranking how sure that is.
func (s *Space) seek(ctx context.Context, method Method, o *Options, r *Ranking) (*tally, []scored, error) {
	t := &tally{}
	switch {
	case method == Genetic:
		h, err := s.genetic(ctx, o)
		if err != nil {
			return nil, nil, err
		}
		t = &h.tally
		r.Interrupted = ctx.Err() != nil
		r.Proven = !r.Interrupted && t.evaluated >= s.fitted
		r.FrontProven = r.Proven
	case s.fitted <= plainCandidates:
		t.best.n = o.Top
		if o.Spread {
			t.triples = triples{}
		}
		r.Proven = s.plain(ctx, o, t)
		r.FrontProven, r.Interrupted = r.Proven, !r.Proven
		if r.Interrupted {
			r.Gap = 100 - t.top()
		}
	default:
		p, err := s.prove(ctx, o)
		if err != nil {
			return nil, nil, err
		}
		t = p.tally
		r.Proven, r.Interrupted, r.Gap = p.whole, !p.whole, p.gap()
		r.FrontProven = p.fronted
		r.Skipped = s.fitted - t.evaluated
		if p.whole && o.Spread {
			return t, p.picks.list, nil
		}
	}
	if o.Spread {
		return t, t.triples.sorted(), nil
	}
	return t, t.best.list, nil
}

// chooseNew orders a list by the wish for something new. The list stays proven if nothing outside
// of it can come before what is listed, however new.
func (s *Space) chooseNew(list []scored, listed int, o *Options, r *Ranking) []scored {
	fleet := s.flyingFleet()
	outside := 0.0
	if len(list) >= o.Top {
		outside = preferred(list[len(list)-1].verdict.Score, o.Novel, 1)
	}
	list = s.preferNew(list, o.Novel, fleet)
	if last := min(len(list), listed); last > 0 && outside > 0 {
		craft := s.craft(list[last-1].candidate)
		p := craft.Evaluate(&s.problem.Style.Flying)
		u, _ := unlike(&p, fleet)
		if preferred(list[last-1].verdict.Score, o.Novel, u) < outside {
			r.Proven = false
			r.Why += fmt.Sprintf("; what is new is chosen among the %d best by score", o.Top)
		}
	}
	return list
}

// plainCandidates is the number of candidates that fit up to which an exact search looks at each:
// that takes a fraction of a second and counts every reason.
const plainCandidates = 20_000

// method settles how to search and says why.
func (s *Space) method(asked Method) (Method, string, error) {
	size := fmt.Sprintf("%d powertrains fit", s.powertrain)
	if s.powertrain > exactPowertrains {
		size = fmt.Sprintf("over %d powertrains fit", exactPowertrains)
	}
	switch asked {
	case Auto, "":
		if s.powertrain > exactPowertrains {
			return Genetic, size + ", too many to look at each", nil
		}
		return Exact, fmt.Sprintf("%s, no more than %d", size, exactPowertrains), nil
	case Exact, Genetic:
		return asked, "asked for; " + size, nil
	}
	return "", "", fmt.Errorf("%q is no method: it is auto, exact or genetic", asked)
}

// infeasible counts candidates by the first rule that they break, rules of fit first.
func (s *Space) infeasible(t *tally) []ReasonCount {
	var list []ReasonCount
	for r := inventory.RuleCount; r < inventory.RuleEnd; r++ {
		if s.fallen[r] > 0 {
			list = append(list, ReasonCount{r.String(), s.fallen[r]})
		}
	}
	for r := objective.Currents; r < objective.RuleCount; r++ {
		if t.fallen[r] > 0 {
			list = append(list, ReasonCount{r.String(), t.fallen[r]})
		}
	}
	return list
}

// frontShown is how many members of the front come back as results, beside those that lead an
// axis.
const frontShown = 8

// fill makes the results of what a search found.
func (s *Space) fill(ctx context.Context, r *Ranking, t *tally, list []scored, o *Options, listed int) {
	d := newDraws(o.Draws, o.Seed)
	style := &s.problem.Style
	made := map[candidate]Result{}
	var fleet []flying
	if o.Novel > 0 {
		fleet = s.flyingFleet()
	}
	results := func(list []scored) []Result {
		out := make([]Result, len(list))
		var fresh []int
		for i := range list {
			if have, ok := made[list[i].candidate]; ok {
				out[i] = have
				continue
			}
			out[i] = s.result(&list[i])
			if o.Novel > 0 {
				out[i].setUnlike(fleet, o.Novel)
			}
			fresh = append(fresh, i)
		}
		added := make([]Result, len(fresh))
		for n, i := range fresh {
			added[n] = out[i]
		}
		judgeDraws(ctx, added, style, d, o.Workers)
		for n, i := range fresh {
			out[i] = added[n]
			made[list[i].candidate] = added[n]
		}
		return out
	}
	r.Best = results(list)
	r.Best = r.Best[:min(len(r.Best), listed)]

	whole := t.front.sorted()
	shown := whole[:min(len(whole), frontShown)]
	for a := range t.champion {
		if c := &t.champion[a]; c.verdict.Axes[a] > 0 && !contains(shown, c.candidate) {
			shown = append(shown[:len(shown):len(shown)], *c)
		}
	}
	r.Front = results(shown)
	for i := range whole {
		r.FrontAxes = append(r.FrontAxes, whole[i].verdict.Axes)
	}
	if len(r.Best) == 0 {
		r.NearMisses = s.misses(ctx, t, d, o.Workers)
	}
}

func contains(list []scored, c candidate) bool {
	for i := range list {
		if list[i].candidate == c {
			return true
		}
	}
	return false
}

// result works a candidate out in full, but for its intervals.
func (s *Space) result(found *scored) Result {
	c := s.combination(found.candidate)
	return s.predict(c, s.si.propellers[found.candidate.prop])
}

// predict works a combination out in full, but for its intervals.
func (s *Space) predict(c inventory.Combination, prop *physics.Propeller) Result {
	return predict(c, prop, &s.problem)
}
