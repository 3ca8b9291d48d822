package search

import (
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
)

// club reads the example drawer.
func club(t testing.TB) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Load("../examples/club.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func problem(t testing.TB, d *inventory.Drawer, style string) Problem {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	return Problem{Drawer: d, Air: air, Style: s}
}
