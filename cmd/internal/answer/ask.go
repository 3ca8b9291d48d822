package answer

import (
	"context"
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Ask is what every question says: of which drawer, in which style, how to search, and what the document
// begins with. Each answer fills in the head's drawer, style and care.
type Ask struct {
	Problem *space.Problem
	Search  search.Options
	Head    Head
}

// AskError is a question that asks for what there is not: a rank beyond the list, parts that are not owned.
type AskError struct{ error }

// Unwrap is the error itself.
func (e AskError) Unwrap() error { return e.error }

// Refused is an error as an AskError.
func Refused(err error) AskError { return AskError{err} }

func askf(format string, args ...any) error { return AskError{fmt.Errorf(format, args...)} }

// DrawerError is a drawer that cannot answer the question as it is.
type DrawerError struct{ error }

// Unwrap is the error itself.
func (e DrawerError) Unwrap() error { return e.error }

// Unusable is an error as a DrawerError.
func Unusable(err error) DrawerError { return DrawerError{err} }

// MostTop is the most combinations that a list may hold.
const MostTop = 10000

// head is the head of an answer about the problem's drawer and style.
func (a *Ask) head(care Care) Head {
	h := a.Head
	h.Drawer, h.Style, h.Care = a.Problem.Drawer.Name, a.Problem.Style.Name, care
	return h
}

// styles is the style of the problem as a scene has it.
func (a *Ask) styles() []objective.Style { return []objective.Style{a.Problem.Style} }

// Subject is the combination in question among the best of its drawer.
type Subject struct {
	Problem *space.Problem
	Ranking *search.Ranking
	Result  *predict.Result // nil if nothing is feasible
	Rank    int             // the row that it is the best of; 0 if of none of the listed
	RowOf   int             // the listed row that it is a variant of, or the best of; 0 if of none
	best    *predict.Result // of the drawer; nil if nothing is feasible
	rival   *predict.Result // the one that it is held against: the best, or the second for the best
}

// listed is the rank from which on only the combination in question is drawn.
const listed = 10

// subject finds the combination in question, among the best of its drawer. A nil result means that nothing is
// feasible.
func (a *Ask) subject(ctx context.Context, which Which) (*Subject, error) {
	job := progress.Of(ctx)
	var c inventory.Combination
	var err error
	if which.Rank == 0 {
		meant := job.Plan(progress.Searching, a.Search.Work(a.Problem.Drawer)/2)
		if c, err = a.meant(meant.In(ctx), which); err != nil {
			return nil, err
		}
		meant.End()
	}
	o := a.Search
	o.Top, o.Variants = max(o.Top, which.Rank), true
	far := which.Rank > listed
	if far {
		o.Draws = 1
	}
	list, own := job.Plan(progress.Searching, o.Work(a.Problem.Drawer)), job.Plan(progress.Doubting, 0)
	r, err := search.Search(list.In(ctx), *a.Problem, o)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	list.End()
	sub := &Subject{Problem: a.Problem, Ranking: r}
	switch {
	case which.Rank > 0 && len(r.Best) == 0:
		return sub, nil
	case which.Rank > len(r.Best):
		return nil, notListed(which.Rank, r)
	case which.Rank > 0:
		sub.Rank, sub.RowOf, c = which.Rank, which.Rank, r.Best[which.Rank-1].Combination
	default:
		for i := range r.Best {
			if r.Best[i].Combination.Key() == c.Key() {
				sub.Rank = i + 1
			}
			if r.Groups[i].Holds(&r.Best[i].Combination, &c) {
				sub.RowOf = i + 1
			}
		}
	}
	if sub.Rank > 0 && !far {
		sub.Result = &r.Best[sub.Rank-1]
	} else if err := sub.assess(own.In(ctx), c, a.Search.Sampling(a.Problem.Drawer)); err != nil {
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
	return askf("rank %d is not in the list: %s be flown", rank, phrase.Plural(int64(len(r.Best)), "build can",
		"builds can"))
}

// built reports whether there is a combination, and it can be built.
func (sub *Subject) built() bool { return sub.Result != nil && len(sub.Result.Misfits) == 0 }

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
