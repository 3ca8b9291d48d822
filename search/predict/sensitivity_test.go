package predict

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
)

// Independent: intervals from expansions and their surrogate against those from draws, where nearly every draw has the
// figure: close to an edge of what can be flown draws beyond it are left out. Throttle cap and charge used have kinks.
func TestSpreadAgreesWithDraws(t *testing.T) {
	p := problem(t, synthetic.Club(t), "freestyle")
	p.Style.Limits = nil
	all := allFeasible(t, p)
	nominal := append([]Result(nil), all...)
	Spread(context.Background(), all, &p.Style, 2)
	d := NewDraws(Sampling{Draws: max(800, synthetic.Of(1600)), Seed: 11})
	const sampled = 60
	var off [figure.Count][]float64
	var every []float64
	bases := 0
	for i := 5; i < len(all); i += len(all) / sampled {
		spread, drawn := &all[i], &nominal[i]
		propagated := drawn.Propagate(context.Background(), &p.Style, d, 0)
		drawn.Take(propagated, &p.Style)
		for q := range figure.Count {
			a, b := spread.Figures[q], drawn.Figures[q]
			if a.Why != b.Why || a.Value != b.Value || a.Low > a.Value || a.High < a.Value {
				t.Errorf("%s: %+v against %+v", figure.Of(q).Key, a, b)
			}
			if propagated.Undefined(int(q)) > 0.02 {
				continue
			}
			if a.Basis != b.Basis {
				bases++
			}
			if half := (b.High - b.Low) / 2; half > 5e-4*math.Abs(b.Value) {
				one := math.Max(math.Abs(a.High-b.High), math.Abs(a.Low-b.Low)) / half
				off[q], every = append(off[q], one), append(every, one)
			}
		}
	}
	if len(every) < 30*sampled {
		t.Fatalf("only %d intervals compared", len(every))
	}
	for q, list := range off {
		if middle := uncertain.Quantile(list, 0.5); middle > 0.3 {
			t.Errorf("%s: ends are off by %.2f of half the width", figure.Of(figure.Quantity(q)).Key, middle)
		}
	}
	middle, most := uncertain.Quantile(every, 0.5), uncertain.Quantile(every, 0.9)
	if middle > 0.09 || most > 0.25 || bases > len(every)/20 {
		t.Errorf("ends are off by %.2g of half the width at the median, %.2g nine times in ten; %d of %d bases differ",
			middle, most, bases, len(every))
	}
}

// Independent: slopes by channels, in which inputs that act alike are moved as one, against moving every input alone.
func TestChannelsAgainstMovingEveryInput(t *testing.T) {
	p := problem(t, synthetic.Generate(21, synthetic.Sizes{6, 6, 6, 3, 3}, false), "race")
	p.Style.Limits = nil
	all := allFeasible(t, p)
	half := uncertain.HalfWidth()
	var off []float64
	for i := 0; i < len(all); i += len(all)/30 + 1 {
		r := &all[i]
		by := sensitivitiesOf(r, &p.Style.Flying, nil)
		var plain, channels [figure.Count]float64
		for input := range uncertain.InputCount {
			var sides [2]physics.Performance
			for side, z := range [...]float64{half, -half} {
				var normal [uncertain.InputCount]float64
				normal[input] = z
				deviation := r.Craft.Uncertainty.Deviation(&normal)
				craft := r.Craft.Deviate(&deviation)
				sides[side] = craft.Evaluate(&p.Style.Flying)
			}
			for q := range figure.Count {
				up, ok1 := drawn(&sides[0], q)
				down, ok2 := drawn(&sides[1], q)
				of := scaleOf(&r.Craft, q)
				if !ok1 || !ok2 || by.linear.Has(1<<q) {
					plain[q] = math.NaN()
					continue
				}
				plain[q] += math.Pow(math.Log(of.off(up)/of.off(down))/2/half, 2)
			}
		}
		for c := range by.slope {
			for q, slope := range by.slope[c][:figure.Count] {
				channels[q] += slope * slope
			}
		}
		for q := range plain {
			if r.Figures[q].Why == physics.Defined && q != int(figure.ThrottleCap) && plain[q] > 1e-8 {
				off = append(off, math.Abs(math.Sqrt(channels[q]/plain[q])-1))
			}
		}
	}
	if len(off) < 300 {
		t.Fatalf("only %d widths", len(off))
	}
	if middle, most := uncertain.Quantile(off, 0.5), uncertain.Quantile(off, 0.99); middle > 0.003 || most > 0.05 {
		t.Errorf("widths are off by %.2g at the median, %.2g at 99 %%", middle, most)
	}
}

// Independent: a sum of squares of normal numbers is chi-squared, whose points the general library knows.
func TestIntervalOfASkewedSum(t *testing.T) {
	for _, k := range [...]float64{10, 30, 100} {
		low, high := ofMoments(k, 2*k, 8*k)
		exact := distuv.ChiSquared{K: k}
		width := exact.Quantile(0.9) - exact.Quantile(0.1)
		if a, b := (low-exact.Quantile(0.1))/width, (high-exact.Quantile(0.9))/width; math.Abs(a) > 0.02 ||
			math.Abs(b) > 0.02 {
			t.Errorf("%g squares: ends are off by %.3f and %.3f of the width", k, a, b)
		}
	}
	if low, high := ofMoments(2, 0, 0); low != 2 || high != 2 {
		t.Errorf("what is certain lies in %g to %g", low, high)
	}
}

// Property: workers change no bit, and a context that ends leaves results as they are.
func TestSpreadOnWorkers(t *testing.T) {
	style, _ := objective.Preset("indoor")
	style.Limits = nil
	p := problem(t, synthetic.Generate(4, synthetic.Sizes{5, 5, 5, 3, 3}, false), "indoor")
	p.Style = style
	all := allFeasible(t, p)
	one := append([]Result(nil), all...)
	Spread(context.Background(), one, &p.Style, 1)
	for _, workers := range [...]int{2, 8} {
		more := append([]Result(nil), all...)
		Spread(context.Background(), more, &p.Style, workers)
		for i := range one {
			if one[i].Figures != more[i].Figures {
				t.Fatalf("%d workers: result %d differs", workers, i)
			}
		}
	}
	ended, end := context.WithCancel(context.Background())
	end()
	left := append([]Result(nil), all...)
	Spread(ended, left, &p.Style, 2)
	for i := range left {
		if left[i].Figures != all[i].Figures {
			t.Fatalf("result %d was changed after the end", i)
		}
	}
}
