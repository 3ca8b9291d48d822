package catalogue

import (
	"testing"

	"partsaloft/objective"
	"partsaloft/search"
)

// A score says what 100 would be on the axes that count, and what the drawer reaches.
func TestScaleOfAScore(t *testing.T) {
	style, _ := objective.Preset("cruise")
	style.Weights = objective.Weights{objective.Endurance: 0.7, objective.TopSpeed: 0.3}
	r := &search.Ranking{BestScore: 61.26,
		Most: objective.Axes{objective.Endurance: 81.6, objective.TopSpeed: 70}}
	want := "Scores use one scale for every drawer: 100 means flying time 45 min and top speed 60 m/s all at " +
		"once, which no craft reaches. Best here: 61.3; best of any build on each axis: endurance 82 and top " +
		"speed 70."
	if got := ScaleSentence(&style, r); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
