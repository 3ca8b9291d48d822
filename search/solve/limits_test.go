package solve

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// figuresOfAll are the values of every figure, sorted, of all candidates that are feasible and have it.
func figuresOfAll(s *space.Space) (lists [figure.Count][]float64) {
	s.Each(func(c space.Candidate) bool {
		if v := s.Evaluate(c); !v.Evaluation.Feasible() {
			return true
		}
		craft := s.Craft(c)
		p := craft.Evaluate(&s.Problem.Style.Flying)
		for q := range figure.Count {
			if value, why := p.Get(q); why == physics.Defined {
				lists[q] = append(lists[q], q.FromSI(value))
			}
		}
		return true
	})
	for q := range lists {
		slices.Sort(lists[q])
	}
	return lists
}

// underLimits is a space with further limits.
func underLimits(s *space.Space, limits ...objective.Limit) *space.Space {
	style := s.Problem.Style
	for _, l := range limits {
		style = style.With(l)
	}
	return s.InStyle(style)
}

// beyond is what none of the sorted values has.
func beyond(list []float64, low bool) objective.Range {
	if low {
		return objective.Range{Low: math.Inf(-1), High: list[0] / 1.02}
	}
	return objective.Range{Low: list[len(list)-1] * 1.02, High: math.Inf(1)}
}

// hole is the widest hole in the middle fifth of sorted values, less a sixth of it on either side.
func hole(list []float64) objective.Range {
	widest, at := 0.0, 0
	for i := len(list) * 4 / 10; i < len(list)*6/10; i++ {
		if wide := list[i+1] - list[i]; wide > widest {
			widest, at = wide, i
		}
	}
	return objective.Range{Low: list[at] + widest/6, High: list[at+1] - widest/6}
}

// among is a limit at random between sorted values that some craft has: open on either side or on neither, exactly one of
// them, in the widest hole of the middle fifth, or beyond them all.
func among(list []float64, rng *rand.Rand) objective.Range {
	a, b := list[rng.IntN(len(list))], list[rng.IntN(len(list))]
	switch rng.IntN(8) {
	case 0, 1:
		return objective.Range{Low: a, High: math.Inf(1)}
	case 2, 3:
		return objective.Range{Low: math.Inf(-1), High: a}
	case 4:
		return objective.Range{Low: a, High: a}
	case 5:
		return hole(list)
	case 6:
		return beyond(list, rng.IntN(2) == 0)
	default:
		return objective.Range{Low: min(a, b), High: max(a, b)}
	}
}

// Property: under one or two limits on any figures, from either side or from both, and also where nothing meets them,
// branch and bound gives what plain enumeration gives, the best on each axis and the front included. Random drawers, half
// of them with twins and near twins of packs, of motors and props or of frames and boards, in all styles.
func TestLimitsAgainstEnumeration(t *testing.T) {
	const drawers, questions = 60, 12
	rng := rand.New(rand.NewPCG(61, 62))
	ctx := context.Background()
	answered, unanswered, skipped := 0, 0, int64(0)
	var asked [figure.Count]int
	var next figure.Quantity // every figure in turn
	for seed := range uint64(synthetic.Of(drawers)) {
		sizes := synthetic.Sizes{3 + rng.IntN(5), 3 + rng.IntN(6), 4 + rng.IntN(8), 2 + rng.IntN(4), 2 + rng.IntN(3)}
		d := synthetic.Generate(11_000+seed, sizes, seed%2 == 0)
		switch seed % 6 {
		case 0:
			synthetic.AddTwins(d, rng)
		case 1:
			tenfold(d, 0.005)
		case 2:
			synthetic.AddPowertrainTwins(d, rng)
		case 3:
			synthetic.AddBodyTwins(d, rng)
		}
		free := laidOut(t, d, objective.PresetNames()[seed%5])
		if free.Fitted > 4000 {
			continue
		}
		values := figuresOfAll(free)
		for n := range questions {
			var limits []objective.Limit
			for range 1 + n%2 {
				q := next % figure.Count
				next++
				if list := values[q]; len(list) > 1 {
					asked[q]++
					limits = append(limits, objective.Limit{Quantity: q, Range: among(list, rng)})
				}
			}
			if len(limits) == 0 {
				continue
			}
			s := underLimits(free, limits...)
			o := Options{Top: 1 + n, Workers: 1 + n%3, Ungrouped: n%5 == 0}
			plain := NewIncumbents(s, &o)
			Enumerate(ctx, s, &o, &plain)
			p, err := proveFrom(ctx, s, &o, 20) // few evaluations to start from, so that bounds decide
			if err != nil || !p.Whole || !p.Led || !p.Fronted {
				t.Fatalf("drawer %d, %v: %v, not proven", seed, limits, err)
			}
			if !slices.Equal(p.Best.List, plain.Best.List) {
				t.Fatalf("drawer %d, %v: %+v, enumeration has %+v", seed, limits, p.Best.List, plain.Best.List)
			}
			front, want := p.Front.Sorted(), plain.Front.Sorted()
			if !slices.EqualFunc(front, want, func(a, b space.Scored) bool { return a.Evaluation.Axes == b.Evaluation.Axes }) {
				t.Fatalf("drawer %d, %v: front of %d, enumeration has %d", seed, limits, len(front), len(want))
			}
			for a := range p.Champions {
				if got, want := p.Champions[a].Evaluation.Axes[a], plain.Champions[a].Evaluation.Axes[a]; got != want {
					t.Fatalf("drawer %d, %v: best %s %g, enumeration has %g", seed, limits, objective.Axis(a), got, want)
				}
			}
			skipped += s.Fitted - p.Evaluated
			if len(want) > 0 {
				answered++
			} else {
				unanswered++
			}
		}
	}
	if answered < 2*synthetic.Of(drawers) || unanswered < synthetic.Of(drawers) || skipped == 0 {
		t.Errorf("%d answered, %d without an answer, %d candidates skipped", answered, unanswered, skipped)
	}
	for q, n := range asked {
		if n == 0 {
			t.Errorf("no limit on %s", figure.Quantity(q).Key())
		}
	}
	t.Logf("%d answered, %d without an answer, %d candidates skipped", answered, unanswered, skipped)
}
