package question

import (
	"context"

	"partsaloft/cmd/internal/answer/explore"
)

// exploring makes the document of every build that may lead for some weights and limits, with what a ranking says first.
func exploring(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Details int  `json:"details"` // most builds in detail
		Rows    int  `json:"rows"`    // most builds
		Lead    bool `json:"lead"`    // with what a ranking says first
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	if o.Details < 0 || o.Rows < 0 {
		return nil, wrong("rows", "must be over 0 (or 0 for as many as there is room for)")
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	look := explore.Make
	if o.Lead {
		look = explore.MakeWhole
	}
	in, err := look(ctx, ask, explore.Options{Details: o.Details, Rows: o.Rows})
	if err != nil {
		return nil, err
	}
	return &Reply{Document: in.Document()}, nil
}

// lead makes what a ranking says first.
func lead(ctx context.Context, a *asked) (*Reply, error) {
	var o Shared
	if err := a.options(&o); err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o)
	if err != nil {
		return nil, err
	}
	d, err := explore.MakeLead(ctx, ask)
	return found(d, nil, err)
}

// details predicts builds in full.
func details(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Picks []string `json:"picks"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, err := explore.Details(ctx, ask, o.Picks)
	return found(d, nil, err)
}
