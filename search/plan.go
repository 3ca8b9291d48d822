package search

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/rotor"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

// Wish is one craft that a plan is to hold.
type Wish struct {
	Name  string // what messages call it; the style's name if empty
	Style objective.Style
	With  []string
}

// Aim is what a plan makes as large as it can, after the number of wishes that it meets.
type Aim uint8

// The aims: the sum of the scores, or the lowest of them and then the sum.
const (
	BestTotal Aim = iota
	BestWorst
)

// PlanProblem asks for several crafts from one drawer at once.
type PlanProblem struct {
	Drawer *inventory.Drawer
	Air    rotor.Air
	Wishes []Wish
	// SharePacks lets several crafts fly the same pack in turn.
	SharePacks bool
	Aim        Aim
}

// Plan is crafts of which no two use the same piece.
type Plan struct {
	Crafts       []PlannedCraft // by wish
	Total, Worst float64        // of the scores of the wishes that are met
	// Proven says that no other choice is better; Why says how that is known, or why not.
	Proven   bool
	Why      Why
	LeftOver []space.LeftOver
	// Shared are extras that go along on more crafts than there are pieces: they are swapped over, or bought.
	Shared []Shortage
	// Method is exact, or genetic if a wish chose among what that found. Candidates, Evaluated and
	// Infeasible count over the wishes, as those of a Ranking do.
	Method                string
	Candidates, Evaluated int64
	Infeasible            []ReasonCount
	// SetAside are parts of the drawer that nothing could be reckoned with.
	SetAside []space.SetAside
	// Interrupted says that the context ended first.
	Interrupted bool
}

// PlannedCraft is what a plan makes of a wish.
type PlannedCraft struct {
	Wish Wish
	// Result is the craft; nil if the wish cannot be met beside the others, and Unmet says why.
	Result *predict.Result
	Unmet  Unmet
}

// Unmet is why a wish cannot be met: the drawer lacks kinds of part, or nothing is feasible of Candidates
// of which Fitted fit together, or others take what it needs.
type Unmet struct {
	Lacking            []inventory.Kind
	Candidates, Fitted int64
	Shortages          []Shortage
}

// Shortage is a part of which too few pieces are left for a wish.
type Shortage struct {
	space.Resource
	TakenBy       []string // the wishes that take it
	Taken, Needed int      // pieces
}

// The most wishes of a plan, candidates that are looked at each for a wish, and steps of the search
// for the best choice among them.
const (
	maxWishes     = 12
	planWhole     = 400_000
	planEvals     = 100_000
	planSteps     = 3_000_000
	shortageTries = 2_000
)

// MakePlan chooses crafts for all wishes at once. It fails on a style that does not pass its
// check and on an unknown role. A wish that cannot be met is no error.
func MakePlan(ctx context.Context, p PlanProblem, o Options) (*Plan, error) {
	if len(p.Wishes) == 0 || len(p.Wishes) > maxWishes {
		return nil, fmt.Errorf("a plan takes 1 to %d wishes, got %d", maxWishes, len(p.Wishes))
	}
	o.Workers = parallel.Workers(o.Workers)
	if kinds := space.Lacking(p.Drawer); kinds != nil {
		plan := &Plan{Method: string(Exact), Proven: true, Why: Why{Kind: KindMissing}}
		for _, w := range p.Wishes {
			w.Name = cmp.Or(w.Name, w.Style.Name)
			plan.Crafts = append(plan.Crafts, PlannedCraft{Wish: w, Unmet: Unmet{Lacking: kinds}})
		}
		return plan, nil
	}
	stock := space.NewStock(p.Drawer, p.SharePacks)
	a := &allocation{stock: stock, aim: p.Aim, proven: true}
	plan := &Plan{Method: string(Exact)}
	spaces := make([]*space.Space, len(p.Wishes))
	job, of := progress.Of(ctx), o.Sampling(p.Drawer)
	var prepare, seek []*progress.Part
	for range p.Wishes {
		prepare = append(prepare, job.Plan(progress.Preparing, space.Work(p.Drawer)))
		seek = append(seek, job.Plan(progress.Searching, planLooks(int64(builds(p.Drawer)*fitting))))
	}
	choose, show := job.Plan(progress.Planning, stepWork*1024), job.Plan(progress.Doubting, of.Work(len(p.Wishes)))
	for i := range p.Wishes {
		w := &p.Wishes[i]
		w.Name = cmp.Or(w.Name, w.Style.Name)
		var err error
		if spaces[i], err = space.New(prepare[i].In(ctx), space.Problem{Drawer: p.Drawer, Air: p.Air, Style: w.Style, With: w.With},
			o.Workers); err != nil {
			return nil, fmt.Errorf("wish %s: %w", w.Name, err)
		}
		prepare[i].End()
		for _, like := range seek[i:] { // other styles find as much that fits
			like.Expect(planLooks(spaces[i].Fitted))
		}
		list, t, whole, err := feasibleSorted(seek[i].In(ctx), spaces[i], &o)
		if err != nil && !errors.Is(err, ctx.Err()) {
			return nil, err
		}
		seek[i].End()
		plan.count(spaces[i], t)
		if spaces[i].Fitted > planWhole {
			plan.Method = string(Genetic)
		}
		a.proven = a.proven && whole
		a.wishes = append(a.wishes, claims(stock, spaces[i], list))
	}
	a.search(choose.In(ctx))
	choose.End()
	plan.Proven, plan.Interrupted, plan.Why = a.proven && ctx.Err() == nil, ctx.Err() != nil, a.why()
	// What is found is shown in full even after an interrupt.
	a.fill(context.WithoutCancel(show.In(ctx)), plan, &p, spaces, &o)
	return plan, nil
}

