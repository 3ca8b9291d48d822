package cli

import (
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
)

// Property: every figure has a name in words and stands in exactly one group.
func TestEveryFigureIsNamedAndGroupedOnce(t *testing.T) {
	seen := map[physics.Quantity]int{}
	for _, g := range groups {
		for _, q := range g.quantities {
			seen[q]++
		}
	}
	for q := range physics.QuantityCount {
		f := objective.FigureOf(q)
		if seen[q] != 1 {
			t.Errorf("%s stands in %d groups", f.Key, seen[q])
		}
		if reckoned[q] == "" {
			t.Errorf("help does not say how %s is computed", f.Key)
		}
		if nameOf(f.Key) == f.Key {
			t.Errorf("%s has no name in words", f.Key)
		}
	}
}
