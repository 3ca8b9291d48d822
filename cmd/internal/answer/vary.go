package answer

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
)

// Vary makes one change at a time to a combination; without changes, written as --change has them, the usual ones.
// Where nothing is feasible, or the combination cannot be built, the second document says so instead of the first.
func Vary(ctx context.Context, a *Ask, which Which, changes []string) (*Variations, *Ranking, error) {
	job := progress.Of(ctx)
	find, try := job.Plan(progress.Searching, a.Search.Work(a.Problem.Drawer)), job.Plan(progress.Varying,
		a.Search.ChangesWork(cmp.Or(len(changes), usualChanges)))
	sub, err := a.varied(find.In(ctx), which, changes)
	if err != nil {
		return nil, nil, err
	}
	find.End()
	if !sub.built() {
		return nil, a.nothing(sub.Ranking, sub.Result), nil
	}
	list, err := sub.changes(changes)
	if err != nil {
		return nil, nil, err
	}
	base, varied, err := search.WhatIf(try.In(ctx), *sub.Problem, sub.Result.Combination, list,
		a.Search.Sampling(a.Problem.Drawer))
	if err != nil {
		return nil, nil, err
	}
	slices.SortStableFunc(varied, func(x, y search.Varied) int {
		return cmp.Or(cmp.Compare(len(x.Misfits), len(y.Misfits)), cmp.Compare(y.ScoreDelta, x.ScoreDelta))
	})
	sub.Result = &base
	return a.variations(sub, varied), nil, nil
}

// usualChanges is about how many changes are tried without any named.
const usualChanges = 25

// varied finds the combination to vary; one that is named by its parts needs no ranking.
func (a *Ask) varied(ctx context.Context, which Which, changes []string) (*Subject, error) {
	for _, text := range changes {
		if _, err := parseChange(text, inventory.Air{}); err != nil {
			return nil, askf("--change: %w", err)
		}
	}
	if which.Rank > 0 {
		return a.subject(ctx, which)
	}
	c, err := a.meant(ctx, which)
	if err != nil {
		return nil, err
	}
	sub := &Subject{Problem: a.Problem, Ranking: unranked(1)}
	return sub, sub.assess(ctx, c, a.Search.Sampling(a.Problem.Drawer))
}

// changes are those asked for, or the usual ones.
func (sub *Subject) changes(texts []string) ([]search.Change, error) {
	c := &sub.Result.Combination
	air := sub.Problem.Drawer.Air
	if len(texts) == 0 {
		places, err := search.AirChanges(air)
		return append(search.UsualChanges(c), places...), err
	}
	var list []search.Change
	for _, text := range texts {
		change, err := parseChange(text, air)
		if err == nil {
			err = tryChange(c, text)
		}
		if err != nil {
			return nil, askf("--change: %w", err)
		}
		list = append(list, change)
	}
	return list, nil
}

// Variations is the document of vary.
type Variations struct {
	Head
	Search  Search      `json:"search"`
	Results []Result    `json:"results"`
	Changes []Variation `json:"changes"`

	Subject *Subject        `json:"-"`
	Varied  []search.Varied `json:"-"`
	Words   VaryWords       `json:"-"`
}

// VaryWords are the sentences of a document of vary.
type VaryWords struct {
	IDs     string
	Dangers []string // what may burn or fall of it as it is
	Base    string   // what it does as it is
	Cannot  []string // changes that cannot be made, and why
	Notes   []string // of the drawer on its parts
}

// Variation is what one change does; score, axes and figures are differences.
type Variation struct {
	Change       string        `json:"change"`
	Feasible     bool          `json:"feasible"`
	Score        *float64      `json:"score"`
	Axes         Fields        `json:"axes"`
	Figures      Fields        `json:"figures"`
	BrokenLimits []BrokenLimit `json:"broken_limits"`
	Misfits      []string      `json:"misfits"`
}

