package cli

import (
	"context"
	"fmt"

	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/space"
)

// problem is what the shared options ask to search for.
func (s *session) problem() (*space.Problem, error) {
	style, err := s.loadStyle(s.options.style)
	if err != nil {
		return nil, err
	}
	drawer, err := s.loadDrawer()
	if err != nil {
		return nil, err
	}
	air, err := drawer.Air.SI()
	if err != nil {
		return nil, dataError{err}
	}
	return &space.Problem{Drawer: drawer, Air: air, Style: style, With: s.options.with}, nil
}

func (s *session) searchOptions() search.Options {
	return search.Options{Method: search.Method(s.options.method), Top: s.options.top, Seed: s.options.seed, MaxEvals: s.options.maxEvals}
}

// search ranks the candidates of a problem as the options say, with a bar if it takes long.
func (s *session) search(ctx context.Context, p *space.Problem) (*search.Ranking, error) {
	return s.searchWith(ctx, p, s.searchOptions())
}

func (s *session) searchWith(ctx context.Context, p *space.Problem, o search.Options) (*search.Ranking, error) {
	if kinds := lacking(p.Drawer); len(kinds) > 0 {
		return &search.Ranking{Method: string(search.Exact), Proven: true, Notes: []string{
			fmt.Sprintf("%s holds no %s; a craft takes motors, props, a pack, a frame and a board.", p.Drawer.Name, wordList(kinds)),
		}}, nil
	}
	bar := newProgress(s.streams.Err, s.streams.ErrTerminal && !s.options.quiet, "searching")
	defer bar.end()
	o.Progress = bar.at
	return search.Search(ctx, *p, o)
}

// lacking lists the kinds of part that a craft needs and the drawer holds no piece of.
func lacking(d *inventory.Drawer) []string {
	var kinds []string
	need := func(kind string, counts []*int) {
		for _, n := range counts {
			if n == nil || *n > 0 {
				return
			}
		}
		kinds = append(kinds, kind)
	}
	need("motors", countsOf(d.Motors, func(m *inventory.Motor) *int { return m.Count }))
	need("props", countsOf(d.Props, func(p *inventory.Prop) *int { return p.Count }))
	need("packs", countsOf(d.Packs, func(p *inventory.Pack) *int { return p.Count }))
	need("frames", countsOf(d.Frames, func(f *inventory.Frame) *int { return f.Count }))
	need("boards", countsOf(d.Boards, func(b *inventory.Board) *int { return b.Count }))
	return kinds
}

func countsOf[T any](list []T, count func(*T) *int) []*int {
	counts := make([]*int, len(list))
	for i := range list {
		counts[i] = count(&list[i])
	}
	return counts
}
