package search

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

const defaultTop = 10

// Search ranks the candidates of a problem. An ended context is no error: the ranking holds the best so far and
// says that it was interrupted. Nothing feasible is no error either: Best is empty and NearMisses
// is not; where the drawer lacks a kind of part, NearMisses is empty as well.
func Search(ctx context.Context, p space.Problem, o Options) (*Ranking, error) {
	if kinds := space.Lacking(p.Drawer); kinds != nil {
		return &Ranking{Drawer: p.Drawer.Name, Method: string(Exact), Why: Why{Kind: KindMissing}, Proven: true,
			Lacking: kinds}, nil
	}
	job := progress.Of(ctx)
	prepare, list := job.Plan(progress.Preparing, space.Work(p.Drawer)), job.Plan(progress.Searching, o.Work(p.Drawer))
	s, err := space.New(prepare.In(ctx), p, o.Workers)
	if err != nil {
		return nil, err
	}
	prepare.End()
	return rank(list.In(ctx), s, o)
}

// rank ranks the candidates of a space.
func rank(ctx context.Context, s *space.Space, o Options) (*Ranking, error) {
	if o.Top <= 0 {
		o.Top = defaultTop
	}
	if !(o.Novel >= 0 && o.Novel <= 1) {
		return nil, fmt.Errorf("the weight of what is new must be from 0 to 1, got %g", o.Novel)
	}
	o.Workers = parallel.Workers(o.Workers)
	r := &Ranking{Drawer: s.Problem.Drawer.Name, Candidates: s.Candidates, SetAside: s.SetAside}
	method, why, err := methodFor(s, o.Method)
	if err != nil {
		return nil, err
	}
	r.Method, r.Why = string(method), why

	k := ranker{space: s, options: &o, ranking: r, listed: o.Top}
	// One more than is listed, so that the last has a next to stay ahead of.
	o.Top++
	if o.Novel > 0 {
		o.Top = max(o.Top, novelPool)
		k.fleet = predict.Fleet(&s.Problem)
	}
	k.work = o.plan(ctx, s, method)
	list, err := k.seek(k.work.seek.In(ctx), method)
	if err != nil {
		return nil, err
	}
	k.work.seek.End()
	r.Evaluated, r.BestScore = k.found.Evaluated, k.found.BestScore()
	r.Infeasible = infeasible(s, k.found)
	if o.Novel > 0 {
		list = k.chooseNew(list)
	}
	if o.Spread {
		list = solve.Diverse(s, list, k.listed+1)
	}
	// What is found is shown in full even after an interrupt.
	k.fill(context.WithoutCancel(ctx), list[:min(len(list), k.listed+1)])
	return r, nil
}

// ranker makes a ranking of what a solver finds.
type ranker struct {
	space   *space.Space
	options *Options
	ranking *Ranking
	listed  int              // how many are listed
	fleet   []predict.Flying // what flies already, if something new is wished for
	found   *solve.Incumbents
	work    listing
}

// seek runs a method and returns the best list, first by score, and notes in the ranking how sure that is.
func (k *ranker) seek(ctx context.Context, method Method) ([]space.Scored, error) {
	s, o, r := k.space, k.options, k.ranking
	k.found = &solve.Incumbents{}
	switch {
	case method == Genetic:
		h, err := solve.Genetic(ctx, s, o.solve())
		if err != nil {
			return nil, err
		}
		k.found = &h.Incumbents
		r.Interrupted = ctx.Err() != nil
		r.Proven = !r.Interrupted && k.found.Evaluated >= s.Fitted
		r.FrontProven, r.AxesProven = r.Proven, r.Proven
	case s.Fitted <= plainCandidates:
		*k.found = solve.NewIncumbents(s, o.solve())
		r.Proven = solve.Enumerate(ctx, s, o.solve(), k.found)
		r.FrontProven, r.AxesProven, r.Interrupted = r.Proven, r.Proven, !r.Proven
		if r.Interrupted {
			r.Gap = 100 - k.found.BestScore()
		}
	default:
		search := o.solve()
		if r.Why.Kind != MethodAsked {
			search.MaxProof = cmp.Or(o.MaxProof, defaultMaxProof)
		}
		p, err := solve.BranchAndBound(ctx, s, search)
		if err != nil {
			return nil, err
		}
		k.found = p.Incumbents
		r.Proven, r.Interrupted, r.Gap = p.Whole, ctx.Err() != nil && !p.Whole, p.Gap()
		if !p.Whole && !r.Interrupted {
			r.Method = string(Genetic)
			if p.Begun() {
				r.Why = Why{Kind: LongProof, Count: p.Looks(), Most: search.MaxProof}
			} else {
				r.Why.Kind = ManyPowertrains
			}
			k.work.seek.End()
			h, err := solve.Genetic(k.work.seek.Plan(progress.Searching, mostLooked).In(ctx), s, o.solve())
			if err != nil {
				return nil, err
			}
			k.found.Take(&h.Incumbents)
			if r.Gap = p.Gap(); !p.Begun() {
				r.Gap = 0 // nothing is known
			}
		}
		r.FrontProven, r.AxesProven = p.Fronted, p.Led
		if p.FrontGap < 100 {
			r.FrontGap = p.FrontGap
		}
		r.Skipped = s.Fitted - k.found.Evaluated
		if p.Whole && o.Spread {
			return p.Picks.List, nil
		}
	}
	if o.Spread {
		return k.found.Groups.Sorted(), nil
	}
	return k.found.Best.List, nil
}

