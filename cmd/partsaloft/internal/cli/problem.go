package cli

import (
	"errors"

	"partsaloft/cmd/internal/answer"
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

// ask is the question that the shared options put, with a bar if its search takes long.
func (s *session) ask() (*answer.Ask, error) {
	p, err := s.problem()
	if err != nil {
		return nil, err
	}
	return &answer.Ask{Problem: p, Search: s.searchOptions(), Head: s.head()}, nil
}

func (s *session) searchOptions() search.Options {
	s.bar = newProgress(s.streams.Err, s.streams.ErrTerminal && !s.options.quiet, "searching")
	return search.Options{Method: search.Method(s.options.method), Top: s.options.top, Seed: s.options.seed, MaxEvals: s.options.maxEvals, Progress: s.bar.at}
}

// quietly reads something without a remark.
func (s *session) quietly(read func(*session) (*inventory.Drawer, error)) (*inventory.Drawer, error) {
	quiet := s.options.quiet
	s.options.quiet = true
	defer func() { s.options.quiet = quiet }()
	return read(s)
}

// asked tells the command line what an answer refused.
func asked(err error) error {
	var ask answer.AskError
	var drawer answer.DrawerError
	switch {
	case errors.As(err, &ask):
		return usageError{err}
	case errors.As(err, &drawer):
		return dataError{err}
	}
	return err
}
