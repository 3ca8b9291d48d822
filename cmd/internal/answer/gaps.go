package answer

import (
	"context"
	"fmt"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory/check"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// How many of the best combinations are looked at to find what to measure first, and how many
// measurements are named.
const (
	doubtedCombinations = 200
	namedGaps           = 3
	mostProps           = 300 // each is computed in full, which takes a while
)

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
		g.Reason = fmt.Sprintf("the drawer holds over %d kinds of prop, too many to weigh the gaps of each", mostProps)
		return g, nil
	}
	o := a.Search
	o.Top, o.Draws = doubtedCombinations, 2
	r, err := search.Search(ctx, *p, o)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(r.Best) == 0 {
		g.Reason = fmt.Sprintf("no combination is feasible in style %s, so none is the more certain for a measurement",
			style.Name)
		return g, nil
	}
	d, err := predict.ReduceUncertainty(ctx, &style, drawer, r.Best, namedGaps, o.Sampling())
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

// howToMeasure says how a gap is closed.
func howToMeasure(g *check.Gap) string {
	switch g.Key {
	case "mass_g":
		return fmt.Sprintf("weigh %s %s", g.Kind, g.ID)
	case "resistance_mohm":
		return fmt.Sprintf("look up the winding resistance of motor %s", g.ID)
	case "no_load_a":
		return fmt.Sprintf("read the current of motor %s without a prop at a known voltage", g.ID)
	case "cell_resistance_mohm":
		return fmt.Sprintf("read the cell resistance of pack %s from a charger", g.ID)
	case "bench":
		return fmt.Sprintf("put prop %s on a thrust stand at one rpm", g.ID)
	case "blade_stations":
		return fmt.Sprintf("measure chord and angle of prop %s at three quarters of its radius", g.ID)
	case "drag_area_cm2":
		return fmt.Sprintf("give the drag area of frame %s, or log a timed top speed and let learn work it out", g.ID)
	}
	return fmt.Sprintf("measure what %s %s takes in W", g.Kind, g.ID)
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
		return catalogue.Sentence(g.Reason)
	}
	last := g.Measure[len(g.Measure)-1]
	n := catalogue.Plural(int64(g.Combinations), "feasible combination", "feasible combinations")
	if g.Combinations == doubtedCombinations {
		n = fmt.Sprintf("the %d best combinations", g.Combinations)
	}
	these := [...]string{1: "This measurement", 2: "These two measurements", 3: "These three measurements"}[len(g.Measure)]
	text := fmt.Sprintf("%s would take the doubt of the score from ±%s to ±%s points, on average over %s in style %s",
		these,
		catalogue.Fixed(g.Doubt, 1), catalogue.Fixed(last.DoubtAfter, 1), n, g.Style)
	if g.Halved > 0 {
		text += fmt.Sprintf(", and halve it on %d of them", g.Halved)
	}
	return text + "."
}
