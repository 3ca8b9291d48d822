package search

import (
	"context"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"testing"
)

// Property: a swap changes one kind of part (and the extras that follow), is feasible, and gains;
// and no neighbour, listed independently here, gains more on that axis.
func TestSwapsAreTheBestSingleChanges(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	swaps, err := Neighbours(context.Background(), p, list[0], quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(swaps) == 0 {
		t.Fatal("no swap helps any axis")
	}
	assessed, err := predict.Assess(context.Background(), p, list, quick)
	if err != nil {
		t.Fatal(err)
	}
	base := &assessed[0]
	best := base.Evaluation.Axes
	was := list[0].Parts()
	try := func(c inventory.Combination) {
		c.Extras = p.Drawer.Following(c.Frame, c.Board)
		c.Extras = append(c.Extras, p.Drawer.GoingAlong(&c)...)
		adapters, ok := compat.Bridges(p.Drawer, &c)
		if !ok {
			return
		}
		c.Extras = append(c.Extras, adapters...)
		r, err := predict.Assess(context.Background(), p, []inventory.Combination{c}, predict.Sampling{Draws: 1})
		if err != nil {
			t.Fatal(err)
		}
		if r[0].Feasible() {
			for a, x := range r[0].Evaluation.Axes {
				best[a] = max(best[a], x)
			}
		}
	}
	d := p.Drawer
	longest := max(len(d.Motors), len(d.Props), len(d.Packs), len(d.Frames), len(d.Boards))
	for i := range longest {
		c := list[0]
		c.Motor = &d.Motors[min(i, len(d.Motors)-1)]
		try(c)
		c = list[0]
		c.Prop = &d.Props[min(i, len(d.Props)-1)]
		try(c)
		c = list[0]
		c.Pack = &d.Packs[min(i, len(d.Packs)-1)]
		try(c)
		c = list[0]
		c.Frame = &d.Frames[min(i, len(d.Frames)-1)]
		try(c)
		c = list[0]
		c.Board = &d.Boards[min(i, len(d.Boards)-1)]
		try(c)
	}
	for _, w := range swaps {
		is := w.Combination.Parts()
		changes := 0
		for _, pair := range [][2]string{{was.Motor, is.Motor}, {was.Prop, is.Prop}, {was.Pack, is.Pack},
			{was.Frame, is.Frame}, {was.Board, is.Board}} {
			if pair[0] != pair[1] {
				changes++
			}
		}
		gain := w.Evaluation.Axes[w.Axis] - base.Evaluation.Axes[w.Axis]
		if changes != 1 || w.From == w.To || !w.Feasible() || gain < leastGain {
			t.Errorf("%s: %s → %s changes %d parts, gains %.2f, feasible %v", w.Axis, w.From, w.To, changes, gain, w.Feasible())
		}
		if short := best[w.Axis] - w.Evaluation.Axes[w.Axis]; short > 1e-9 {
			t.Errorf("%s: another single change gains %.3f more than %s → %s", w.Axis, short, w.From, w.To)
		}
	}
}
