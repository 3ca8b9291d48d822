package answer

import (
	"math"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/objective"
	"partsaloft/physics"
)

// Reason is what one axis does to the score, alone and against a rival.
type Reason struct {
	Axis    string       `json:"axis"`
	Value   float64      `json:"value"`
	Weight  float64      `json:"weight"`
	Cost    float64      `json:"cost"`
	Against *float64     `json:"against"`
	Points  *float64     `json:"points"`
	Figures []FeedReason `json:"figures"`
	Text    string       `json:"text"`
}

// FeedReason is what one figure behind an axis does to it.
type FeedReason struct {
	Figure       string   `json:"figure"`
	Value        *float64 `json:"value"`
	Desirability float64  `json:"desirability"`
	Cost         float64  `json:"cost"`
}

func (e *explaining) reasons() []Reason {
	var points [objective.AxisCount]float64
	if e.rival != nil {
		points = objective.Decompose(&e.Problem.Style.Weights, &e.Result.Evaluation.Axes, &e.rival.Evaluation.Axes)
	}
	var list []Reason
	for axis, share := range e.Problem.Style.Shortfalls(&e.Result.Performance) {
		one := Reason{Axis: share.Axis.Key(), Value: hundredths(share.Value), Weight: catalogue.Round(share.Weight),
			Cost: hundredths(share.Points)}
		if e.rival != nil {
			against, gained := hundredths(e.rival.Evaluation.Axes[axis]), hundredths(points[axis])
			one.Against, one.Points = &against, &gained
		}
		for _, f := range share.Criteria {
			feed := FeedReason{Figure: f.Criterion.Figure().Key, Desirability: catalogue.Round(f.Desirability),
				Cost: hundredths(f.Points)}
			if f.Undefined == physics.Defined {
				value := catalogue.Round(f.Value)
				feed.Value = &value
			}
			one.Figures = append(one.Figures, feed)
		}
		one.Text = e.reasonSentence(&share)
		list = append(list, one)
	}
	return list
}

// reasonSentence says what an axis does to the score, and which figure holds it down most.
func (e *explaining) reasonSentence(share *objective.AxisShortfall) string {
	values := map[string]any{"axis": share.Axis.String(), "value": catalogue.Fixed(share.Value, 0),
		"weight": catalogue.Fixed(100*share.Weight, 0), "points": catalogue.Fixed(share.Points, 1)}
	if share.Weight == 0 {
		return catalogue.Answer("axis.unweighted").Sentence(values)
	}
	worst := share.Criteria[0]
	for _, f := range share.Criteria {
		if f.Desirability < worst.Desirability {
			worst = f
		}
	}
	f := catalogue.ShownOf(e.Result, worst.Criterion.Quantity)
	if share.Points < 0.05 {
		return catalogue.Answer("axis.free").Sentence(values)
	}
	which := catalogue.Answer("axis.costs")
	if len(share.Criteria) > 1 {
		which = "axis.costs_most"
	}
	values["figure"], values["number"] = catalogue.FigureName(f.Key), f.String()
	return which.Sentence(values)
}

func (e *explaining) apartSentence() string {
	text := catalogue.Answer("score.costs").Template()
	if e.rival == nil {
		return text
	}
	name := "rank 1"
	if e.Rank == 1 {
		name = "rank 2"
	}
	if reasons := catalogue.ApartText(&e.Problem.Style, e.Result, e.rival); reasons != "" && e.Rank != 1 {
		gap := e.Result.Evaluation.Score - e.rival.Evaluation.Score
		which := catalogue.Answer("score.ahead")
		if gap < 0 {
			which = "score.behind"
		}
		text += " " + catalogue.Say(which, "points", catalogue.PointsText(math.Abs(gap)), "rank", name, "reasons", reasons)
	}
	return text
}
