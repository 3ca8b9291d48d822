package objective_test

import (
	"fmt"

	"partsaloft/objective"
)

// Weights are shares of the score; a limit is a figure with a range.
func ExampleParseLimit() {
	w, err := objective.ParseWeights("grip=3,endurance=1")
	if err != nil {
		fmt.Println(err)
		return
	}
	limit, err := objective.ParseLimit("all_up_g=..200")
	if err != nil {
		fmt.Println(err)
		return
	}
	style, _ := objective.Preset("freestyle")
	style.Weights = w
	style = style.With(limit)
	fmt.Printf("grip %.2f, endurance %.2f, limits %v\n", w[objective.Grip], w[objective.Endurance], style.Limits)
	// Output:
	// grip 0.75, endurance 0.25, limits [all_up_g=..200 thrust_to_weight=2..]
}
