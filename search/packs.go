package search

import (
	"cmp"
	"context"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// PackChoice is one owned pack on a craft.
type PackChoice struct {
	predict.Result
	MassKg float64 // the pack's
	// GainSPerKg is how much longer it flies in the style than the lightest pack, per kg of pack on
	// top of it; Gains says that it is defined.
	GainSPerKg float64
	Gains      bool
	// Beaten names the lightest pack that is feasible, flies longer in the style and weighs less; empty
	// if none.
	Beaten string
}

// Packs predicts a combination with every owned pack that fits it, the longest flight in the style
// first, then the lighter, then by id. Extras and adapters change along.
func Packs(ctx context.Context, p space.Problem, c inventory.Combination, o predict.Sampling) ([]PackChoice, error) {
	combinations := []inventory.Combination{c}
	for _, s := range neighbourhood(p.Drawer, &c) {
		if s.Part == inventory.KindPack {
			combinations = append(combinations, s.Combination)
		}
	}
	results, err := predict.Assess(ctx, p, combinations, o)
	if err != nil {
		return nil, err
	}
	var list []PackChoice
	for i := range results {
		if len(results[i].Misfits) == 0 {
			list = append(list, PackChoice{Result: results[i], MassKg: results[i].Craft.Pack.MassKg})
		}
	}
	time := func(x *PackChoice) float64 { t, _ := x.Performance.Get(figure.StyleTime); return t }
	lighter := func(a, b PackChoice) int {
		return cmp.Or(cmp.Compare(a.MassKg, b.MassKg), cmp.Compare(a.Combination.Pack.ID, b.Combination.Pack.ID))
	}
	slices.SortFunc(list, lighter)
	for i := range list {
		x := &list[i]
		if x.MassKg > list[0].MassKg && time(x) > 0 && time(&list[0]) > 0 {
			x.GainSPerKg, x.Gains = (time(x)-time(&list[0]))/(x.MassKg-list[0].MassKg), true
		}
		for k := range list[:i] {
			if list[k].Feasible() && list[k].MassKg < x.MassKg && time(x) > 0 && time(&list[k]) > time(x) {
				x.Beaten = list[k].Combination.Pack.ID
				break
			}
		}
	}
	slices.SortFunc(list, func(a, b PackChoice) int { return cmp.Or(cmp.Compare(time(&b), time(&a)), lighter(a, b)) })
	return list, nil
}
