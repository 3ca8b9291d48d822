package learn

import (
	"context"

	"partsaloft/inventory"
)

// Benches is what the drawer's benches teach without its log: rows under motors of the motors and
// of their props' power, points of a prop of its sisters in the series. It is nil if there are
// none that teach more than a prop's own points, which the prop has already. Errors are those of
// Learn.
func Benches(ctx context.Context, d *inventory.Drawer) (*Learned, error) {
	told := *d
	told.Log = nil
	if !teaches(&told) {
		return nil, nil
	}
	g, err := gather(ctx, &told, Ways{})
	if err != nil {
		return nil, err
	}
	p, err := g.fit(ctx)
	if err != nil {
		return nil, g.failed(ctx, err)
	}
	return g.learned(p), nil
}

func teaches(d *inventory.Drawer) bool {
	for i := range d.Motors {
		if len(d.Motors[i].Bench) > 0 {
			return true
		}
	}
	sisters, read := map[string]int{}, map[string]bool{}
	for i := range d.Props {
		p := &d.Props[i]
		sisters[p.Series]++
		read[p.Series] = read[p.Series] || len(p.Bench) > 0
	}
	for series, n := range sisters {
		if series != "" && n > 1 && read[series] {
			return true
		}
	}
	return false
}
