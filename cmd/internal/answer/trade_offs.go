package answer

import (
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
			one.Text = catalogue.Say("trade.none", "axis", axis.String())
			if !e.Ranking.AxesProven {
				one.Text = catalogue.Say("trade.none_found", "axis", axis.String())
			}
		} else {
			one.Text = catalogue.Say("trade", "axis", axis.String(), "points", int64(gap+0.5), "against",
				catalogue.Against(e.Result, top, axis), "other", catalogue.OtherText(&e.Result.Combination, &top.Combination))
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
			axesFields(&w.Evaluation.Axes), figuresOf(&w.Result), catalogue.Say("swap.axis", "axis", w.Axis.String(),
				"swap", e.swapSentence(w, []objective.Axis{w.Axis}))})
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
		side := catalogue.Answer("swap.heavier")
		if d < 0 {
			side = "swap.lighter"
		}
		words = append(words, catalogue.Say(side, "amount", catalogue.Fixed(math.Abs(d), 0)))
	}
	was, is = catalogue.ShownOf(e.Result, figure.HoverThrottle), catalogue.ShownOf(&w.Result, figure.HoverThrottle)
	if was.Defined() && is.Defined() && math.Abs(is.Value-was.Value) >= 1 {
		words = append(words, catalogue.Say("swap.hover", "was", catalogue.PairNumber(&was, &is), "is", is.PairString(&was)))
	}
	words = append(words, catalogue.Say("swap.score", "gain",
		catalogue.SignedFixed(w.Evaluation.Score-e.Result.Evaluation.Score, 1)))
	return catalogue.Say("swap", "part", string(w.Part), "to", w.To, "what", strings.Join(words, ", "))
}

// sparesSentence counts the props that are left once the craft is built.
func (e *explaining) sparesSentence() string {
	c := &e.Result.Combination
	if c.Prop.Count == nil {
		return ""
	}
	left := int64(*c.Prop.Count - c.Rotors())
	sets := left / int64(c.Rotors())
	which := catalogue.Answer("spares")
	if sets > 0 {
		which = "spares.sets"
	}
	return catalogue.Say(which, "id", c.Prop.ID, "left", left, "sets", sets)
}