// feasibleSorted lists the feasible candidates, the best first: all of them, or in a large space those that
// a genetic search comes across; then false. The tally counts what was looked at.
func feasibleSorted(ctx context.Context, s *space.Space, o *Options) ([]space.Scored, *solve.Incumbents, bool, error) {
	var list []space.Scored
	t := &solve.Incumbents{}
	keep := func(found *space.Scored) {
		if found.Evaluation.Feasible() {
			list = append(list, *found)
		}
	}
	whole := s.Fitted <= planWhole
	if whole {
		t.Each = keep
		if !solve.Enumerate(ctx, s, o.solve(), t) {
			return nil, t, false, ctx.Err()
		}
	} else {
		seek := *o
		seek.MaxEvals = planEvals
		h, err := solve.Genetic(ctx, s, seek.ungrouped())
		if err != nil {
			return nil, t, false, err
		}
		t = &h.Incumbents
		for c, v := range h.Known {
			keep(&space.Scored{Candidate: c, Evaluation: v})
		}
	}
	slices.SortFunc(list, func(a, b space.Scored) int { return a.Order(&b) })
	return list, t, whole, ctx.Err()
}

// count adds what was looked at for one wish.
func (p *Plan) count(s *space.Space, t *solve.Incumbents) {
	p.Candidates += s.Candidates
	for _, a := range s.SetAside {
		if !slices.ContainsFunc(p.SetAside, func(have space.SetAside) bool { return have.ID == a.ID }) {
			p.SetAside = append(p.SetAside, a)
		}
	}
	p.Evaluated += t.Evaluated
	for _, fell := range infeasible(s, t) {
		at := slices.IndexFunc(p.Infeasible, func(have ReasonCount) bool { return have.Reason == fell.Reason })
		if at < 0 {
			p.Infeasible = append(p.Infeasible, fell)
			continue
		}
		p.Infeasible[at].Count += fell.Count
	}
}

// why says how the choice was made.
func (a *allocation) why() Why {
	switch {
	case a.steps > planSteps:
		return Why{Kind: ChoicesCut, Most: planSteps}
	case !a.proven:
		return Why{Kind: WishesCut}
	}
	return Why{Kind: EveryChoice}
}

// fill makes the plan's results and says what is left and what ran out.
func (a *allocation) fill(ctx context.Context, plan *Plan, p *PlanProblem, spaces []*space.Space, o *Options) {
	d := predict.NewDraws(o.Sampling(p.Drawer))
	left := a.stock.Fresh()
	takenBy := map[int][]string{}
	for i := range p.Wishes {
		plan.Crafts = append(plan.Crafts, PlannedCraft{Wish: p.Wishes[i]})
		chosen := a.best.choice[i]
		if chosen < 0 {
			continue
		}
		claim := &a.wishes[i][chosen]
		for _, u := range claim.uses {
			left[u.Resource] -= u.Pieces
			takenBy[u.Resource] = append(takenBy[u.Resource], p.Wishes[i].Name)
		}
		one := []predict.Result{resultOf(spaces[i], &claim.Scored)}
		predict.Judge(ctx, one, &p.Wishes[i].Style, d, o.Workers)
		one[0].AheadShare, one[0].BestShare = 0, 0
		plan.Crafts[i].Result = &one[0]
		plan.Total += one[0].Evaluation.Score
		if plan.Worst == 0 || one[0].Evaluation.Score < plan.Worst {
			plan.Worst = one[0].Evaluation.Score
		}
	}
	for i := range plan.Crafts {
		if plan.Crafts[i].Result == nil {
			plan.Crafts[i].Unmet = a.unmet(i, left, takenBy, spaces[i])
		}
	}
	plan.LeftOver = a.stock.LeftOver(left)
	for i, n := range left {
		if r := a.stock.Resources[i]; n < 0 {
			plan.Shared = append(plan.Shared, Shortage{r, takenBy[i], r.Pieces - n, r.Pieces - n})
		}
	}
}
