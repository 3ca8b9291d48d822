package search

import (
	"bytes"
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
)

// club reads the example drawer.
func club(t testing.TB) *inventory.Drawer { return example(t, "club.yaml") }

func example(t testing.TB, name string) *inventory.Drawer {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
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
