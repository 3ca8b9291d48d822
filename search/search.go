package search

import (
	"cmp"
	"context"
	"fmt"

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
	d := predict.NewDraws(k.options.Sampling(k.space.Problem.Drawer))
	made := map[space.Candidate]predict.Result{}
	r.Best = k.results(k.work.rows.In(ctx), list, d, made)
	k.work.rows.End()
	if !k.options.Nominal {
		predict.Sharpen(k.work.sharpen.In(ctx), r.Best, &k.space.Problem.Style, k.options.Sampling(k.space.Problem.Drawer))
	}
	k.work.sharpen.End()
	r.Best = r.Best[:min(len(r.Best), k.listed)]
	r.Groups = k.groups(k.work.variants.In(ctx), list[:len(r.Best)])
	k.work.variants.End()

	whole := k.found.Front.Sorted()
	shown := k.frontRows(whole)
	for a := range k.found.Champions {
		r.Most[a] = k.found.Champions[a].Evaluation.Axes[a]
		if c := &k.found.Champions[a]; c.Evaluation.Axes[a] > 0 && !contains(shown, c.Candidate) {
			shown = append(shown, *c)
		}
	}
	r.Front = k.results(k.work.front.In(ctx), shown, d, made)
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

// results predicts candidates in full, those that are made already left as they are.
func (k *ranker) results(ctx context.Context, list []space.Scored, d *predict.Draws,
	made map[space.Candidate]predict.Result) []predict.Result {
	out := make([]predict.Result, len(list))
	var fresh []int
	for i := range list {
		if have, ok := made[list[i].Candidate]; ok {
			out[i] = have
			continue
		}
		out[i] = resultOf(k.space, &list[i])
		if k.options.Novel > 0 {
			out[i].SetNovelty(k.fleet, k.options.Novel)
		}
		fresh = append(fresh, i)
	}
	added := make([]predict.Result, len(fresh))
	for n, i := range fresh {
		added[n] = out[i]
	}
	if !k.options.Nominal {
		progress.Of(ctx).Expect(d.Work(len(added)))
		predict.Judge(ctx, added, &k.space.Problem.Style, d, k.options.Workers)
	}
	for n, i := range fresh {
		out[i] = added[n]
		made[list[i].Candidate] = added[n]
	}
	return out
}

func contains(list []space.Scored, c space.Candidate) bool {
	for i := range list {
		if list[i].Candidate == c {
			return true
		}
	}
	return false
}

// resultOf works a candidate out in full, but for its intervals.
func resultOf(s *space.Space, found *space.Scored) predict.Result {
	return predict.Predict(s.Combination(found.Candidate), s.Propeller(found.Candidate), &s.Problem.Style)
}
