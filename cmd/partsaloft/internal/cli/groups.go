package cli

import (
	"partsaloft/cmd/internal/render"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// figureTable shows every figure with its interval and basis, in groups.
func figureTable(r *predict.Result) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("figure"), render.Right("value"), render.Right("8 in 10 between"), render.Left("basis")}}
	for g := range figure.GroupCount {
		t.Add(g.String())
		for _, of := range figure.In(g, figure.Listed) {
			f := shownOf(r, of.Quantity)
			if !f.defined() {
				t.Add("  "+f.Name, "–", "", f.why.String())
				continue
			}
			t.Add("  "+f.Name, f.String(), f.span(), f.basis)
		}
	}
	return t
}
