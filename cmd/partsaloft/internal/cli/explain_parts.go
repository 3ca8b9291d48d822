package cli

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// reasonJSON is what one axis does to the score, alone and against a rival.
type reasonJSON struct {
	Axis    string       `json:"axis"`
	Value   float64      `json:"value"`
	Weight  float64      `json:"weight"`
	Cost    float64      `json:"cost"`
	Against *float64     `json:"against"`
	Points  *float64     `json:"points"`
	Figures []feedReason `json:"figures"`
	Text    string       `json:"text"`
}

type feedReason struct {
	Figure       string   `json:"figure"`
	Value        *float64 `json:"value"`
	Desirability float64  `json:"desirability"`
	Cost         float64  `json:"cost"`
}

func (e *explanation) reasons() []reasonJSON {
	var points [objective.AxisCount]float64
	if e.rival != nil {
		points = objective.Decompose(&e.problem.Style.Weights, &e.result.Evaluation.Axes, &e.rival.Evaluation.Axes)
	}
	var list []reasonJSON
	for axis, share := range e.problem.Style.Shortfalls(&e.result.Performance) {
		one := reasonJSON{Axis: share.Axis.Key(), Value: hundredths(share.Value), Weight: catalogue.Round(share.Weight), Cost: hundredths(share.Points)}
		if e.rival != nil {
			against, gained := hundredths(e.rival.Evaluation.Axes[axis]), hundredths(points[axis])
			one.Against, one.Points = &against, &gained
		}
		for _, f := range share.Criteria {
			criterion := feedReason{Figure: f.Criterion.Figure().Key, Desirability: catalogue.Round(f.Desirability), Cost: hundredths(f.Points)}
			if f.Undefined == physics.Defined {
				value := catalogue.Round(f.Value)
				criterion.Value = &value
			}
			one.Figures = append(one.Figures, criterion)
		}
		one.Text = e.reasonSentence(&share)
		list = append(list, one)
	}
	return list
}

// reasonSentence says what an axis does to the score, and which figure holds it down most.
func (e *explanation) reasonSentence(share *objective.AxisShortfall) string {
	text := fmt.Sprintf("%s %s of 100", share.Axis, catalogue.Fixed(share.Value, 0))
	if share.Weight == 0 {
		return text + ", without weight in this style."
	}
	text += fmt.Sprintf(" at a weight of %s %%", catalogue.Fixed(100*share.Weight, 0))
	worst := share.Criteria[0]
	for _, f := range share.Criteria {
		if f.Desirability < worst.Desirability {
			worst = f
		}
	}
	f := shownOf(e.result, worst.Criterion.Quantity)
	if share.Points < 0.05 {
		return text + " costs nothing."
	}
	held := "held down by"
	if len(share.Criteria) > 1 {
		held = "held down most by"
	}
	return text + fmt.Sprintf(" costs %.1f points, %s %s %s.", share.Points, held, nameOf(f.Key), f.String())
}

// apartTable shows what each axis and each figure behind it does to the score.
func (e *explanation) apartTable() *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("axis"), render.Right("weight\n%"), render.Right("0 to 100"), render.Right("costs\npoints"), render.Left("figures behind it")}}
	for _, share := range e.problem.Style.Shortfalls(&e.result.Performance) {
		var figures []string
		for _, c := range share.Criteria {
			f := shownOf(e.result, c.Criterion.Quantity)
			figures = append(figures, fmt.Sprintf("%s %s (%.0f)", nameOf(f.Key), f.String(), 100*c.Desirability))
		}
		t.Add(share.Axis.String(), catalogue.Fixed(100*share.Weight, 0), catalogue.Fixed(share.Value, 0), catalogue.Fixed(share.Points, 1), strings.Join(figures, "\n"))
	}
	return t
}

func (e *explanation) apartSentence() string {
	text := "Costs are the points that the score would gain were that axis alone at 100; a figure's desirability from 0 to 100 stands behind it in brackets."
	if e.rival == nil {
		return text
	}
	name := "rank 1"
	if e.rank == 1 {
		name = "rank 2"
	}
	if reasons := apartText(&e.problem.Style, e.result, e.rival); reasons != "" && e.rank != 1 {
		gap := e.result.Evaluation.Score - e.rival.Evaluation.Score
		verb := "ahead of"
		if gap < 0 {
			verb = "behind"
		}
		text += fmt.Sprintf(" It is %s %s %s: %s.", pointsText(math.Abs(gap)), verb, name, reasons)
	}
	return text
}

// givesUpJSON is what the combination lacks on an axis against the best there.
type givesUpJSON struct {
	Axis  string       `json:"axis"`
	Value float64      `json:"value"`
	Best  float64      `json:"best"`
	Parts answer.Parts `json:"parts"`
	Text  string       `json:"text"`
}

