package cli

import (
	"context"

	"partsaloft/search"
)

// problem is what the shared options ask to search for.
func (s *session) problem() (*search.Problem, error) {
	style, err := s.options.loadStyle()
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
	return &search.Problem{Drawer: drawer, Air: air, Style: style, With: s.options.with}, nil
}

func (s *session) searchOptions() search.Options {
	return search.Options{Method: search.Method(s.options.method), Top: s.options.top, Seed: s.options.seed, MaxEvals: s.options.maxEvals}
}

// search ranks the candidates of a problem, with a bar if it takes long.
func (s *session) search(ctx context.Context, p *search.Problem) (*search.Ranking, error) {
	space, err := search.NewSpace(ctx, *p, 0)
	if err != nil {
		return nil, err
	}
	bar := newProgress(s.streams.Err, s.streams.ErrTerminal && !s.options.quiet, "searching")
	defer bar.end()
	o := s.searchOptions()
	o.Progress = bar.at
	return space.Search(ctx, o)
}
