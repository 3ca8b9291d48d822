package search

import (
	"context"
	"fmt"

	"partsaloft/inventory"
	"partsaloft/physics"
)

// Assess predicts given combinations as Search does those that it lists, in the given order, on
// common draws: intervals, bases, shares. What does not fit comes back with its misfits and with
// the numbers that it would have.
func Assess(ctx context.Context, p Problem, combinations []inventory.Combination, o Options) ([]Result, error) {
	if err := p.Style.Check(); err != nil {
		return nil, fmt.Errorf("style %s: %w", p.Style.Name, err)
	}
	props := map[*inventory.Prop]*physics.Propeller{}
	results := make([]Result, len(combinations))
	for i, c := range combinations {
		prop, ok := props[c.Prop]
		if !ok {
			var err error
			if prop, err = c.Prop.Propeller(p.Air); err != nil {
				return nil, fmt.Errorf("prop %s: %w", c.Prop.ID, err)
			}
			props[c.Prop] = prop
		}
		results[i] = predict(c, prop, &p)
	}
	judgeDraws(ctx, results, &p.Style, newDraws(o.Draws, o.Seed), o.Workers)
	return results, ctx.Err()
}
