package solve

import (
	"context"
	"testing"

	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

func problem(t testing.TB, d *inventory.Drawer, style string) space.Problem {
	t.Helper()
	air, s := synthetic.AirAndStyle(t, d, style)
	return space.Problem{Drawer: d, Air: air, Style: s}
}

// laidOut lays out a drawer for a style.
func laidOut(t testing.TB, d *inventory.Drawer, style string) *space.Space {
	t.Helper()
	s, err := space.New(context.Background(), problem(t, d, style), 2)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// proveFrom is BranchAndBound after a genetic search of a number of evaluations.
func proveFrom(ctx context.Context, s *space.Space, o *Options, evals int64) (*Proof, error) {
	p, err := newProof(ctx, s, o, evals)
	if err == nil {
		p.prove(ctx)
	}
	return p, err
}