func (a *Ask) variations(sub *Subject, varied []search.Varied) *Variations {
	base := sub.Result
	one := resultOf(base, 0)
	if sub.Rank > 0 {
		one.Rank = &sub.Rank
	}
	care := CareOf(&Scene{Drawer: sub.Problem.Drawer, Styles: a.styles(), Crafts: []*predict.Result{base}})
	d := &Variations{Head: a.head(care), Search: searchOf(sub.Ranking), Results: []Result{one}, Changes: []Variation{},
		Subject: sub, Varied: varied}
	d.Advice = append([]string{catalogue.VarySentence(base, varied)},
		adviceOn(base, catalogue.RankedSentence(sub.Rank, &base.Combination), a.Problem.Style.Name)...)
	d.Words = VaryWords{IDs: catalogue.IDsSentence(&base.Combination),
		Dangers: catalogue.Sentences(catalogue.DangerTexts(base)), Notes: catalogue.OwnNotes(&base.Combination),
		Base: catalogue.Say("vary.base", "score", catalogue.Fixed(base.Evaluation.Score, 1), "style",
			catalogue.StyleWords(&sub.Problem.Style), "axes", axesText(base))}
	for i := range varied {
		v := &varied[i]
		d.Changes = append(d.Changes, variationOf(v))
		if len(v.Misfits) > 0 {
			d.Words.Cannot = append(d.Words.Cannot, catalogue.Say("vary.cannot", "change",
				catalogue.ChangeName(&v.Change), "reasons", joined(catalogue.MisfitTexts(&v.Result))))
		}
	}
	return d
}

func variationOf(v *search.Varied) Variation {
	one := Variation{Change: catalogue.ChangeName(&v.Change), Feasible: v.Feasible(), Axes: Fields{}, Figures: Fields{},
		BrokenLimits: brokenOf(v.Violations), Misfits: catalogue.MisfitTexts(&v.Result)}
	if len(v.Misfits) > 0 {
		return one
	}
	score := hundredths(v.ScoreDelta)
	one.Score, one.Axes = &score, axesFields(&v.AxesDelta)
	for q, d := range v.Deltas {
		f := figure.Of(figure.Quantity(q))
		value := Unknown(d.Basis.String(), catalogue.Undefined(d.Why))
		if d.Why == physics.Defined {
			value = Known(f.PerSI*d.Value, f.PerSI*d.Low, f.PerSI*d.High, d.Basis.String())
		}
		one.Figures = append(one.Figures, Field{Key: f.Key, Value: value})
	}
	return one
}

// Rows is what the changes do as a table of plain values.
func (d *Variations) Rows() *Rows {
	rows := &Rows{Keys: []string{"change", "feasible", "score"}}
	for a := range objective.AxisCount {
		rows.Keys = append(rows.Keys, a.Key())
	}
	rows.Keys = append(rows.Keys, figureKeys()...)
	for i := range d.Varied {
		v := &d.Varied[i]
		row := []string{catalogue.ChangeName(&v.Change), fmt.Sprint(v.Feasible())}
		if len(v.Misfits) == 0 {
			row = append(append(row, catalogue.Raw(hundredths(v.ScoreDelta))), axesCells(&v.AxesDelta)...)
			for q, x := range v.Deltas {
				scale := figure.Of(figure.Quantity(q)).PerSI
				row = append(row, intervalCells(x.Why == physics.Defined, scale*x.Value, scale*x.Low, scale*x.High)...)
			}
		}
		rows.Add(append(row, make([]string, len(rows.Keys)-len(row))...)...)
	}
	return rows
}

// axesText lists the axes with their leading figures.
func axesText(r *predict.Result) string {
	var words []string
	for a := range objective.AxisCount {
		lead := catalogue.Leading(r, a)
		words = append(words, catalogue.Say("vary.axis", "axis", a.String(), "value",
			catalogue.Fixed(r.Evaluation.Axes[a], 0), "figure", lead.String()))
	}
	return strings.Join(words, ", ")
}
