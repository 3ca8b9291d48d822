package question

import (
	"context"
	"errors"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
)

func checked(ctx context.Context, a *asked) (*Reply, error) {
	var o Shared
	if err := a.options(&o); err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o)
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		return &Reply{Document: answer.Faulty(a.head(&o), faults)}, nil
	case err != nil:
		return nil, err
	}
	d, err := answer.Check(ctx, ask, true)
	return found(d, nil, err)
}

// learned takes the log and the benches; the reply's text is the learned file.
func learned(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Brief bool `json:"brief"` // without what was gained, which takes two rankings
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	style, err := a.style(&a.Style)
	if err != nil {
		return nil, err
	}
	drawer, err := a.bare(&o.Shared)
	if err != nil {
		return nil, err
	}
	ways := a.logWays(drawer, &style)
	report, err := learn.Learn(ctx, drawer, ways)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	report.Learned.Version = answer.ToolVersion
	d := answer.Learn(a.head(&o.Shared), drawer, &style, report, "")
	if o.Brief {
		return made(d, report.Learned.YAML(), nil)
	}
	again, err := a.bare(&o.Shared)
	if err != nil {
		return nil, err
	}
	if err := d.Gained(ctx, drawer, again, &style, ways, o.search()); err != nil {
		return nil, err
	}
	return &Reply{Document: d, Text: string(report.Learned.YAML())}, nil
}
