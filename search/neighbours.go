package search

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Swap is a combination with one part replaced by another of the drawer.
type Swap struct {
	predict.Result
	Axis     objective.Axis // that it serves best
	Part     inventory.Kind
	From, To string
}

// leastGain is the number of points that a swap must bring on its axis to be named.
const leastGain = 0.5

// Swaps finds for each axis the feasible swap of one part that gains most on it, in the axes'
// order; an axis that no swap helps is left out. The extras that follow the frame and the board,
// and the adapters that are needed, change along.
func Swaps(ctx context.Context, p space.Problem, c inventory.Combination, o predict.Sampling) ([]Swap, error) {
	swaps := neighbours(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	results, err := predict.Assess(ctx, p, append(combinationsOf(swaps), c), scan)
	if err != nil {
		return nil, err
	}
	base := &results[len(swaps)]
	var chosen []Swap
	for axis := range objective.AxisCount {
		best := -1
		for i := range swaps {
			r := &results[i]
			if len(r.Misfits) > 0 || !r.Evaluation.Feasible() || r.Evaluation.Axes[axis]-base.Evaluation.Axes[axis] < leastGain {
				continue
			}
			if best < 0 || betterOn(axis, r, &results[best]) {
				best = i
			}
		}
		if best >= 0 {
			chosen = append(chosen, swaps[best])
			chosen[len(chosen)-1].Axis = axis
		}
	}
	final, err := predict.Assess(ctx, p, append(combinationsOf(chosen), c), o)
	if err != nil {
		return nil, err
	}
	for i := range chosen {
		chosen[i].Result = final[i]
	}
	return chosen, nil
}

// Lighter finds the feasible swaps of one part that bring a combination to a mass or under it, the
// best score first, at most three.
func Lighter(ctx context.Context, p space.Problem, c inventory.Combination, massKg float64, o predict.Sampling) ([]Swap, error) {
	swaps := neighbours(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	results, err := predict.Assess(ctx, p, combinationsOf(swaps), scan)
	if err != nil {
		return nil, err
	}
	var light []Swap
	for i := range swaps {
		if r := &results[i]; len(r.Misfits) == 0 && r.Evaluation.Feasible() && r.Craft.MassKg() <= massKg {
			swaps[i].Result = *r
			light = append(light, swaps[i])
		}
	}
	slices.SortFunc(light, func(a, b Swap) int {
		return cmp.Or(objective.Compare(&a.Evaluation, &b.Evaluation), strings.Compare(a.Combination.Key(), b.Combination.Key()))
	})
	const most = 3
	light = light[:min(len(light), most)]
	final, err := predict.Assess(ctx, p, combinationsOf(light), o)
	for i := range final {
		light[i].Result = final[i]
	}
	return light, err
}

// betterOn orders by one axis, then as the ranking does, then by ids.
func betterOn(axis objective.Axis, a, b *predict.Result) bool {
	if x, y := a.Evaluation.Axes[axis], b.Evaluation.Axes[axis]; x != y {
		return x > y
	}
	if order := objective.Compare(&a.Evaluation, &b.Evaluation); order != 0 {
		return order < 0
	}
	return a.Combination.Key() < b.Combination.Key()
}

func combinationsOf(swaps []Swap) []inventory.Combination {
	list := make([]inventory.Combination, len(swaps), len(swaps)+1)
	for i := range swaps {
		list[i] = swaps[i].Combination
	}
	return list
}

// neighbours are the combinations that differ in one part, fit faults left out.
func neighbours(d *inventory.Drawer, c *inventory.Combination) []Swap {
	motors := append(space.Owned(d.Motors, func(m *inventory.Motor) *int { return m.Count }), d.MixedMotors()...)
	swaps := swapsOf(d, c, inventory.KindMotor, motors, func(n *inventory.Combination) **inventory.Motor { return &n.Motor }, func(m *inventory.Motor) string { return m.ID })
	props := space.Owned(d.Props, func(p *inventory.Prop) *int { return p.Count })
	swaps = append(swaps, swapsOf(d, c, inventory.KindProp, props, func(n *inventory.Combination) **inventory.Prop { return &n.Prop }, func(p *inventory.Prop) string { return p.ID })...)
	packs := space.Owned(d.Packs, func(p *inventory.Pack) *int { return p.Count })
	swaps = append(swaps, swapsOf(d, c, inventory.KindPack, packs, func(n *inventory.Combination) **inventory.Pack { return &n.Pack }, func(p *inventory.Pack) string { return p.ID })...)
	frames := space.Owned(d.Frames, func(f *inventory.Frame) *int { return f.Count })
	swaps = append(swaps, swapsOf(d, c, inventory.KindFrame, frames, func(n *inventory.Combination) **inventory.Frame { return &n.Frame }, func(f *inventory.Frame) string { return f.ID })...)
	boards := space.Owned(d.Boards, func(b *inventory.Board) *int { return b.Count })
	return append(swaps, swapsOf(d, c, inventory.KindBoard, boards, func(n *inventory.Combination) **inventory.Board { return &n.Board }, func(b *inventory.Board) string { return b.ID })...)
}

// swapsOf puts each part of a list into a combination in turn.
func swapsOf[T any](d *inventory.Drawer, c *inventory.Combination, kind inventory.Kind, list []*T, place func(*inventory.Combination) **T, id func(*T) string) []Swap {
	var swaps []Swap
	from := id(*place(c))
	for _, part := range list {
		n := *c
		*place(&n) = part
		if id(part) == from {
			continue
		}
		n.Extras = extrasAfter(d, c, &n)
		if n.FirstFault() == inventory.NoRule {
			swaps = append(swaps, Swap{Part: kind, From: from, To: id(part), Result: predict.Result{Combination: n}})
		}
	}
	return swaps
}

// extrasAfter are the extras of a combination after parts of it changed: those that followed the
// old parts or bridged them go, those that follow or bridge the new ones come, all others stay.
func extrasAfter(d *inventory.Drawer, old, changed *inventory.Combination) []*inventory.Extra {
	left := d.Following(old.Frame, old.Board)
	var extras []*inventory.Extra
	for _, e := range old.Extras {
		if e.Bridges == nil && !slices.Contains(left, e) {
			extras = append(extras, e)
		}
	}
	for _, e := range d.Following(changed.Frame, changed.Board) {
		if !slices.Contains(extras, e) {
			extras = append(extras, e)
		}
	}
	with := *changed
	with.Extras = extras
	adapters, _ := d.Bridges(&with)
	for _, e := range adapters {
		if !slices.Contains(extras, e) {
			extras = append(extras, e)
		}
	}
	space.SortByID(extras)
	return extras
}
