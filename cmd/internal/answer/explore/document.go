package explore

import (
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory/check"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// Input is what a document is made of.
type Input struct {
	Drawer  string          // base name of its file
	Style   objective.Style // weights and way of flying; its limits are those that the reader cannot move
	Command string          // the command line that ranks the same drawer, without weights and limits
	// Opening is where the limits that the reader moves stand at first, in steps, one for each of
	// Bounds; Catalogue is made for these bounds.
	Opening   []*int32
	Catalogue *search.Catalogue
	Care      answer.Care
	Lead      *Lead // what is said first; nil says nothing
}

// Document is what a front end works with: every build that may lead for some weights and limits.
type Document struct {
	Drawer  string   `json:"drawer"`
	Style   string   `json:"style"`
	Command string   `json:"command"`
	Care    []string `json:"care"`
	Dangers int      `json:"dangers"` // how many of Care are dangers; they come first
	About   about    `json:"about"`
	Held    []string `json:"held"` // what the document holds of the drawer's builds, in sentences
	Lead    *Lead    `json:"lead,omitempty"`

	Axes    []axisJSON   `json:"axes"`
	Bounds  []boundJSON  `json:"bounds"`
	Figures []figureJSON `json:"figures"`
	Groups  []groupJSON  `json:"groups"`

	Parts   parts   `json:"parts"`
	Rows    rows    `json:"rows"`
	Details details `json:"details"`
}

// about says what the rows are.
type about struct {
	Candidates int64   `json:"candidates"`
	Evaluated  int64   `json:"evaluated"`
	Feasible   int64   `json:"feasible"`
	Proven     bool    `json:"proven"`
	Loss       float64 `json:"loss"`
	Complete   int64   `json:"complete"`
}

// First is the first row at the opening; nil if nothing keeps the limits.
func (in *Input) First() *search.Entry {
	bounds := Bounds()
	for i := range in.Catalogue.Entries {
		if e := &in.Catalogue.Entries[i]; e.Keeps(in.Opening, bounds) {
			return e
		}
	}
	return nil
}

// Advice is what to build at the opening, in sentences; none if nothing keeps the limits, or the first row has no
// details.
func (in *Input) Advice() []string {
	if e := in.First(); e != nil && e.Result != nil {
		return answer.Advise(e.Result, in.Style.Name)
	}
	return nil
}

type axisJSON struct {
	Key    string   `json:"key"`
	Name   string   `json:"name"`
	Hint   string   `json:"hint"` // the names of its criteria's figures …
	Keys   []string `json:"keys"` // … and their keys
	Weight float64  `json:"weight"`
}

// boundJSON is a figure that the reader limits, in steps of which PerUnit make one unit.
type boundJSON struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Label   string `json:"label"`
	Word    string `json:"word"`
	Unit    string `json:"unit"`
	AtMost  bool   `json:"atMost"`
	PerUnit int    `json:"perUnit"`
	Open    *int32 `json:"open"` // in steps
}

type figureJSON struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Unit    string `json:"unit"`
	Meaning string `json:"meaning"`
}

type groupJSON struct {
	Name    string `json:"name"`
	Figures []int  `json:"figures"`
}

// rows are all combinations in the page, best first as it opens.
type rows struct {
	Count  int      `json:"count"`
	Motor  column   `json:"motor"`
	Prop   column   `json:"prop"`
	Pack   column   `json:"pack"`
	Kit    column   `json:"kit"`
	Axes   []column `json:"axes"`
	Steps  []column `json:"steps"`  // by bound
	Detail column   `json:"detail"` // one more than the index in details; 0 for none
}

// details are the combinations that are predicted in full.
type details struct {
	Count  int            `json:"count"`
	Values []detailValues `json:"values"` // by figure
	Curves curves         `json:"curves"`
	Advice [][]string     `json:"advice"` // what to build, what to expect and what limits it, in sentences
	// Texts are what is to be noted, numbers of cautions left out; Notes names them for each
	// combination: an index, or an index and the numbers.
	Texts []noteText `json:"texts"`
	Notes [][]any    `json:"notes"`
}

// detailValues are a figure's values and what its 80 % interval adds below and above.
type detailValues struct {
	Value column `json:"value"`
	Below column `json:"below"`
	Above column `json:"above"`
}

// Kinds of notes.
const (
	fitNote = iota
	cautionNote
	assumedNote
	dangerNote
)

type noteText struct {
	Text string `json:"text"`
	Kind int    `json:"kind,omitempty"`
}

