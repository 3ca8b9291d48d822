package search

import (
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
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
	return mustSpace(t, problem(t, d, style))
}

// adviceCase is a problem on the embedded drawer with some of its combinations.
func adviceCase(t testing.TB, style string, keys ...string) (space.Problem, []inventory.Combination) {
	t.Helper()
	d := synthetic.ExampleDrawer(t, examples.DefaultDrawer)
	return problem(t, d, style), synthetic.Combinations(t, d, keys...)
}

var quick = predict.Sampling{Draws: 60, Seed: 1}
