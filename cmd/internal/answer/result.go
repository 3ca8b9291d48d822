package answer

import (
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

func axesFields(x *objective.Axes) Fields {
	var fields Fields
	for a := range objective.AxisCount {
		fields = append(fields, Field{Key: a.Key(), Value: hundredths(x[a])})
	}
	return fields
}

// hundredths rounds a score or a share of it for JSON and CSV.
func hundredths(x float64) float64 { return catalogue.Decimal(x, 2) }

func partsOf(c *inventory.Combination) Parts {
	p := c.Parts()
	extras := p.Extras
	if extras == nil {
		extras = []string{}
	}
	return Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board, Extras: extras}
}

func figuresOf(r *predict.Result) Fields {
	var fields Fields
	for q := range figure.Count {
		f := catalogue.ShownOf(r, q)
		one := Known(f.Value, f.Low, f.High, f.Basis)
		if !f.Defined() {
			one = Unknown(f.Basis, catalogue.Undefined(f.Why))
		}
		fields = append(fields, Field{Key: f.Key, Value: one})
	}
	return fields
}

func brokenOf(broken []objective.Violation) []BrokenLimit {
	list := []BrokenLimit{}
	for i := range broken {
		b := &broken[i]
		one := BrokenLimit{Rule: b.Rule.String(), Figure: b.Key, Text: catalogue.Violation(b)}
		if b.Why == physics.Defined {
			value, bound := catalogue.Round(b.Value), catalogue.Round(b.Bound)
			one.Value, one.Bound = &value, &bound
		}
		list = append(list, one)
	}
	return list
}

// resultOf is the document of a result; rank is 0 for one that was not ranked.
func resultOf(r *predict.Result, rank int) Result {
	d := Result{
		Score: hundredths(r.Evaluation.Score), Axes: axesFields(&r.Evaluation.Axes), Parts: partsOf(&r.Combination), Figures: figuresOf(r),
		BrokenLimits: brokenOf(r.Violations), Dangers: catalogue.DangerTexts(r), Notes: catalogue.AllNotes(r),
		CannotHoverShare: catalogue.Round(r.GroundedShare),
	}
	if r.Novelty != nil {
		unlike := catalogue.Round(r.Novelty.Distance)
		d.Unlike, d.UnlikeText = &unlike, catalogue.NoveltyText(r.Novelty)
	}
	if rank > 0 {
		ahead, best := catalogue.Share(r.AheadShare), catalogue.Share(r.BestShare)
		d.Rank, d.AheadShare, d.BestShare, d.Lead = &rank, &ahead, &best, r.Lead().String()
	}
	return d
}

// Rows are an answer as a table of plain values for other programs: the document's keys, a row a result.
type Rows struct {
	Keys  []string
	Cells [][]string
}

// Add appends a row.
func (r *Rows) Add(cells ...string) { r.Cells = append(r.Cells, cells) }

// rankRows are the rows of a ranking, with how many variants stand behind each.
func rankRows(r *search.Ranking) *Rows {
	rows := resultHead()
	rows.Keys = append(rows.Keys, "variants")
	for i := range r.Best {
		rows.Add(append(resultRow(&r.Best[i], i+1), strconv.Itoa(len(r.Groups[i].Variants)))...)
	}
	return rows
}

// resultHead are rows of results without any; keys stand before the result's own.
func resultHead(keys ...string) *Rows {
	rows := &Rows{Keys: append(keys, "rank", "score")}
	for a := range objective.AxisCount {
		rows.Keys = append(rows.Keys, a.Key())
	}
	rows.Keys = append(rows.Keys, "motor", "prop", "pack", "frame", "board", "extras")
	rows.Keys = append(rows.Keys, figureKeys()...)
	rows.Keys = append(rows.Keys, "ahead_share", "best_share", "cannot_hover_share", "broken_limits", "notes")
	return rows
}

// figureKeys are the keys of every figure and of both ends of its interval.
func figureKeys() []string {
	var keys []string
	for _, key := range figure.Keys() {
		keys = append(keys, key, key+"_low", key+"_high")
	}
	return keys
}

// resultRow is a result; rank is 0 for one that was not ranked.
func resultRow(r *predict.Result, rank int) []string {
	place, ahead, best := "", "", ""
	if rank > 0 {
		place, ahead, best = catalogue.Raw(float64(rank)), catalogue.Raw(catalogue.Share(r.AheadShare)),
			catalogue.Raw(catalogue.Share(r.BestShare))
	}
	row := append([]string{place, catalogue.Raw(hundredths(r.Evaluation.Score))}, axesCells(&r.Evaluation.Axes)...)
	p := partsOf(&r.Combination)
	row = append(row, p.Motor, p.Prop, p.Pack, p.Frame, p.Board, strings.Join(p.Extras, "+"))
	for q := range figure.Count {
		f := catalogue.ShownOf(r, q)
		row = append(row, intervalCells(f.Defined(), f.Value, f.Low, f.High)...)
	}
	var broken []string
	for i := range r.Violations {
		broken = append(broken, catalogue.Violation(&r.Violations[i]))
	}
	return append(row, ahead, best, catalogue.Raw(catalogue.Round(r.GroundedShare)), strings.Join(broken, "; "),
		strings.Join(catalogue.AllNotes(r), "; "))
}

func axesCells(x *objective.Axes) []string {
	cells := make([]string, len(x))
	for a := range x {
		cells[a] = catalogue.Raw(hundredths(x[a]))
	}
	return cells
}

// intervalCells are a value and both ends of its interval, empty if it is undefined.
func intervalCells(defined bool, value, low, high float64) []string {
	if !defined {
		return []string{"", "", ""}
	}
	return []string{catalogue.Raw(catalogue.Round(value)), catalogue.Raw(catalogue.Round(low)),
		catalogue.Raw(catalogue.Round(high))}
}
