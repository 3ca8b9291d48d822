package answer

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/search/progress"
)

// Checked is the document of check.
type Checked struct {
	Head
	Faults []Fault  `json:"faults"`
	Notes  []string `json:"notes"`
	Fits   []Fit    `json:"fits"`
	Gaps   *Gaps    `json:"gaps"`

	Matrices []FitMatrix `json:"-"`
	Words    CheckWords  `json:"-"`
}

// CheckWords are the sentences of a check.
type CheckWords struct {
	Faults   []string // a line each, with its place
	Holds    string   // what a drawer without faults holds
	TooMany  []string // pairs that are too many to be set side by side
	Unlikely []string // a line each, with its place
	Lonely   []string // parts that find no partner
	Remarks  []string // on what fits but wants a word
}

// Fault is a fault of a file.
type Fault struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Part    string `json:"part"`
	Code    string `json:"code"`
	Message string `json:"message"`
	Text    string `json:"text"` // the whole sentence, with part and key, without the place
}

// Fit says of two parts whether they go together: fits, note, unknown or fault, and why.
type Fit struct {
	Kinds   string   `json:"kinds"`
	A       string   `json:"a"`
	B       string   `json:"b"`
	Verdict string   `json:"verdict"`
	Why     []string `json:"why"`
}

// Faulty is the document of a drawer that has faults.
func Faulty(head Head, list inventory.Faults) *Checked {
	d := &Checked{Head: head, Notes: []string{}, Fits: []Fit{}}
	d.Drawer, d.Care = list[0].File, CareOf(&Scene{})
	for i := range list {
		f := &list[i]
		d.Faults = append(d.Faults, Fault{f.File, f.Line, f.Column, f.Path, f.Part, string(f.Code),
			faults.Problem(&f.Problem), faults.FaultHere(f)})
		d.Words.Faults = append(d.Words.Faults, faults.Fault(f))
	}
	return d
}

// Check says of a drawer without faults what fits what, what is possible but unlikely, and what to measure first, which
// takes a search: it is left out unless it is asked for.
func Check(ctx context.Context, a *Ask, measure bool) (*Checked, error) {
	drawer := a.Problem.Drawer
	d := &Checked{Head: a.Head, Faults: []Fault{}, Notes: []string{}, Fits: []Fit{}}
	if measure {
		var err error
		if d.Gaps, err = a.gaps(ctx); err != nil {
			return nil, err
		}
	}
	d.Drawer, d.Care = drawer.Name, CareOf(&Scene{Drawer: drawer, Stand: d.Gaps.onStand()})
	all, tooMany := matrices(drawer)
	d.Matrices = all
	unlikely := check.Plausibility(drawer)
	for i := range unlikely {
		d.Words.Unlikely = append(d.Words.Unlikely, noteText(drawer, &unlikely[i]))
	}
	lonely := alone(all)
	d.Notes = slices.Concat(d.Notes, d.Words.Unlikely, lonely, tooMany)
	for i := range all {
		d.add(&all[i])
	}
	for _, text := range tooMany {
		d.Words.TooMany = append(d.Words.TooMany, phrase.Sentence(text))
	}
	d.Words.Lonely = catalogue.Sentences(lonely)
	d.Words.Holds = fmt.Sprintf("%s has no faults: %s, %s, %s, %s, %s, %s.", drawer.Name,
		count(drawer.Motors, "kind of motor", "kinds of motor"), count(drawer.Props, "of prop", "of prop"),
		count(drawer.Packs, "of pack", "of pack"),
		count(drawer.Frames, "frame", "frames"), count(drawer.Boards, "board", "boards"),
		count(drawer.Extras, "extra", "extras"))
	return d, nil
}

// add puts what a matrix says into the document.
func (d *Checked) add(m *FitMatrix) {
	for i, a := range m.A {
		for k, b := range m.B {
			severity, why := m.Severities[i][k], findingTexts(m.why[i][k])
			d.Fits = append(d.Fits, Fit{m.KindA + "-" + m.KindB, a, b, severity.String(), why})
			if severity == compat.Remark || severity == compat.Unknown {
				d.Notes = append(d.Notes, why...)
			}
		}
	}
	d.Words.Remarks = append(d.Words.Remarks, m.remarks()...)
}

// Rows is the faults, or where there are none the fits, as a table of plain values.
func (d *Checked) Rows() *Rows {
	if len(d.Faults) > 0 {
		rows := &Rows{Keys: []string{"file", "line", "column", "path", "message"}}
		for _, f := range d.Faults {
			rows.Add(f.File, fmt.Sprint(f.Line), fmt.Sprint(f.Column), f.Path, f.Message)
		}
		return rows
	}
	rows := &Rows{Keys: []string{"kinds", "a", "b", "verdict", "why"}}
	for _, f := range d.Fits {
		rows.Add(f.Kinds, f.A, f.B, f.Verdict, joined(f.Why))
	}
	return rows
}

