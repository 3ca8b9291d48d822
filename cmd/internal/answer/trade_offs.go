package answer

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// GivesUp is what the combination lacks on an axis against the best there.
type GivesUp struct {
	Axis  string  `json:"axis"`
	Value float64 `json:"value"`
	Best  float64 `json:"best"`
	Parts Parts   `json:"parts"`
	Text  string  `json:"text"`
}

func (e *explaining) givesUp() []GivesUp {
	list := []GivesUp{}
	for axis := range objective.AxisCount {
		top := e.topOn(axis)
		if top == nil {
			continue
		}
		one := GivesUp{Axis: axis.Key(), Value: hundredths(e.Result.Evaluation.Axes[axis]),
			Best: hundredths(top.Evaluation.Axes[axis]), Parts: partsOf(&top.Combination)}
		if gap := top.Evaluation.Axes[axis] - e.Result.Evaluation.Axes[axis]; gap < 0.5 {
			one.Text = fmt.Sprintf("%s: nothing; no combination of the drawer has more.", axis)
			if !e.Ranking.AxesProven {
				one.Text = fmt.Sprintf("%s: nothing; no combination that was found has more.", axis)
			}
		} else {
			one.Text = fmt.Sprintf("%s: %s, %s; %s has most.", axis, catalogue.Plural(int64(gap+0.5), "point", "points"),
				catalogue.Against(e.Result, top, axis), catalogue.OtherText(&e.Result.Combination, &top.Combination))
		}
		list = append(list, one)
	}
	return list
}

// topOn is the feasible combination with most of an axis.
func (e *explaining) topOn(axis objective.Axis) *predict.Result {
	var top *predict.Result
	for _, pool := range [][]predict.Result{e.Ranking.Front, e.Ranking.Best} {
		for i := range pool {
			if top == nil || pool[i].Evaluation.Axes[axis] > top.Evaluation.Axes[axis] {
				top = &pool[i]
			}
		}
	}
	if top != nil && e.Result.Evaluation.Axes[axis] > top.Evaluation.Axes[axis] {
		return e.Result
	}
	return top
}

// Alternative is the best swap of one part for an axis.
type Alternative struct {
	Axis    string  `json:"axis"`
	Part    string  `json:"part"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Parts   Parts   `json:"parts"`
	Score   float64 `json:"score"`
	Axes    Fields  `json:"axes"`
	Figures Fields  `json:"figures"`
	Text    string  `json:"text"`
}

func (e *explaining) alternatives() []Alternative {
	list := []Alternative{}
	for i := range e.swaps {
		w := &e.swaps[i]
		list = append(list, Alternative{w.Axis.Key(), string(w.Part), w.From, w.To, partsOf(&w.Combination),
			hundredths(w.Evaluation.Score),
			axesFields(&w.Evaluation.Axes), figuresOf(&w.Result), w.Axis.String() + ": " +
				e.swapSentence(w, []objective.Axis{w.Axis}) + "."})
	}
	return list
}

// swapList says what the swaps do, those that serve several axes once.
func (e *explaining) swapList() []string {
	var axes []objective.Axis
	var swaps []string
	for i := range e.swaps {
		w := &e.swaps[i]
		axes, swaps = append(axes, w.Axis), append(swaps, string(w.Part)+" "+w.To)
	}
	return catalogue.Gathered(axes, swaps, func(i int, asked []objective.Axis) string {
		return e.swapSentence(&e.swaps[i],
			asked)
	})
}

// swapSentence says what one swap gains and costs, in axes and in what a pilot notices.
func (e *explaining) swapSentence(w *search.Neighbour, asked []objective.Axis) string {
	words := []string{catalogue.DeltasText(e.Result, &w.Result, asked)}
	was, is := catalogue.ShownOf(e.Result, figure.AllUpMass), catalogue.ShownOf(&w.Result, figure.AllUpMass)
	if d := is.Value - was.Value; math.Abs(d) >= 0.5 {
		side := "heavier"
		if d < 0 {
			side = "lighter"
		}
		words = append(words, fmt.Sprintf("%s g %s", catalogue.Fixed(math.Abs(d), 0), side))
	}
	was, is = catalogue.ShownOf(e.Result, figure.HoverThrottle), catalogue.ShownOf(&w.Result, figure.HoverThrottle)
	if was.Defined() && is.Defined() && math.Abs(is.Value-was.Value) >= 1 {
		words = append(words, fmt.Sprintf("hover %s → %s", catalogue.PairNumber(&was, &is), is.PairString(&was)))
	}
	words = append(words, "score "+catalogue.SignedFixed(w.Evaluation.Score-e.Result.Evaluation.Score, 1))
	return fmt.Sprintf("%s → %s: %s", w.Part, w.To, strings.Join(words, ", "))
}

// sparesSentence counts the props that are left once the craft is built.
func (e *explaining) sparesSentence() string {
	c := &e.Result.Combination
	if c.Prop.Count == nil {
		return ""
	}
	left := int64(*c.Prop.Count - c.Rotors())
	sets := left / int64(c.Rotors())
	text := fmt.Sprintf("Spare props left of %s: %d", c.Prop.ID, left)
	if sets > 0 {
		text += ", " + catalogue.Plural(sets, "full set", "full sets")
	}
	return text + "."
}
