package search

import (
	"context"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// claim is a feasible candidate with what it uses.
type claim struct {
	space.Scored
	uses []space.Use
}

// claims works out what candidates of a space use.
func claims(s *space.Stock, space *space.Space, list []space.Scored) []claim {
	out := make([]claim, len(list))
	for i := range list {
		c := space.Combination(list[i].Candidate)
		out[i] = claim{list[i], s.Uses(&c)}
	}
	return out
}

func (c *claim) fits(stock *space.Stock, left []int) bool {
	for _, u := range c.uses {
		if left[u.Resource] < u.Pieces && !stock.Resources[u.Resource].Along {
			return false
		}
	}
	return true
}

func (c *claim) take(left []int) {
	for _, u := range c.uses {
		left[u.Resource] -= u.Pieces
	}
}

func (c *claim) giveBack(left []int) {
	for _, u := range c.uses {
		left[u.Resource] += u.Pieces
	}
}

// allocation searches for the best choice of one claim a wish, by depth first with a bound: what
// remains can be met at most as well as if each wish had the whole remaining stock for itself.
type allocation struct {
	stock  *space.Stock
	wishes [][]claim // the best first
	aim    Aim
	steps  int
	proven bool
	best   allocated
}

// allocated is a choice of claims by wish, −1 for a wish that is not met, with its worth.
type allocated struct {
	choice       []int
	met          int
	total, worst float64
}

// better compares by the number of wishes met, then by the aim.
func (a *allocation) better(x, y *allocated) bool {
	switch {
	case x.met != y.met:
		return x.met > y.met
	case a.aim == BestWorst && x.worst != y.worst:
		return x.worst > y.worst
	}
	return x.total > y.total
}

func (x *allocated) add(score float64) {
	if x.met == 0 || score < x.worst {
		x.worst = score
	}
	x.met++
	x.total += score
}

func (a *allocation) search(ctx context.Context) {
	none := allocated{choice: make([]int, len(a.wishes))}
	for i := range none.choice {
		none.choice[i] = -1
	}
	a.best = none
	a.deepen(ctx, 0, none, a.stock.Fresh())
	if a.steps > planSteps {
		a.proven = false
	}
}

// deepen settles the wishes from at on.
func (a *allocation) deepen(ctx context.Context, at int, so allocated, left []int) {
	if at == len(a.wishes) {
		if a.better(&so, &a.best) {
			a.best = so
			a.best.choice = append([]int(nil), so.choice...)
		}
		return
	}
	for i := range a.wishes[at] {
		a.steps++
		if a.steps%1024 == 0 {
			// About as much again is left, for all that is known.
			progress.Of(ctx).At(stepWork*float64(a.steps), stepWork*float64(max(min(a.steps, planSteps-a.steps), 0)))
		}
		if a.steps > planSteps || a.steps%1024 == 0 && ctx.Err() != nil {
			return
		}
		c := &a.wishes[at][i]
		if !c.fits(a.stock, left) {
			continue
		}
		next := so
		next.add(c.Evaluation.Score)
		// Those that follow score less and find no more: when even this one, with the stock as it is,
		// cannot be part of something better, none can.
		if most := a.most(at+1, next, left); !a.better(&most, &a.best) {
			return
		}
		c.take(left)
		if most := a.most(at+1, next, left); a.better(&most, &a.best) {
			so.choice[at] = i
			a.deepen(ctx, at+1, next, left)
			so.choice[at] = -1
		}
		c.giveBack(left)
	}
	if most := a.most(at+1, so, left); a.better(&most, &a.best) {
		a.deepen(ctx, at+1, so, left)
	}
}

// most is what the wishes from at on can give at best.
func (a *allocation) most(at int, so allocated, left []int) allocated {
	for i := at; i < len(a.wishes); i++ {
		for k := range a.wishes[i] {
			a.steps++
			if c := &a.wishes[i][k]; c.fits(a.stock, left) {
				so.add(c.Evaluation.Score)
				break
			}
		}
	}
	return so
}

// unmet says why a wish is not met: nothing is feasible for it, or what the claim that lacks least
// lacks.
func (a *allocation) unmet(wish int, left []int, takenBy map[int][]string, s *space.Space) Unmet {
	if len(a.wishes[wish]) == 0 {
		return Unmet{Candidates: s.Candidates, Fitted: s.Fitted}
	}
	var least []Shortage
	for i := range a.wishes[wish][:min(len(a.wishes[wish]), shortageTries)] {
		var lacks []Shortage
		for _, u := range a.wishes[wish][i].uses {
			r := a.stock.Resources[u.Resource]
			if left[u.Resource] < u.Pieces && !r.Along {
				lacks = append(lacks, Shortage{r, takenBy[u.Resource], r.Pieces - left[u.Resource], u.Pieces})
			}
		}
		if least == nil || len(lacks) < len(least) {
			least = lacks
		}
	}
	return Unmet{Shortages: least}
}
