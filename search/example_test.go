package search_test

import (
	"bytes"
	"context"
	"fmt"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/space"
)

// The best combinations of a drawer for a style, proven to be the best.
func ExampleSearch() {
	text, err := examples.Files.ReadFile("spare-parts.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	drawer, err := inventory.Read("spare-parts.yaml", bytes.NewReader(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	air, err := drawer.Air.SI()
	if err != nil {
		fmt.Println(err)
		return
	}
	style, _ := objective.Preset("freestyle")
	r, err := search.Search(context.Background(), space.Problem{Drawer: drawer, Air: air, Style: style},
		search.Options{Top: 2, Seed: 1, Draws: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Candidates, "candidates, proven:", r.Proven)
	for i := range r.Best {
		fmt.Printf("%.0f %s\n", r.Best[i].Evaluation.Score, r.Best[i].Combination.Key())
	}
	// Output:
	// 64 candidates, proven: true
	// 55 motor=m1404-35,prop=p2.5-24x3,pack=k4s-690,frame=f2.5-coracle,board=b18-24,extras=x-rx+x-strap
	// 55 motor=m1404-35,prop=p2.5-24x3,pack=k4s-530,frame=f2.5-coracle,board=b18-24,extras=x-rx+x-strap
}
