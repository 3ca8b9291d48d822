package catalogue

import (
	"fmt"
	"strings"

	"partsaloft/objective"
	"partsaloft/search"
)

// scaleSentence says what a score is a place on.
const scaleSentence = "Scores are on one scale for every drawer: 100 is {ends} all at once, which no craft reaches. " +
	"Here the best build scores {best}; the most of any is {most}."

// ScaleSentence says what a score of 100 would be, the best score of the drawer, and the most that any build has of each
// axis that counts in the style.
func ScaleSentence(style *objective.Style, r *search.Ranking) string {
	var ends, most []string
	for a := range objective.AxisCount {
		if style.Weights[a] == 0 {
			continue
		}
		f := objective.LeadingFigure(a)
		for _, c := range objective.Criteria() {
			if c.Axis == a && c.Quantity == f.Quantity {
				ends = append(ends, FigureName(f.Key)+" "+strings.TrimSpace(WithUnit(Raw(c.Scale.Best), f.Unit)))
			}
		}
		most = append(most, fmt.Sprintf("%s %.0f", a, r.Most[a]))
	}
	return Fill(scaleSentence, map[string]any{"ends": Words(ends), "best": Fixed(r.BestScore, 1),
		"most": Words(most)})
}
