package answer

import (
	"context"
	"fmt"

	"partsaloft/inventory"
	"partsaloft/search"
)

// moved says where a ranking is another than with the drawer's own figures, by a second search with these.
func (a *Ask) moved(ctx context.Context, bare *inventory.Drawer, r *search.Ranking) ([]Move, error) {
	p, o := *a.Problem, a.Search
	p.Drawer, o.Progress = bare, nil
	without, err := search.Search(ctx, p, o)
	if err != nil {
		return nil, err
	}
	before := map[string]int{}
	for i := range without.Best {
		before[without.Best[i].Combination.Key()] = i + 1
	}
	moves := []Move{}
	now := map[string]bool{}
	for i := range r.Best {
		c := &r.Best[i].Combination
		now[c.Key()] = true
		if was := before[c.Key()]; was != i+1 {
			m := Move{Rank: ptr(i + 1), Parts: partsOf(&r.Best[i])}
			m.Text = fmt.Sprintf("%s comes in at %d", BareText(c), i+1)
			if was > 0 {
				m.Before = ptr(was)
				m.Text = fmt.Sprintf("%s goes from %d to %d", BareText(c), was, i+1)
			}
			moves = append(moves, m)
		}
	}
	for i := range without.Best {
		if c := &without.Best[i].Combination; !now[c.Key()] {
			moves = append(moves, Move{Before: ptr(i + 1), Parts: partsOf(&without.Best[i]),
				Text: fmt.Sprintf("%s, at %d before, leaves the list", BareText(c), i+1)})
		}
	}
	return moves, nil
}

func ptr[T any](x T) *T { return &x }