// noteText is a remark with its place in the file.
func noteText(d *inventory.Drawer, n *check.Note) string {
	text := faults.Note(n)
	switch {
	case n.Line == 0:
		return fmt.Sprintf("%s: %s", d.Name, text)
	case n.Path == "":
		return fmt.Sprintf("%s:%d:%d: %s", d.Name, n.Line, n.Column, text)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %s", d.Name, n.Line, n.Column, n.Path, text)
}

func count[T any](list []T, one, many string) string {
	return phrase.Plural(int64(len(list)), one, many)
}

// How many of the best combinations are looked at to find what to measure first, and how many
// measurements are named.
const (
	doubtedCombinations = 200
	namedGaps           = 3
	mostProps           = 300 // each is computed in full, which takes a while
)

// gapsWork is the work of weighing the gaps, in candidates evaluated.
const gapsWork = doubtedCombinations * 50

// Gaps says which gaps of the drawer cost most accuracy: the doubt is half the width of the score's
// 80 % interval in points, a mean over the combinations looked at.
type Gaps struct {
	Style        string      `json:"style"`
	Combinations int         `json:"combinations"`
	Doubt        float64     `json:"doubt"`
	Halved       int         `json:"halved"`
	Measure      []ToMeasure `json:"measure"`
	Reason       string      `json:"reason,omitempty"`
}

// ToMeasure is a gap to close, after those before it.
type ToMeasure struct {
	Part         string  `json:"part"`
	ID           string  `json:"id"`
	Key          string  `json:"key"`
	How          string  `json:"how"`
	Combinations int     `json:"combinations"`
	DoubtWith    float64 `json:"doubt_with_before"`
	DoubtThen    float64 `json:"doubt_with_after"`
	DoubtAfter   float64 `json:"doubt_after"`
}

// gaps works out what to measure first.
func (a *Ask) gaps(ctx context.Context) (*Gaps, error) {
	p := a.Problem
	drawer, style := p.Drawer, p.Style
	g := &Gaps{Style: style.Name, Measure: []ToMeasure{}}
	if len(drawer.Props) > mostProps {
		g.Reason = catalogue.Say("gaps.many", "most", mostProps)
		return g, nil
	}
	o := a.Search
	o.Top, o.Nominal = doubtedCombinations, true
	job := progress.Of(ctx)
	list, weigh := job.Plan(progress.Searching, o.Work(drawer)), job.Plan(progress.Doubting, gapsWork)
	r, err := search.Search(list.In(ctx), *p, o)
	if err != nil {
		return nil, err
	}
	list.End()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(r.Best) == 0 {
		g.Reason = catalogue.Say("gaps.none", "style", style.Name)
		return g, nil
	}
	d, err := predict.ReduceUncertainty(weigh.In(ctx), &space.Problem{Drawer: drawer, Style: style}, r.Best, namedGaps,
		o.Sampling(drawer))
	if err != nil {
		return nil, err
	}
	g.Combinations, g.Doubt = d.Combinations, catalogue.Round(d.Before)
	for i := range d.Steps {
		step := &d.Steps[i]
		g.Halved = step.Halved
		g.Measure = append(g.Measure, ToMeasure{string(step.Gap.Kind), step.Gap.ID, step.Gap.Key, howToMeasure(&step.Gap),
			step.Touches,
			catalogue.Round(step.WithBefore), catalogue.Round(step.WithAfter), catalogue.Round(step.After)})
	}
	if len(g.Measure) == 0 {
		g.Reason = "no key that is left out would make the scores more certain; logged flights still do"
	}
	return g, nil
}

// gapSentences are how gaps are closed, by the key that is missing.
var gapSentences = map[string]catalogue.Answer{
	"mass_g": "gap.mass", "resistance_mohm": "gap.winding", "no_load_a": "gap.no_load", "cell_resistance_mohm": "gap.cell",
	"bench": "measure.prop", check.HoverSpeedKey: "gap.hover", "blade_stations": "measure.caliper",
	"drag_area_cm2": "gap.drag",
}

// howToMeasure says how a gap is closed.
func howToMeasure(g *check.Gap) string {
	return catalogue.Say(cmp.Or(gapSentences[g.Key], "gap.power"), "kind", string(g.Kind), "id", g.ID)
}

// onStand reports whether a measurement takes a thrust stand.
func (g *Gaps) onStand() bool {
	return g != nil && slices.ContainsFunc(g.Measure, func(m ToMeasure) bool {
		return m.Key == "bench" ||
			m.Key == "no_load_a"
	})
}

// Sentence says what the measurements would do to the doubt, or why there are none.
func (g *Gaps) Sentence() string {
	if g.Reason != "" {
		return phrase.Sentence(g.Reason)
	}
	last, which, halved := g.Measure[len(g.Measure)-1], catalogue.Answer("gaps.builds"), ""
	if g.Combinations == doubtedCombinations {
		which = "gaps.best"
	}
	if g.Halved > 0 {
		halved = catalogue.Say("gaps.halved", "count", g.Halved)
	}
	these := [...]catalogue.Answer{1: "gaps.one", 2: "gaps.two", 3: "gaps.three"}[len(g.Measure)]
	return catalogue.Say("gaps", "these", catalogue.Say(these), "before", catalogue.Fixed(g.Doubt, 1), "after",
		catalogue.Fixed(last.DoubtAfter, 1), "builds", catalogue.Say(which, "n", g.Combinations), "style", g.Style, "halved",
		halved)
}
