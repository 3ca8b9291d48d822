package search

import (
	"sync"
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

// clubSpaces lays the embedded drawer out once for all tests: a space is read-only once made.
var clubSpaces struct {
	sync.Once
	space *space.Space
}

// clubSpace is the space of the embedded drawer in a style.
func clubSpace(t testing.TB, style string) *space.Space {
	t.Helper()
	d := synthetic.Club(t)
	clubSpaces.Do(func() { clubSpaces.space = laidOut(t, d, style) })
	if clubSpaces.space == nil {
		t.Fatal("the embedded drawer was not laid out")
	}
	return clubSpaces.space.InStyle(problem(t, d, style).Style)
}

// adviceCase is a problem on the embedded drawer with some of its combinations.
func adviceCase(t testing.TB, style string, keys ...string) (space.Problem, []inventory.Combination) {
	t.Helper()
	d := synthetic.ExampleDrawer(t, examples.DefaultDrawer)
	return problem(t, d, style), synthetic.Combinations(t, d, keys...)
}

var quick = predict.Sampling{Draws: 60, Seed: 1}
