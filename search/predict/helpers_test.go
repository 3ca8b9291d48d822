package predict

import (
	"context"
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

func problem(t testing.TB, d *inventory.Drawer, style string) space.Problem {
	t.Helper()
	air, s := synthetic.AirAndStyle(t, d, style)
	return space.Problem{Drawer: d, Air: air, Style: s}
}

// adviceCase is a problem on the embedded drawer with some of its combinations.
func adviceCase(t testing.TB, style string, keys ...string) (space.Problem, []inventory.Combination) {
	t.Helper()
	d := synthetic.ExampleDrawer(t, examples.DefaultDrawer)
	return problem(t, d, style), synthetic.Combinations(t, d, keys...)
}

var quick = Sampling{Draws: 60, Seed: 1}

// allFeasible are the feasible results of a problem, the best first.
func allFeasible(t testing.TB, p space.Problem) []Result {
	t.Helper()
	s, err := space.New(context.Background(), p, 2)
	if err != nil {
		t.Fatal(err)
	}
	var found solve.Incumbents
	found.Best.N = 1 << 30
	solve.Enumerate(context.Background(), s, &solve.Options{}, &found)
	var list []Result
	for i := range found.Best.List {
		c := found.Best.List[i].Candidate
		list = append(list, Predict(s.Combination(c), s.Propeller(c), &p.Style))
	}
	return list
}
