package search

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/objective"
)

// Swap is a combination with one part replaced by another of the drawer.
type Swap struct {
	Result
	Axis     objective.Axis // that it serves best
	Part     inventory.Kind
	From, To string
}

// leastGain is the number of points that a swap must bring on its axis to be named.
const leastGain = 0.5

// Swaps finds for each axis the feasible swap of one part that gains most on it, in the axes'
// order; an axis that no swap helps is left out. The extras that follow the frame and the board,
// and the adapters that are needed, change along.
func Swaps(ctx context.Context, p Problem, c inventory.Combination, o Options) ([]Swap, error) {
	swaps := neighbours(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	results, err := Assess(ctx, p, append(combinationsOf(swaps), c), scan)
	if err != nil {
		return nil, err
	}
	base := &results[len(swaps)]
	var chosen []Swap
	for axis := range objective.AxisCount {
		best := -1
		for i := range swaps {
			r := &results[i]
			if len(r.Misfits) > 0 || !r.Verdict.Feasible() || r.Verdict.Axes[axis]-base.Verdict.Axes[axis] < leastGain {
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
	final, err := Assess(ctx, p, append(combinationsOf(chosen), c), o)
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
func Lighter(ctx context.Context, p Problem, c inventory.Combination, massKg float64, o Options) ([]Swap, error) {
	swaps := neighbours(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	results, err := Assess(ctx, p, combinationsOf(swaps), scan)
	if err != nil {
		return nil, err
	}
	var light []Swap
	for i := range swaps {
		if r := &results[i]; len(r.Misfits) == 0 && r.Verdict.Feasible() && r.Craft.MassKg() <= massKg {
			swaps[i].Result = *r
			light = append(light, swaps[i])
		}
	}
	slices.SortFunc(light, func(a, b Swap) int {
		return cmp.Or(objective.Compare(&a.Verdict, &b.Verdict), strings.Compare(a.Combination.Key(), b.Combination.Key()))
	})
	const most = 3
	light = light[:min(len(light), most)]
	final, err := Assess(ctx, p, combinationsOf(light), o)
	for i := range final {
		light[i].Result = final[i]
	}
	return light, err
}

// betterOn orders by one axis, then as the ranking does, then by ids.
func betterOn(axis objective.Axis, a, b *Result) bool {
	if x, y := a.Verdict.Axes[axis], b.Verdict.Axes[axis]; x != y {
		return x > y
	}
	if order := objective.Compare(&a.Verdict, &b.Verdict); order != 0 {
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
	var swaps []Swap
	add := func(part inventory.Kind, from, to string, n inventory.Combination) {
		if from == to {
			return
		}
		n.Extras = extrasAfter(d, c, &n)
		if n.FirstFault() == inventory.NoRule {
			swaps = append(swaps, Swap{Part: part, From: from, To: to, Result: Result{Combination: n}})
		}
	}
	for _, m := range append(owned(d.Motors, func(m *inventory.Motor) *int { return m.Count }), d.MixedMotors()...) {
		n := *c
		n.Motor = m
		add(inventory.KindMotor, c.Motor.ID, m.ID, n)
	}
	for _, x := range owned(d.Props, func(x *inventory.Prop) *int { return x.Count }) {
		n := *c
		n.Prop = x
		add(inventory.KindProp, c.Prop.ID, x.ID, n)
	}
	for _, x := range owned(d.Packs, func(x *inventory.Pack) *int { return x.Count }) {
		n := *c
		n.Pack = x
		add(inventory.KindPack, c.Pack.ID, x.ID, n)
	}
	for _, x := range owned(d.Frames, func(x *inventory.Frame) *int { return x.Count }) {
		n := *c
		n.Frame = x
		add(inventory.KindFrame, c.Frame.ID, x.ID, n)
	}
	for _, x := range owned(d.Boards, func(x *inventory.Board) *int { return x.Count }) {
		n := *c
		n.Board = x
		add(inventory.KindBoard, c.Board.ID, x.ID, n)
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
	sortByID(extras)
	return extras
}
