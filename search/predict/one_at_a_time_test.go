package predict

import (
	"context"
	"math"
	"partsaloft/physics"
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

// Independent: what Spread spares, by inputs that act alike and by mirroring small effects, against moving every input
// to both sides in full.
func TestSpreadAgainstMovingEveryInput(t *testing.T) {
	p := problem(t, synthetic.Generate(21, synthetic.Sizes{6, 6, 6, 3, 3}, false), "race")
	p.Style.Limits = nil
	all := allFeasible(t, p)
	var off []float64
	for i := 0; i < len(all); i += len(all)/30 + 1 {
		r := &all[i]
		r.Spread(&p.Style)
		var up, down [figure.Count]float64
		u := &r.Craft.Uncertainty
		for input := range uncertain.InputCount {
			for _, side := range [...]float64{uncertain.HalfWidth(), -uncertain.HalfWidth()} {
				var normal [uncertain.InputCount]float64
				normal[input] = side
				deviation := u.Deviation(&normal)
				craft := r.Craft.Deviate(&deviation)
				performance := craft.Evaluate(&p.Style.Flying)
				for q := range up {
					if x, ok := drawn(&performance, figure.Quantity(q)); ok {
						by := x - r.Figures[q].Value
						up[q] += math.Pow(max(by, 0), 2)
						down[q] += math.Pow(min(by, 0), 2)
					}
				}
			}
		}
		for q := range r.Figures {
			v := &r.Figures[q]
			width := math.Sqrt(up[q]) + math.Sqrt(down[q])
			if v.Why == physics.Defined && q != int(figure.ThrottleCap) && width > 1e-4*math.Abs(v.Value) {
				off = append(off, math.Abs((v.High-v.Low)/width-1))
			}
		}
	}
	if len(off) < 300 {
		t.Fatalf("only %d intervals", len(off))
	}
	if middle, most := uncertain.Quantile(off, 0.5), uncertain.Quantile(off, 0.99); middle > 0.002 || most > 0.03 {
		t.Errorf("widths are off by %.2g at the median, %.2g at 99 %%", middle, most)
	}
}
