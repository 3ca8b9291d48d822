package predict

import (
	"context"
	"math"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
	"testing"
)

// Independent: intervals from moving one input at a time against those from draws, where nearly every draw
// has the figure: close to an edge of what can be flown draws beyond it are left out.
func TestSpreadAgreesWithDraws(t *testing.T) {
	p := problem(t, synthetic.Club(t), "freestyle")
	p.Style.Limits = nil
	all := allFeasible(t, p)
	d := NewDraws(Sampling{Draws: max(400, synthetic.Of(1000)), Seed: 11})
	const sampled = 40
	var ratios [figure.Count][]float64
	var bases [figure.Count]int
	for i := 0; i < len(all); i += len(all) / sampled {
		spread, drawn := all[i], all[i]
		spread.Spread(&p.Style)
		propagated := drawn.Propagate(context.Background(), &p.Style, d, 0)
		drawn.Take(propagated, &p.Style)
		for q := range figure.Count {
			a, b := spread.Figures[q], drawn.Figures[q]
			if a.Why != b.Why {
				t.Errorf("%s: %d against %d", figure.Of(q).Key, a.Why, b.Why)
			}
			if a.Basis != b.Basis {
				bases[q]++
			}
			if propagated.Undefined(int(q)) > 0.02 {
				continue
			}
			if width := b.High - b.Low; width > 1e-3*math.Abs(b.Value) {
				ratios[q] = append(ratios[q], (a.High-a.Low)/width)
			}
		}
	}
	compared := 0
	for q, list := range ratios {
		if len(list) == 0 {
			continue
		}
		compared++
		middle, low, high := uncertain.Quantile(list, 0.5), uncertain.Quantile(list, 0.1), uncertain.Quantile(list, 0.9)
		if q == int(figure.ThrottleCap) {
			low = max(low, 0.5) // draws end at 100 %
		}
		if middle < 0.85 || middle > 1.2 || low < 0.5 || high > 2.3 || bases[q] > sampled/4 {
			t.Errorf("%s: spread over drawn is %.2f, from %.2f to %.2f; %d bases differ", figure.Of(figure.Quantity(q)).Key,
				middle, low, high, bases[q])
		}
	}
	if compared < 20 {
		t.Errorf("only %d figures compared", compared)
	}
}
