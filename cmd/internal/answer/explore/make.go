package explore

import (
	"context"

	"partsaloft/cmd/internal/answer"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
)

// Options say how much a document holds.
type Options struct {
	Command string // the command line that ranks the same drawer, without weights and limits
	Details int    // most builds in detail; 0 means as many as a page takes
	Rows    int    // most builds; 0 likewise
	Lead    *Lead  // what is said first; nil says nothing
}

// MakeWhole says first what a ranking says and then looks at the drawer's builds, as Make does.
func MakeWhole(ctx context.Context, a *answer.Ask, o Options) (*Input, error) {
	job := progress.Of(ctx)
	seek := search.CatalogueOptions{Options: a.Search, Details: o.Details}
	first, builds := job.Plan(progress.Searching, a.Search.Work(a.Problem.Drawer)), job.Plan(progress.Searching,
		seek.Work(a.Problem.Drawer))
	var err error
	if o.Lead, err = MakeLead(first.In(ctx), a); err != nil {
		return nil, err
	}
	first.End()
	return Make(builds.In(ctx), a, o)
}

// Make looks at the drawer's builds and makes the input of a document. It fails when the context ends; a drawer of which
// nothing can be built makes an input without entries.
func Make(ctx context.Context, a *answer.Ask, o Options) (*Input, error) {
	p := *a.Problem
	in := &Input{Drawer: p.Drawer.Name, Command: o.Command, Lead: o.Lead}
	in.Opening, p.Style.Limits = Split(p.Style.Limits)
	in.Style = p.Style
	seek := search.CatalogueOptions{Options: a.Search, Bounds: Bounds(), Opening: in.Opening, Details: o.Details,
		Rows: o.Rows}
	var err error
	if in.Catalogue, err = search.MakeCatalogue(ctx, p, seek); err != nil {
		return nil, err
	}
	in.Care = careOf(&p.Style, in.Catalogue, a)
	return in, nil
}

// careOf is what to mind with all that a document lists.
func careOf(style *objective.Style, c *search.Catalogue, a *answer.Ask) answer.Care {
	scene := answer.Scene{Drawer: a.Problem.Drawer, Styles: []objective.Style{*style}, Built: true, Feel: true}
	for i := range c.Entries {
		if r := c.Entries[i].Result; r != nil {
			scene.Listed = append(scene.Listed, r)
		}
	}
	return answer.CareOf(&scene)
}

// Picked is what a document says in detail of the builds that are named, in their order.
type Picked struct {
	Keys    []string `json:"keys"`
	Details details  `json:"details"`
	// Masses are those of single parts, as the predictions have them.
	Masses map[string]PartMass `json:"masses"` // by kind and id, as in "motor m1404"
}

// PartMass is the mass of one piece; Guess says that it is estimated.
type PartMass struct {
	MassG float64 `json:"massG"`
	Guess bool    `json:"guess,omitempty"`
}

// Details predicts the builds that are named by their parts in full.
func Details(ctx context.Context, a *answer.Ask, picks []string) (*Picked, error) {
	results, err := answer.PickedResults(ctx, a, picks)
	if err != nil {
		return nil, err
	}
	d := &Picked{Keys: picks, Masses: map[string]PartMass{}}
	var all []*predict.Result
	for i := range results {
		r := &results[i]
		all = append(all, r)
		c := &r.Combination
		d.Masses["motor "+c.Motor.ID] = PartMass{1000 * r.Craft.Motor.MassKg, c.Motor.MassG == nil}
		d.Masses["prop "+c.Prop.ID] = PartMass{1000 * r.Craft.Propeller.MassKg, c.Prop.MassG == nil}
		d.Masses["pack "+c.Pack.ID] = PartMass{1000 * r.Craft.Pack.MassKg, c.Pack.MassG == nil}
		d.Masses["board "+c.Board.ID] = PartMass{1000 * r.Craft.Board.MassKg, c.Board.MassG == nil}
	}
	d.Details = detailsOf(all, &a.Problem.Style)
	return d, nil
}
