package answer

import (
	"fmt"
	"math"
	"strconv"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// Shown is a figure of a result in the pilot's unit, with its 80 % interval.
type Shown struct {
	figure.Figure
	Value, Low, High float64
	Basis            string
	Why              physics.Reason
}

// ShownOf is a figure of a result.
func ShownOf(r *predict.Result, q figure.Quantity) Shown {
	f, v := figure.Of(q), r.Figures[q]
	return Shown{f, f.FromSI(v.Value), f.FromSI(v.Low), f.FromSI(v.High), v.Basis.String(), v.Why}
}

// Leading is the figure that leads an axis.
func Leading(r *predict.Result, a objective.Axis) Shown {
	return ShownOf(r, objective.LeadingFigure(a).Quantity)
}

// Defined reports whether the figure has a value.
func (f *Shown) Defined() bool { return f.Why == physics.Defined }

// Number is the value with the digits that its interval supports, without its unit. A throttle cap comes
// in whole per cent, rounded down: what is set in software must not be over it.
func (f *Shown) Number() string {
	if !f.Defined() {
		return "–"
	}
	if f.Quantity == figure.ThrottleCap {
		return strconv.Itoa(int(math.Floor(f.Value)))
	}
	return catalogue.Number(f.Value, f.Low, f.High)
}

// String is the number with its unit.
func (f *Shown) String() string {
	if !f.Defined() {
		return "undefined"
	}
	return catalogue.WithUnit(f.Number(), f.Unit)
}

// Span is the interval without its unit.
func (f *Shown) Span() string {
	switch {
	case !f.Defined():
		return "–"
	case f.Quantity == figure.ThrottleCap && f.High > f.Low:
		return fmt.Sprintf("%.0f to %.0f", math.Floor(f.Low), math.Floor(f.High))
	}
	return catalogue.Interval(f.Value, f.Low, f.High)
}

func axesFields(x *objective.Axes) Fields {
	var fields Fields
	for a := range objective.AxisCount {
		fields = append(fields, Field{Key: a.Key(), Value: hundredths(x[a])})
	}
	return fields
}

// hundredths rounds a score or a share of it for JSON and CSV.
func hundredths(x float64) float64 { return catalogue.Decimal(x, 2) }

func partsOf(r *predict.Result) Parts {
	p := r.Combination.Parts()
	extras := p.Extras
	if extras == nil {
		extras = []string{}
	}
	return Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board, Extras: extras}
}

func figuresOf(r *predict.Result) Fields {
	var fields Fields
	for q := range figure.Count {
		f := ShownOf(r, q)
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
		Score: hundredths(r.Evaluation.Score), Axes: axesFields(&r.Evaluation.Axes), Parts: partsOf(r), Figures: figuresOf(r),
		BrokenLimits: brokenOf(r.Violations), Dangers: dangerTexts(r), Notes: allNotes(r),
	}
	if r.Novelty != nil {
		unlike := catalogue.Round(r.Novelty.Distance)
		d.Unlike, d.UnlikeText = &unlike, noveltyText(r.Novelty)
	}
	if rank > 0 {
		ahead, best := catalogue.Round(r.AheadShare), catalogue.Round(r.BestShare)
		d.Rank, d.AheadShare, d.BestShare, d.Lead = &rank, &ahead, &best, r.Lead().String()
	}
	return d
}
