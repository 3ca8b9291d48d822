package search

import (
	"context"

	"partsaloft/inventory"
)

// Assess predicts given combinations as Search does those that it lists, in the given order, on
// common draws: intervals, bases, shares. What does not fit comes back with its misfits and
// without a performance.
func Assess(ctx context.Context, p Problem, combinations []inventory.Combination, o Options) ([]Result, error) {
	return nil, errNotYet
}