// Document makes the document.
func (in *Input) Document() *Document {
	c := in.Catalogue
	d := &Document{Drawer: in.Drawer, Style: in.Style.Name, Command: in.Command, Care: in.Care.All(),
		Dangers: len(in.Care.Dangers), Lead: in.Lead, Held: answer.Holding(&in.Style, c),
		About: about{c.Candidates, c.Evaluated, c.Feasible, c.Proven, c.Loss, c.Complete}}
	for a := range objective.AxisCount {
		d.Axes = append(d.Axes, axisOf(a, in.Style.Weights[a]))
	}
	for i := range limitable {
		b := &limitable[i]
		f, label := figure.Of(b.Quantity), ", at least"
		if b.AtMost {
			label = ", at most"
		}
		d.Bounds = append(d.Bounds, boundJSON{f.Key, f.Name, f.Name + label, b.Word, f.Unit, b.AtMost, b.PerUnit, in.Opening[i]})
	}
	for g := range figure.GroupCount {
		one := groupJSON{Name: g.String()}
		for _, f := range figure.In(g, figure.Compared) {
			one.Figures = append(one.Figures, len(d.Figures))
			d.Figures = append(d.Figures, figureJSON{f.Key, f.Name, f.Unit, f.Meaning})
		}
		d.Groups = append(d.Groups, one)
	}
	var made []chosen
	d.Parts, made = partsOf(c.Entries)
	d.Rows = in.rows(made)
	var results []*predict.Result
	for i := range c.Entries {
		if r := c.Entries[i].Result; r != nil {
			results = append(results, r)
		}
	}
	d.Details = detailsOf(results, &in.Style)
	return d
}

// axisOf is an axis with its weight and the figures of its criteria.
func axisOf(a objective.Axis, weight float64) axisJSON {
	d := axisJSON{Key: a.Key(), Name: a.String(), Weight: weight, Keys: []string{}}
	var names []string
	for _, criterion := range objective.Criteria() {
		if criterion.Axis == a {
			names, d.Keys = append(names, criterion.Figure().Name), append(d.Keys, criterion.Figure().Key)
		}
	}
	d.Hint = strings.Join(names, ", ")
	return d
}

func (in *Input) rows(made []chosen) rows {
	entries := in.Catalogue.Entries
	numbers := func(of func(i int) int32) column {
		list := make([]int32, len(entries))
		for i := range list {
			list[i] = of(i)
		}
		return whole(list)
	}
	r := rows{Count: len(entries)}
	r.Motor = numbers(func(i int) int32 { return made[i].motor })
	r.Prop = numbers(func(i int) int32 { return made[i].prop })
	r.Pack = numbers(func(i int) int32 { return made[i].pack })
	r.Kit = numbers(func(i int) int32 { return made[i].kit })
	for a := range objective.AxisCount {
		values := make([]float64, len(entries))
		for i := range entries {
			values[i] = entries[i].Axes[a]
		}
		r.Axes = append(r.Axes, axis(values))
	}
	for b := range limitable {
		r.Steps = append(r.Steps, numbers(func(i int) int32 { return entries[i].Steps[b] }))
	}
	detail := int32(0)
	r.Detail = numbers(func(i int) int32 {
		if entries[i].Result == nil {
			return 0
		}
		detail++
		return detail
	})
	return r
}

// detailsOf packs what is predicted of results, flown in a style.
func detailsOf(results []*predict.Result, style *objective.Style) details {
	d := details{Count: len(results), Curves: curvesOf(results, &style.Flying), Advice: [][]string{}}
	for _, r := range results {
		d.Advice = append(d.Advice, answer.Advise(r, style.Name))
	}
	for g := range figure.GroupCount {
		for _, f := range figure.In(g, figure.Compared) {
			d.Values = append(d.Values, valuesOf(results, f.Quantity))
		}
	}
	d.Texts, d.Notes = notesOf(results)
	return d
}

func valuesOf(results []*predict.Result, q figure.Quantity) detailValues {
	f := figure.Of(q)
	value, below, above := make([]float64, len(results)), make([]float64, len(results)), make([]float64, len(results))
	for i, r := range results {
		v := &r.Figures[q]
		if v.Why != physics.Defined {
			value[i], below[i], above[i] = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		value[i] = f.FromSI(v.Value)
		below[i], above[i] = value[i]-f.FromSI(v.Low), f.FromSI(v.High)-value[i]
	}
	return detailValues{measured(value), measured(below), measured(above)}
}

// notesOf lists what fits but wants a word and what is assumed, once each, and the cautions, with
// their numbers taken out so that few texts serve for all. A figure that a note begins with is named.
func notesOf(results []*predict.Result) ([]noteText, [][]any) {
	texts := []noteText{}
	at := map[noteText]int{}
	put := func(n noteText) int {
		i, ok := at[n]
		if !ok {
			i = len(texts)
			at[n] = i
			texts = append(texts, n)
		}
		return i
	}
	notes := make([][]any, len(results))
	for k, r := range results {
		notes[k] = []any{}
		assumed := faults.Problems(check.Assumptions(&r.Combination))
		for _, n := range catalogue.ResultNotes(r) {
			switch {
			case slices.Contains(assumed, n.Form):
			case n.Kind == catalogue.FitNote || n.Kind == catalogue.UnknownNote:
				notes[k] = append(notes[k], put(noteText{n.Form, fitNote}))
			default:
				kind := cautionNote
				if n.Kind == catalogue.DangerNote {
					kind = dangerNote
				}
				one := []any{put(noteText{n.Form, kind})}
				for _, value := range n.Values {
					one = append(one, value)
				}
				notes[k] = append(notes[k], one)
			}
		}
		for _, text := range assumed {
			notes[k] = append(notes[k], put(noteText{text, assumedNote}))
		}
	}
	return texts, notes
}
