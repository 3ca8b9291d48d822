package predict

import (
	"cmp"
	"context"
	"fmt"
	"reflect"

	"partsaloft/inventory"
	"partsaloft/physics/rotor"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Assess predicts given combinations as Search does those that it lists, in the given order, on
// common draws: intervals, bases, shares. What does not fit comes back with its misfits and with
// the numbers that it would have; one whose prop makes no blade has that as a misfit and no numbers.
func Assess(ctx context.Context, p space.Problem, combinations []inventory.Combination, o Sampling) ([]Result, error) {
	if err := p.Style.Check(); err != nil {
		return nil, fmt.Errorf("style %s: %w", p.Style.Name, err)
	}
	type solved struct {
		of   *inventory.Prop
		prop *rotor.Propeller
		err  error
	}
	progress.Of(ctx).Expect(o.Work(len(combinations)))
	props := map[string]solved{} // by id
	results := make([]Result, len(combinations))
	for i, c := range combinations {
		made, ok := props[c.Prop.ID]
		if !ok || !reflect.DeepEqual(made.of, c.Prop) { // the same id may stand for a prop that was changed
			made.of = c.Prop
			made.prop, made.err = c.Prop.Propeller(p.Air)
			props[c.Prop.ID] = made
			progress.Of(ctx).Add(progress.RotorMap)
		}
		if made.err != nil {
			results[i] = Result{Combination: c, Misfits: []Misfit{{Kind: CannotBe, Prop: c.Prop.ID, Err: made.err}}}
			continue
		}
		results[i] = Predict(c, made.prop, &p.Style)
	}
	o.Drawer = cmp.Or(o.Drawer, p.Drawer)
	Judge(ctx, results, &p.Style, NewDraws(o), o.Workers)
	return results, ctx.Err()
}
