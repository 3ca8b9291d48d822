package search

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Neighbour is a combination with one part replaced by another of the drawer.
type Neighbour struct {
	predict.Result
	Axis     objective.Axis // that it serves best
	Part     inventory.Kind
	From, To string
}

// leastGain is the number of points that a swap must bring on its axis to be named.
const leastGain = 0.5

// Neighbours finds for each axis the feasible swap of one part that gains most on it, in the axes'
// order; an axis that no swap helps is left out. The extras that follow the frame and the board,
// and the adapters that are needed, change along.
func Neighbours(ctx context.Context, p space.Problem, c inventory.Combination, o predict.Sampling) ([]Neighbour,
	error) {
	swaps := neighbourhood(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	try, show := progress.Of(ctx).Plan(progress.Varying, scan.Work(len(swaps))), progress.Of(ctx).Plan(progress.Doubting,
		o.Work(1+int(objective.AxisCount)))
	results, err := predict.Assess(try.In(ctx), p, append(combinationsOf(swaps), c), scan)
	if err != nil {
		return nil, err
	}
	try.End()
	base := &results[len(swaps)]
	var chosen []Neighbour
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
	final, err := predict.Assess(show.In(ctx), p, append(combinationsOf(chosen), c), o)
	if err != nil {
		return nil, err
	}
	for i := range chosen {
		chosen[i].Result = final[i]
	}
	return chosen, nil
}

// MostLighter is how many swaps Lighter names.
const MostLighter = 3

// Lighter finds the feasible swaps of one part that bring a combination to a mass or under it, the
// best score first, at most three.
func Lighter(ctx context.Context, p space.Problem, c inventory.Combination, massKg float64,
	o predict.Sampling) ([]Neighbour, error) {
	swaps := neighbourhood(p.Drawer, &c)
	scan := o
	scan.Draws = 1
	try, show := progress.Of(ctx).Plan(progress.Varying, scan.Work(len(swaps))), progress.Of(ctx).Plan(progress.Doubting,
		o.Work(MostLighter))
	results, err := predict.Assess(try.In(ctx), p, combinationsOf(swaps), scan)
	if err != nil {
		return nil, err
	}
	try.End()
	var light []Neighbour
	for i := range swaps {
		if r := &results[i]; len(r.Misfits) == 0 && r.Evaluation.Feasible() && r.Craft.MassKg() <= massKg {
			swaps[i].Result = *r
			light = append(light, swaps[i])
		}
	}
	slices.SortFunc(light, func(a, b Neighbour) int {
		return cmp.Or(objective.Compare(&a.Evaluation, &b.Evaluation),
			strings.Compare(a.Combination.Key(), b.Combination.Key()))
	})
	light = light[:min(len(light), MostLighter)]
	final, err := predict.Assess(show.In(ctx), p, combinationsOf(light), o)
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

func combinationsOf(swaps []Neighbour) []inventory.Combination {
	list := make([]inventory.Combination, len(swaps), len(swaps)+1)
	for i := range swaps {
		list[i] = swaps[i].Combination
	}
	return list
}

// kinds are the kinds of part of which a craft takes one type.
var kinds = [...]inventory.Kind{
	motorKind: inventory.KindMotor, propKind: inventory.KindProp, packKind: inventory.KindPack,
	frameKind: inventory.KindFrame, boardKind: inventory.KindBoard,
}

// The places of the kinds.
const (
	motorKind = iota
	propKind
	packKind
	frameKind
	boardKind
)

// neighbourhood are the combinations that differ in one part, fit faults left out.
func neighbourhood(d *inventory.Drawer, c *inventory.Combination) []Neighbour {
	var swaps []Neighbour
	for _, kind := range kinds {
		ids := d.IDs(kind)
		if kind == inventory.KindMotor {
			for _, m := range d.MixedMotors() {
				ids = append(ids, m.ID)
			}
		}
		for _, id := range ids {
			n, from := *c, ""
			switch kind {
			case inventory.KindMotor:
				n.Motor, from = d.Motor(id), c.Motor.ID
			case inventory.KindProp:
				n.Prop, from = d.Prop(id), c.Prop.ID
			case inventory.KindPack:
				n.Pack, from = d.Pack(id), c.Pack.ID
			case inventory.KindFrame:
				n.Frame, from = d.Frame(id), c.Frame.ID
			case inventory.KindBoard:
				n.Board, from = d.Board(id), c.Board.ID
			}
			if id == from {
				continue
			}
			n.Extras = extrasAfter(d, c, &n)
			if compat.FirstFault(&n) == compat.NoRule {
				swaps = append(swaps, Neighbour{Part: kind, From: from, To: id, Result: predict.Result{Combination: n}})
			}
		}
	}
	return swaps
}

// extrasAfter are the extras of a combination after parts of it changed: those that followed the
// old parts or bridged them go, those that follow or bridge the new ones come, all others stay.
func extrasAfter(d *inventory.Drawer, old, changed *inventory.Combination) []*inventory.Extra {
	has := func(list []*inventory.Extra, id string) bool {
		return slices.ContainsFunc(list, func(e *inventory.Extra) bool { return e.ID == id })
	}
	left := d.Following(old.Frame, old.Board)
	var extras []*inventory.Extra
	for _, e := range old.Extras {
		if e.Bridges == nil && !has(left, e.ID) && (e.Use != inventory.Along || e.GoesIn(changed.Frame, changed.Pack)) {
			extras = append(extras, e)
		}
	}
	join := func(list []*inventory.Extra) {
		for _, e := range list {
			if !has(extras, e.ID) {
				extras = append(extras, e)
			}
		}
	}
	join(d.Following(changed.Frame, changed.Board))
	with := *changed
	with.Extras = extras
	join(d.GoingAlong(&with))
	with.Extras = extras
	adapters, _ := compat.Bridges(d, &with)
	join(adapters)
	space.SortByID(extras)
	return extras
}
