package cli

import (
	"math"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// shown is a figure of a result in the pilot's unit.
type shown struct {
	figure.Figure
	value, low, high float64
	basis            string
	why              physics.Reason
}

func shownOf(r *predict.Result, q figure.Quantity) shown {
	f, v := figure.Of(q), r.Figures[q]
	return shown{f, f.FromSI(v.Value), f.FromSI(v.Low), f.FromSI(v.High), v.Basis.String(), v.Why}
}

// leading is the figure that leads an axis.
func leading(r *predict.Result, a objective.Axis) shown {
	return shownOf(r, objective.LeadingFigure(a).Quantity)
}

func (f *shown) defined() bool { return f.why == physics.Defined }

// number is the value with the digits that its interval supports, without its unit. A throttle cap comes
// in whole per cent, rounded down: what is set in software must not be over it.
func (f *shown) number() string {
	if !f.defined() {
		return "–"
	}
	if f.Quantity == figure.ThrottleCap {
		return strconv.Itoa(int(math.Floor(f.value)))
	}
	return catalogue.Number(f.value, f.low, f.high)
}

// String is the number with its unit.
func (f *shown) String() string {
	if !f.defined() {
		return "undefined"
	}
	return withUnit(f.number(), f.Unit)
}

// span is the interval without its unit.
func (f *shown) span() string {
	if !f.defined() {
		return "–"
	}
	return catalogue.Interval(f.value, f.low, f.high)
}

func axesFields(x *objective.Axes) answer.Fields {
	var fields answer.Fields
	for a := range objective.AxisCount {
		fields = append(fields, answer.Field{Key: a.Key(), Value: hundredths(x[a])})
	}
	return fields
}

// hundredths rounds a score or a share of it for JSON and CSV.
func hundredths(x float64) float64 { return catalogue.Decimal(x, 2) }

func partsOf(r *predict.Result) answer.Parts {
	p := r.Combination.Parts()
	extras := p.Extras
	if extras == nil {
		extras = []string{}
	}
	return answer.Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board, Extras: extras}
}

func figuresOf(r *predict.Result) answer.Fields {
	var fields answer.Fields
	for q := range figure.Count {
		f := shownOf(r, q)
		one := answer.Known(f.value, f.low, f.high, f.basis)
		if !f.defined() {
			one = answer.Unknown(f.basis, f.why.String())
		}
		fields = append(fields, answer.Field{Key: f.Key, Value: one})
	}
	return fields
}

func brokenOf(broken []objective.Violation) []answer.BrokenLimit {
	list := []answer.BrokenLimit{}
	for i := range broken {
		b := &broken[i]
		one := answer.BrokenLimit{Rule: b.Rule.String(), Figure: b.Key, Text: brokenSentence(b)}
		if b.Why == physics.Defined {
			value, bound := catalogue.Round(b.Value), catalogue.Round(b.Bound)
			one.Value, one.Bound = &value, &bound
		}
		list = append(list, one)
	}
	return list
}

func notesOf(r *predict.Result) []string {
	notes := make([]string, len(r.Notes))
	for i, note := range r.Notes {
		notes[i] = inWords(note)
	}
	return notes
}

// inWords names the figure that a note begins with.
func inWords(note string) string {
	key, rest, ok := strings.Cut(note, " ")
	if !ok {
		return note
	}
	return nameOf(key) + " " + rest
}

// resultOf is the document of a result; rank is 0 for one that was not ranked.
func resultOf(r *predict.Result, rank int) answer.Result {
	d := answer.Result{
		Score: hundredths(r.Evaluation.Score), Axes: axesFields(&r.Evaluation.Axes), Parts: partsOf(r), Figures: figuresOf(r),
		BrokenLimits: brokenOf(r.Violations), Notes: append(notesOf(r), partNotes(&r.Combination)...),
	}
	if r.UnlikeText != "" {
		unlike := catalogue.Round(r.Unlike)
		d.Unlike, d.UnlikeText = &unlike, r.UnlikeText
	}
	if rank > 0 {
		ahead, best := catalogue.Round(r.AheadShare), catalogue.Round(r.BestShare)
		d.Rank, d.AheadShare, d.BestShare, d.Lead = &rank, &ahead, &best, predict.Lead(r.AheadShare)
	}
	return d
}

// resultRows is the CSV of ranked results: the JSON's keys, one row a result.
func resultRows(results []predict.Result) *render.Table {
	t := resultHead()
	for i := range results {
		t.Rows = append(t.Rows, resultRow(&results[i], i+1))
	}
	return t
}

func resultHead() *render.Table {
	t := &render.Table{}
	add := func(keys ...string) {
		for _, key := range keys {
			t.Columns = append(t.Columns, render.Left(key))
		}
	}
	add("rank", "score")
	for a := range objective.AxisCount {
		add(a.Key())
	}
	add("motor", "prop", "pack", "frame", "board", "extras")
	for _, f := range figure.All() {
		add(f.Key, f.Key+"_low", f.Key+"_high")
	}
	add("ahead_share", "best_share", "broken_limits", "notes")
	return t
}

func resultRow(r *predict.Result, rank int) []string {
	place, ahead, best := "", "", ""
	if rank > 0 {
		place, ahead, best = raw(float64(rank)), raw(catalogue.Round(r.AheadShare)), raw(catalogue.Round(r.BestShare))
	}
	row := []string{place, raw(hundredths(r.Evaluation.Score))}
	for a := range objective.AxisCount {
		row = append(row, raw(hundredths(r.Evaluation.Axes[a])))
	}
	p := partsOf(r)
	row = append(row, p.Motor, p.Prop, p.Pack, p.Frame, p.Board, strings.Join(p.Extras, "+"))
	for q := range figure.Count {
		f := shownOf(r, q)
		if !f.defined() {
			row = append(row, "", "", "")
			continue
		}
		row = append(row, raw(catalogue.Round(f.value)), raw(catalogue.Round(f.low)), raw(catalogue.Round(f.high)))
	}
	var broken []string
	for i := range r.Violations {
		broken = append(broken, brokenSentence(&r.Violations[i]))
	}
	return append(row, ahead, best, strings.Join(broken, "; "), strings.Join(append(notesOf(r), partNotes(&r.Combination)...), "; "))
}