// chooseNew orders a list by the wish for something new. The list stays proven if nothing outside
// of it can come before what is listed, however new.
func (k *ranker) chooseNew(list []space.Scored) []space.Scored {
	s, o, r := k.space, k.options, k.ranking
	outside := 0.0
	if len(list) >= o.Top {
		outside = predict.Preferred(list[len(list)-1].Evaluation.Score, o.Novel, 1)
	}
	list = preferNew(s, list, o.Novel, k.fleet)
	if last := min(len(list), k.listed); last > 0 && outside > 0 {
		craft := s.Craft(list[last-1].Candidate)
		p := craft.Evaluate(&s.Problem.Style.Flying)
		u, _ := predict.Unlike(&p, k.fleet)
		if predict.Preferred(list[last-1].Evaluation.Score, o.Novel, u) < outside {
			r.Proven = false
			r.Why.Pool = o.Top
		}
	}
	return list
}

// plainCandidates is the number of candidates that fit up to which an exact search looks at each:
// that takes a fraction of a second and counts every reason.
const plainCandidates = 20_000

// methodFor settles how to search and says why.
func methodFor(s *space.Space, asked Method) (Method, Why, error) {
	why := Why{Count: s.Powertrains, Most: space.MaxPowertrains}
	if s.Powertrains > space.MaxPowertrains {
		why.Count, why.Over = space.MaxPowertrains, true
	}
	switch asked {
	case Auto, "":
		if why.Over {
			why.Kind = ProvablePowertrains
			return Exact, why, nil
		}
		why.Kind = FewPowertrains
		return Exact, why, nil
	case Exact, Genetic:
		why.Kind = MethodAsked
		return asked, why, nil
	}
	return "", why, fmt.Errorf("%q is not a method: it is auto, exact or genetic", asked)
}

// infeasible counts candidates by the first rule that they break, rules of fit first.
func infeasible(s *space.Space, t *solve.Incumbents) []ReasonCount {
	var list []ReasonCount
	for r := compat.RuleCount; r < compat.RuleEnd; r++ {
		if s.Excluded[r] > 0 {
			list = append(list, ReasonCount{r.String(), s.Excluded[r]})
		}
	}
	for r := objective.Currents; r < objective.RuleCount; r++ {
		if t.Excluded[r] > 0 {
			list = append(list, ReasonCount{r.String(), t.Excluded[r]})
		}
	}
	return list
}

// frontShown is how many members of the front come back as results, beside those that lead an
// axis.
const frontShown = 8

// fill makes the results of what a search found.
func (k *ranker) fill(ctx context.Context, list []space.Scored) {
	r := k.ranking
	style, of := &k.space.Problem.Style, k.options.Sampling(k.space.Problem.Drawer)
	d := predict.NewDraws(of)
	rows := k.results(list)
	if !k.options.Nominal {
		scores := predict.Judge(k.work.rows.In(ctx), rows, style, d, k.options.Workers)
		k.work.rows.End()
		predict.Sharpen(k.work.sharpen.In(ctx), rows, scores, style, of)
	}
	k.work.sharpen.End()
	r.Best = rows[:min(len(rows), k.listed)]
	r.Groups = k.groups(k.work.variants.In(ctx), list[:len(r.Best)])
	k.work.variants.End()

	whole := k.found.Front.Sorted()
	shown := k.frontRows(whole)
	for a := range k.found.Champions {
		r.Most[a] = k.found.Champions[a].Evaluation.Axes[a]
		if c := &k.found.Champions[a]; c.Evaluation.Axes[a] > 0 && placeOf(shown, c.Candidate) < 0 {
			shown = append(shown, *c)
		}
	}
	unlisted := slices.DeleteFunc(slices.Clone(shown), func(s space.Scored) bool { return placeOf(list, s.Candidate) >= 0 })
	others := k.results(unlisted)
	if !k.options.Nominal {
		k.work.front.Expect(of.Work(len(others)))
		predict.Doubt(k.work.front.In(ctx), others, style, d, k.options.Workers)
	}
	for i := range shown {
		if at := placeOf(list, shown[i].Candidate); at >= 0 {
			r.Front = append(r.Front, rows[at])
		} else {
			r.Front, others = append(r.Front, others[0]), others[1:]
		}
	}
	k.work.front.End()
	for i := range whole {
		r.FrontAxes = append(r.FrontAxes, whole[i].Evaluation.Axes)
	}
	if len(r.Best) == 0 {
		r.NearMisses = nearMisses(k.work.misses.In(ctx), k.space, k.found, d, k.options.Workers)
	}
}

// frontRows are the first of a front to be shown, of a group the best alone.
func (k *ranker) frontRows(whole []space.Scored) []space.Scored {
	var rows []space.Scored
	seen := map[space.Group]bool{}
	for i := range whole {
		if g := k.space.Group(whole[i].Candidate); len(rows) < frontShown && !seen[g] {
			seen[g] = true
			rows = append(rows, whole[i])
		}
	}
	return rows
}

// results predicts candidates in full, but for their intervals.
func (k *ranker) results(list []space.Scored) []predict.Result {
	out := make([]predict.Result, len(list))
	for i := range list {
		out[i] = resultOf(k.space, &list[i])
		if k.options.Novel > 0 {
			out[i].SetNovelty(k.fleet, k.options.Novel)
		}
	}
	return out
}

// placeOf is the place of a candidate in a list, -1 if it is not there.
func placeOf(list []space.Scored, c space.Candidate) int {
	return slices.IndexFunc(list, func(s space.Scored) bool { return s.Candidate == c })
}

// resultOf works a candidate out in full, but for its intervals.
func resultOf(s *space.Space, found *space.Scored) predict.Result {
	return predict.Predict(s.Combination(found.Candidate), s.Propeller(found.Candidate), &s.Problem.Style)
}
