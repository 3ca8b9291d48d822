package search

import (
	"context"
	"errors"
)

// Space is every candidate of a problem, with what does not fit taken out and the props' surfaces
// computed.
type Space struct {
	problem Problem
	workers int
}

var errNotYet = errors.New("search: not written yet")

// NewSpace lays out the candidates of a problem: types with enough pieces, fit rules, extras, and
// one surface a prop, computed on the given number of workers (0: one a processor). It fails on a
// style that does not pass its check, on a drawer that lacks a kind of part, and when the context
// ends.
func NewSpace(ctx context.Context, p Problem, workers int) (*Space, error) {
	return &Space{p, workers}, errNotYet
}

// Candidates counts the product of types with enough pieces times the extras' choices.
func (s *Space) Candidates() int64 { return 0 }

// Search ranks the candidates. An ended context is no error: the ranking holds the best so far and
// says that it was interrupted. Nothing feasible is no error either: Best is empty and NearMisses
// is not.
func (s *Space) Search(ctx context.Context, o Options) (*Ranking, error) { return nil, errNotYet }