func (e *explanation) givesUp() []givesUpJSON {
	list := []givesUpJSON{}
	for axis := range objective.AxisCount {
		top := e.topOn(axis)
		if top == nil {
			continue
		}
		one := givesUpJSON{Axis: axis.Key(), Value: hundredths(e.result.Evaluation.Axes[axis]), Best: hundredths(top.Evaluation.Axes[axis]), Parts: partsOf(top)}
		if gap := top.Evaluation.Axes[axis] - e.result.Evaluation.Axes[axis]; gap < 0.5 {
			one.Text = fmt.Sprintf("%s: nothing; no combination of the drawer has more.", axis)
		} else {
			one.Text = fmt.Sprintf("%s: %s, %s; %s has most.", axis, plural(int64(gap+0.5), "point", "points"), against(e.result, top, axis), otherText(&e.result.Combination, &top.Combination))
		}
		list = append(list, one)
	}
	return list
}

// topOn is the feasible combination with most of an axis.
func (e *explanation) topOn(axis objective.Axis) *predict.Result {
	var top *predict.Result
	for _, pool := range [][]predict.Result{e.ranking.Front, e.ranking.Best} {
		for i := range pool {
			if pool[i].Evaluation.Score > 0 && (top == nil || pool[i].Evaluation.Axes[axis] > top.Evaluation.Axes[axis]) {
				top = &pool[i]
			}
		}
	}
	if top != nil && e.result.Evaluation.Axes[axis] > top.Evaluation.Axes[axis] {
		return e.result
	}
	return top
}

// alternativeJSON is the best swap of one part for an axis.
type alternativeJSON struct {
	Axis    string        `json:"axis"`
	Part    string        `json:"part"`
	From    string        `json:"from"`
	To      string        `json:"to"`
	Parts   answer.Parts  `json:"parts"`
	Score   float64       `json:"score"`
	Axes    answer.Fields `json:"axes"`
	Figures answer.Fields `json:"figures"`
	Text    string        `json:"text"`
}

func (e *explanation) alternatives() []alternativeJSON {
	list := []alternativeJSON{}
	for i := range e.swaps {
		w := &e.swaps[i]
		list = append(list, alternativeJSON{w.Axis.Key(), string(w.Part), w.From, w.To, partsOf(&w.Result), hundredths(w.Evaluation.Score),
			axesFields(&w.Evaluation.Axes), figuresOf(&w.Result), w.Axis.String() + ": " + e.swapSentence(w, []objective.Axis{w.Axis}) + "."})
	}
	return list
}

// swapList says what the swaps do, those that serve several axes once.
func (e *explanation) swapList() render.List {
	var axes []objective.Axis
	var swaps []string
	for i := range e.swaps {
		w := &e.swaps[i]
		axes, swaps = append(axes, w.Axis), append(swaps, string(w.Part)+" "+w.To)
	}
	return gathered(axes, swaps, func(i int, asked []objective.Axis) string { return e.swapSentence(&e.swaps[i], asked) })
}

// swapSentence says what one swap gains and costs, in axes and in what a pilot notices.
func (e *explanation) swapSentence(w *search.Swap, asked []objective.Axis) string {
	words := []string{deltasText(e.result, &w.Result, asked)}
	was, is := shownOf(e.result, figure.AllUpMass), shownOf(&w.Result, figure.AllUpMass)
	if d := is.value - was.value; math.Abs(d) >= 0.5 {
		side := "heavier"
		if d < 0 {
			side = "lighter"
		}
		words = append(words, fmt.Sprintf("%s g %s", catalogue.Fixed(math.Abs(d), 0), side))
	}
	was, is = shownOf(e.result, figure.HoverThrottle), shownOf(&w.Result, figure.HoverThrottle)
	if was.defined() && is.defined() && math.Abs(is.value-was.value) >= 1 {
		words = append(words, fmt.Sprintf("hover %s → %s", pairNumber(&was, &is), is.pairString(&was)))
	}
	words = append(words, "score "+catalogue.SignedFixed(w.Evaluation.Score-e.result.Evaluation.Score, 1))
	return fmt.Sprintf("%s → %s: %s", w.Part, w.To, strings.Join(words, ", "))
}

// sparesSentence counts the props that are left once the craft is built.
func (e *explanation) sparesSentence() string {
	c := &e.result.Combination
	if c.Prop.Count == nil {
		return ""
	}
	left := int64(*c.Prop.Count - c.Rotors())
	sets := left / int64(c.Rotors())
	text := fmt.Sprintf("Spare props left of %s: %d", c.Prop.ID, left)
	if sets > 0 {
		text += ", " + plural(sets, "full set", "full sets")
	}
	return text + "."
}
