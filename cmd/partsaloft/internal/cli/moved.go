package cli

import (
	"context"
	"fmt"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/search"
	"partsaloft/search/space"
)

// moved says where the ranking is another than without what was learned, by a second search with
// the drawer's own figures. It returns nil if nothing learned is in use.
func (s *session) moved(ctx context.Context, p *space.Problem, r *search.Ranking) ([]answer.Move, error) {
	if s.learnedFile == "" {
		return nil, nil
	}
	quiet := s.options.quiet
	s.options.quiet = true
	defer func() { s.options.quiet = quiet }()
	bare := *p
	var err error
	if bare.Drawer, err = s.bareDrawer(); err != nil {
		return nil, err
	}
	without, err := s.search(ctx, &bare)
	if err != nil {
		return nil, err
	}
	before := map[string]int{}
	for i := range without.Best {
		before[without.Best[i].Combination.Key()] = i + 1
	}
	moves := []answer.Move{}
	now := map[string]bool{}
	for i := range r.Best {
		c := &r.Best[i].Combination
		now[c.Key()] = true
		if was := before[c.Key()]; was != i+1 {
			m := answer.Move{Rank: ptr(i + 1), Parts: partsOf(&r.Best[i])}
			m.Text = fmt.Sprintf("%s comes in at %d", bareText(c), i+1)
			if was > 0 {
				m.Before = ptr(was)
				m.Text = fmt.Sprintf("%s goes from %d to %d", bareText(c), was, i+1)
			}
			moves = append(moves, m)
		}
	}
	for i := range without.Best {
		if c := &without.Best[i].Combination; !now[c.Key()] {
			moves = append(moves, answer.Move{Before: ptr(i + 1), Parts: partsOf(&without.Best[i]), Text: fmt.Sprintf("%s, at %d before, leaves the list", bareText(c), i+1)})
		}
	}
	return moves, nil
}

func ptr[T any](x T) *T { return &x }

// withMoves adds to the answer of rank where what was learned moved the ranking.
func (s *session) withMoves(ctx context.Context, a reply, p *space.Problem, r *search.Ranking) (reply, error) {
	if r.Interrupted {
		return a, nil
	}
	moves, err := s.moved(ctx, p, r)
	if document, ok := a.document.(answer.Ranking); ok {
		document.Moves = moves
		a.document = document
	}
	a.page.Add(movedBlocks(moves)...)
	return a, err
}

// movedBlocks tells the moves on a page; nil moves tell nothing.
func movedBlocks(moves []answer.Move) []render.Block {
	if moves == nil {
		return nil
	}
	if len(moves) == 0 {
		return []render.Block{render.Paragraph("What was learned moves nothing in the list.")}
	}
	var list render.List
	for _, m := range moves {
		list = append(list, m.Text+".")
	}
	return []render.Block{render.Heading("Moved by what was learned"), list}
}
