package answer

import (
	"context"
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Which names a combination: by its rank, or where that is 0 by its parts.
type Which struct {
	Rank int
	Pick string // as --pick has it
}

// Subject is the combination in question among the best of its drawer.
type Subject struct {
	Problem *space.Problem
	Ranking *search.Ranking
	Result  *predict.Result // nil if nothing is feasible
	Rank    int             // 0 if it is not among the listed
	best    *predict.Result // of the drawer; nil if nothing is feasible
	rival   *predict.Result // the one that it is held against: the best, or the second for the best
}

// listed is the rank from which on only the combination in question is drawn.
const listed = 10

// subject finds the combination in question, among the best of its drawer. A nil result means that nothing is
// feasible.
func (a *Ask) subject(ctx context.Context, which Which) (*Subject, error) {
	var c inventory.Combination
	var err error
	if which.Rank == 0 {
		if c, err = picked(a.Problem.Drawer, which.Pick); err != nil {
			return nil, err
		}
	}
	o := a.Search
	o.Top = max(o.Top, which.Rank)
	far := which.Rank > listed
	if far {
		o.Draws = 1
	}
	r, err := search.Search(ctx, *a.Problem, o)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sub := &Subject{Problem: a.Problem, Ranking: r}
	switch {
	case which.Rank > 0 && len(r.Best) == 0:
		return sub, nil
	case which.Rank > len(r.Best):
		return nil, notListed(which.Rank, r)
	case which.Rank > 0:
		sub.Rank, c = which.Rank, r.Best[which.Rank-1].Combination
	default:
		for i := range r.Best {
			if r.Best[i].Combination.Key() == c.Key() {
				sub.Rank = i + 1
			}
		}
	}
	if sub.Rank > 0 && !far {
		sub.Result = &r.Best[sub.Rank-1]
	} else if err := sub.assess(ctx, c, a.Search.Sampling()); err != nil {
		return nil, err
	}
	if len(r.Best) > 0 {
		sub.best, sub.rival = &r.Best[0], &r.Best[0]
	}
	if sub.Rank == 1 {
		sub.rival = nil
		if len(r.Best) > 1 {
			sub.rival = &r.Best[1]
		}
	}
	return sub, nil
}

func notListed(rank int, r *search.Ranking) error {
	return askf("rank %d is not there: %s feasible", rank, catalogue.Plural(int64(len(r.Best)), "combination is",
		"combinations are"))
}

// built reports whether there is a combination, and it can be built.
func (sub *Subject) built() bool { return sub.Result != nil && len(sub.Result.Misfits) == 0 }

// Title names the combination, after its rank if it has one.
func (sub *Subject) Title() string {
	title := CombinationText(&sub.Result.Combination)
	if sub.Rank > 0 {
		title = fmt.Sprintf("%d: %s", sub.Rank, title)
	}
	return title
}

// assess works the combination in question out, with the best on the same draws.
func (sub *Subject) assess(ctx context.Context, c inventory.Combination, o predict.Sampling) error {
	list := []inventory.Combination{c}
	if len(sub.Ranking.Best) > 0 {
		list = append(list, sub.Ranking.Best[0].Combination)
	}
	results, err := predict.Assess(ctx, *sub.Problem, list, o)
	if err != nil {
		return err
	}
	sub.Result = &results[0]
	if len(results) > 1 {
		sub.Ranking.Best[0] = results[1]
	}
	return nil
}
