package predict

import (
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
)

// plainDraws are deviations of a result's craft from numbers that are not stratified; what readings taught goes together.
func plainDraws(r *Result, rng *rand.Rand, n int) []uncertain.Deviation {
	c, u := &r.Combination, &r.Craft.Uncertainty
	draws := make([]uncertain.Deviation, n)
	for s := range draws {
		var normal [uncertain.InputCount]float64
		for i := range normal {
			normal[i] = rng.NormFloat64()
		}
		draws[s] = u.Deviation(&normal)
		var common [8]float64
		for j := range common {
			common[j] = rng.NormFloat64()
		}
		for _, list := range []inventory.Corrections{c.Motor.Learned, c.Prop.Learned, c.Pack.Learned, c.Frame.Learned,
			c.Board.Learned} {
			for _, k := range list {
				x, alone := 0.0, 1.0
				for j, share := range k.Shared {
					x, alone = x+share*common[j], alone-share*share
				}
				if k.Shared != nil {
					draws[s][k.Input] = k.LnSD * (x + math.Sqrt(alone)*normal[k.Input])
				}
			}
		}
	}
	return draws
}

// Independent: the ends of intervals, after readings too, against those of many draws that are not stratified, and against what 200 such draws
// make of them, which are farther off at the middle, nine times in ten and at 98 of 100. Figures that are undefined in
// many of the draws are left out.
func TestIntervalsAgainstManyDraws(t *testing.T) {
	learned := synthetic.Club(t)
	synthetic.Correct(learned, rand.New(rand.NewPCG(5, 6)))
	drawers := map[string]*inventory.Drawer{"club": synthetic.Club(t), "learned": learned}
	styles, many := []string{"freestyle"}, 800
	if os.Getenv("PARTSALOFT_LONG") != "" {
		drawers["generated"] = synthetic.Generate(3, synthetic.Sizes{6, 6, 6, 4, 4}, false)
		drawers["loose"] = synthetic.Generate(7, synthetic.Sizes{6, 6, 6, 4, 4}, true)
		styles, many = objective.PresetNames(), 3000
	}
	for _, name := range slices.Sorted(maps.Keys(drawers)) {
		var judged, sampled []float64
		for _, style := range styles {
			p := problem(t, drawers[name], style)
			all := allFeasible(t, p)
			var some []Result
			for i := 0; i < len(all); i += len(all)/13 + 1 {
				some = append(some, all[i])
			}
			own := slices.Clone(some)
			Judge(t.Context(), own, &p.Style, NewDraws(Sampling{}), 2)
			rng := rand.New(rand.NewPCG(1, 2))
			for i := range some {
				reference, few := some[i], some[i]
				whole := reference.propagate(plainDraws(&reference, rng, many), &p.Style, each(t.Context(), 2))
				reference.Take(whole, &p.Style)
				few.Take(few.propagate(plainDraws(&few, rng, 200), &p.Style, nil), &p.Style)
				for q := range shownFigure + 1 {
					b := reference.value(q)
					half := (b.High - b.Low) / 2
					if half <= 5e-4*math.Abs(b.Value) || whole.Undefined(q) > 0.02 {
						continue
					}
					off := func(r *Result) float64 {
						a := r.value(q)
						return math.Max(math.Abs(a.High-b.High), math.Abs(a.Low-b.Low)) / half
					}
					judged, sampled = append(judged, off(&own[i])), append(sampled, off(&few))
				}
			}
		}
		if len(judged) < 300 {
			t.Fatalf("%s: only %d intervals compared", name, len(judged))
		}
		for _, share := range []float64{0.5, 0.9, 0.98} {
			a, b := uncertain.Quantile(judged, share), uncertain.Quantile(sampled, share)
			t.Logf("%s, %g of %d: off by %.3f of half the width, of 200 draws by %.3f", name, share, len(judged), a, b)
			if a >= b {
				t.Errorf("%s: %g of the ends are off by up to %.3f of half the width, of 200 draws by %.3f", name, share, a, b)
			}
		}
	}
}

// Property: in a lot every number lies once in each slice of equal probability; more draws begin with the same ones.
func TestNumbersAreStratified(t *testing.T) {
	const width = 3
	for _, lots := range [][]int{{60}, {lot}, {lot, lot, 50}} {
		n := 0
		for _, of := range lots {
			n += of
		}
		numbers := NewDraws(Sampling{Draws: n, Seed: 4}).normals("motor", "one", width)
		first := 0
		for _, of := range lots {
			for i := range width {
				seen := make([]bool, of)
				for s := range of {
					seen[int(distuv.UnitNormal.CDF(numbers[(first+s)*width+i])*float64(of))] = true
				}
				if slices.Contains(seen, false) {
					t.Errorf("%d draws from %d on: a slice of number %d has none", of, first, i)
				}
			}
			first += of
		}
		if few := NewDraws(Sampling{Draws: lots[0], Seed: 4}).normals("motor", "one", width); !slices.Equal(few,
			numbers[:len(few)]) {
			t.Errorf("%d draws begin otherwise than %d", n, lots[0])
		}
	}
}

// Independent: shares of stratified draws scatter about those of many plain ones by less than such a number of plain draws
// would, by the binomial distribution, as far as is said.
func TestSharesOfStratifiedDrawsScatterLess(t *testing.T) {
	p := problem(t, synthetic.Club(t), "freestyle")
	results := allFeasible(t, p)[:6]
	scoresOn := func(o Sampling) [][]float64 {
		d, scores := NewDraws(o), make([][]float64, len(results))
		for i := range results {
			draws := d.deviations(&results[i].Combination, &results[i].Craft.Uncertainty)
			scores[i] = results[i].scores(t.Context(), &p.Style, draws, 2)
		}
		return scores
	}
	const n, seeds = 100, 24
	shares := make([][]float64, len(results)-1)
	for seed := range uint64(seeds) {
		scores := scoresOn(Sampling{Draws: n, Seed: seed})
		for i := range shares {
			shares[i] = append(shares[i], aheadShare(scores[i], scores[i+1]))
		}
	}
	var found, binomial float64
	for _, list := range shares {
		mean := 0.0
		for _, x := range list {
			mean += x / seeds
		}
		for _, x := range list {
			found += (x - mean) * (x - mean) / (seeds - 1)
		}
		binomial += mean * (1 - mean) / n
	}
	if ratio := math.Sqrt(found / binomial); ratio > 1.15*latin || ratio < 0.6*latin {
		t.Errorf("shares scatter by %.2f of what plain draws would, %.2f is said", ratio, latin)
	} else {
		t.Logf("%.2f", ratio)
	}
}
