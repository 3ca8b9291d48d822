package session

import (
	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/search"
	"partsaloft/search/space"
)

// Problem is what the shared options ask to search for.
func (s *Session) Problem() (*space.Problem, error) {
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return nil, err
	}
	drawer, err := s.LoadDrawer()
	if err != nil {
		return nil, err
	}
	air, err := drawer.Air.SI()
	if err != nil {
		return nil, exit.Data(err)
	}
	return &space.Problem{Drawer: drawer, Air: air, Style: style, With: s.Options.With}, nil
}

// Ask is the question that the shared options put.
func (s *Session) Ask() (*answer.Ask, error) {
	p, err := s.Problem()
	if err != nil {
		return nil, err
	}
	return &answer.Ask{Problem: p, Search: s.SearchOptions(), Head: s.Head()}, nil
}

// SearchOptions are those of a search.
func (s *Session) SearchOptions() search.Options {
	return search.Options{Method: search.Method(s.Options.Method), Top: s.Options.Top, Seed: s.Options.Seed,
		MaxEvals: s.Options.MaxEvals}
}
