package search

import (
	"context"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

func search(t testing.TB, s *space.Space, o Options) *Ranking {
	t.Helper()
	r, err := rank(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Independent: the exact best of the example drawer is what converting, evaluating and judging
// every combination one by one gives, of a motor, prop and pack the best alone, and the counts add up.
func TestExactAgainstOneByOne(t *testing.T) {
	s := clubSpace(t, "race")
	r := search(t, s, Options{Method: Exact, Top: 5, Draws: 20, Variants: true})
	style := &s.Problem.Style
	type one struct {
		key        string
		group      [3]string
		evaluation objective.Evaluation
	}
	var all []one
	propellers := map[string]*rotor.Propeller{}
	for i := range s.Problem.Drawer.Props {
		p := &s.Problem.Drawer.Props[i]
		made, err := p.Propeller(s.Problem.Air)
		if err != nil {
			t.Fatal(err)
		}
		propellers[p.ID] = made
	}
	feasible := int64(0)
	synthetic.Every(s.Problem.Drawer, nil, func(c inventory.Combination) {
		if compat.FirstFault(&c) != compat.NoRule {
			return
		}
		craft, err := c.Craft(propellers[c.Prop.ID])
		if err != nil {
			t.Fatal(err)
		}
		performance := craft.Evaluate(&style.Flying)
		if v := style.Evaluate(&craft, &performance); v.Feasible() {
			feasible++
			all = append(all, one{c.Key(), [3]string{c.Motor.ID, c.Prop.ID, c.Pack.ID}, v})
		}
	})
	slices.SortFunc(all, func(a, b one) int {
		if c := objective.Compare(&a.evaluation, &b.evaluation); c != 0 {
			return c
		}
		return strings.Compare(a.key, b.key)
	})
	rows := slices.Clone(all)
	seen := map[[3]string]bool{}
	rows = slices.DeleteFunc(rows, func(o one) bool { again := seen[o.group]; seen[o.group] = true; return again })
	for i := range r.Best {
		if got := r.Best[i].Combination.Key(); got != rows[i].key || r.Best[i].Evaluation != rows[i].evaluation {
			t.Errorf("place %d: %s %+v, one by one %s %+v", i+1, got, r.Best[i].Evaluation,
				rows[i].key, rows[i].evaluation)
		}
	}
	for i := range r.Groups {
		variants := 0
		for _, o := range all {
			if o.group == rows[i].group {
				variants++
			}
		}
		if g := &r.Groups[i]; len(g.Packs) != 1 || !g.Whole || len(g.Variants) != variants-1 {
			t.Errorf("place %d: %d variants of packs %v, whole %v, one by one %d", i+1, len(g.Variants), g.Packs, g.Whole,
				variants-1)
		}
	}
	sum := feasible
	for _, reason := range r.Infeasible {
		sum += reason.Count
	}
	if sum != r.Candidates || !r.Proven || r.Evaluated != s.Fitted {
		t.Errorf("%d counted of %d candidates, %d evaluated of %d that fit", sum, r.Candidates, r.Evaluated, s.Fitted)
	}
}

// The genetic search finds the exact best of the example drawer in every style, within its budget.
func TestGeneticAgainstExact(t *testing.T) {
	for _, style := range objective.PresetNames() {
		s := clubSpace(t, style)
		exact := search(t, s, Options{Method: Exact, Top: 1, Draws: 2})
		for seed := range uint64(synthetic.Of(3)) {
			r := search(t, s, Options{Method: Genetic, Top: 1, Seed: seed, MaxEvals: 1800, Draws: 2})
			if r.Evaluated > 1800 || r.Best[0].Combination.Key() != exact.Best[0].Combination.Key() {
				t.Errorf("%s, seed %d: %s (%.4f) after %d, exact %s (%.4f)", style, seed, r.Best[0].Combination.Key(),
					r.Best[0].Evaluation.Score,
					r.Evaluated, exact.Best[0].Combination.Key(), exact.Best[0].Evaluation.Score)
			}
		}
	}
}

// Small budgets, and spaces in which hardly anything is feasible, are no trouble.
func TestGeneticOnLittle(t *testing.T) {
	p := problem(t, synthetic.Club(t), "race")
	for _, text := range []string{"", "style_minutes=8.5..", "style_minutes=100.."} {
		if text != "" {
			limit, err := objective.ParseLimit(text)
			if err != nil {
				t.Fatal(err)
			}
			p.Style = p.Style.With(limit)
		}
		s := clubSpace(t, "race").InStyle(p.Style)
		exact := search(t, s, Options{Top: 1, Draws: 2})
		for _, budget := range []int64{1, 50, 4000} {
			r := search(t, s, Options{Method: Genetic, Top: 1, MaxEvals: budget, Draws: 2})
			if r.Evaluated > budget || len(r.Best) == 0 && len(r.NearMisses) == 0 {
				t.Errorf("%q, %d: %d evaluated, %d results, %d misses", text, budget, r.Evaluated, len(r.Best), len(r.NearMisses))
			}
			if budget == 4000 && len(exact.Best) > 0 && (len(r.Best) == 0 ||
				r.Best[0].Combination.Key() != exact.Best[0].Combination.Key()) {
				t.Errorf("%q: found %+v, exact %s", text, r.Best, exact.Best[0].Combination.Key())
			}
		}
	}
}

// The genetic search's front covers nearly what the exact front covers (hypervolume, Zitzler &
// Thiele 1999).
func TestGeneticFront(t *testing.T) {
	s := clubSpace(t, "freestyle")
	exact := search(t, s, Options{Method: Exact, Draws: 2})
	r := search(t, s, Options{Method: Genetic, Seed: 1, MaxEvals: 5000, Draws: 2})
	want, got := solve.Hypervolume(exact.FrontAxes), solve.Hypervolume(r.FrontAxes)
	t.Logf("%.5f of %.5f, %d of %d evaluations", got, want, r.Evaluated, exact.Evaluated)
	if !(got <= want*(1+1e-12) && got > 0.97*want) {
		t.Errorf("the front of %d evaluations covers %.5f, the exact one of %d covers %.5f", r.Evaluated, got,
			exact.Evaluated, want)
	}
}

// A proof that was not asked for is given up after so many looks, and the genetic search goes on from what it found;
// the list is no worse than either finds, is not called proven, and the gap says by how much it may be beaten.
func TestLongProofIsGivenUp(t *testing.T) {
	s := laidOut(t, synthetic.Generate(1, synthetic.Sizes{26, 32, 26, 12, 8}, false), "cruise")
	whole := search(t, s, Options{Method: Exact, Draws: 2})
	r := search(t, s, Options{MaxProof: 1000, Draws: 2, MaxEvals: 6000})
	if r.Proven || r.Interrupted || r.Method != string(Genetic) || r.Why.Kind != LongProof {
		t.Fatalf("%s, proven %v, interrupted %v, why %v", r.Method, r.Proven, r.Interrupted, r.Why)
	}
	alone := search(t, s, Options{Method: Genetic, Draws: 2, MaxEvals: 6000})
	if r.BestScore < alone.BestScore || r.BestScore > whole.BestScore || r.BestScore+r.Gap < whole.BestScore {
		t.Errorf("best %g with a gap of %g, genetic %g, proven %g", r.BestScore, r.Gap, alone.BestScore, whole.BestScore)
	}
	if asked := search(t, s, Options{Method: Exact, MaxProof: 1000, Draws: 2}); !asked.Proven {
		t.Error("a proof that was asked for is given up")
	}
}

// Same bytes on any number of workers: plain, proof and genetic.
func TestDeterminism(t *testing.T) {
	big := laidOut(t, synthetic.Generate(1, synthetic.Sizes{26, 32, 26, 12, 8}, false), "cruise")
	small := clubSpace(t, "cruise")
	if big.Fitted <= plainCandidates || small.Fitted > plainCandidates {
		t.Fatalf("%d and %d candidates fit", big.Fitted, small.Fitted)
	}
	for _, c := range []struct {
		name string
		s    *space.Space
		o    Options
	}{
		{"plain", small, Options{Method: Exact}},
		{"proof", big, Options{Method: Exact}},
		{"given up", big, Options{MaxProof: 1000, MaxEvals: 3000}},
		{"genetic", big, Options{Method: Genetic, Seed: 5, MaxEvals: 3000}},
	} {
		c.o.Draws, c.o.Top = 8, 4
		var first *Ranking
		for _, workers := range []int{1, 8, 2}[:1+synthetic.Of(2)] {
			c.o.Workers = workers
			r := search(t, c.s, c.o)
			if first == nil {
				first = r
			} else if !reflect.DeepEqual(first, r) {
				t.Errorf("%s: %d workers differ from one", c.name, workers)
			}
		}
	}
}

// A seed that differs draws other numbers, but the nominal order is the same.
func TestSeedMovesOnlyDraws(t *testing.T) {
	s := clubSpace(t, "cruise")
	a, b := search(t, s, Options{Seed: 1, Draws: 30}), search(t, s, Options{Seed: 2, Draws: 30})
	same := true
	for i := range a.Best {
		if a.Best[i].Evaluation != b.Best[i].Evaluation {
			t.Errorf("place %d differs", i+1)
		}
		same = same && a.Best[i].Figures == b.Best[i].Figures
	}
	if same {
		t.Error("the seed does not reach the draws")
	}
}

// When nothing is feasible the nearest misses come with what would mend them, nearest first.
func TestNearMisses(t *testing.T) {
	p := problem(t, synthetic.Club(t), "cruise")
	limit, err := objective.ParseLimit("style_minutes=120..")
	if err != nil {
		t.Fatal(err)
	}
	p.Style = p.Style.With(limit)
	s, err := space.New(context.Background(), p, 0)
	if err != nil {
		t.Fatal(err)
	}
	r := search(t, s, Options{Draws: 5})
	if len(r.Best) != 0 || len(r.NearMisses) == 0 {
		t.Fatalf("%d results, %d misses", len(r.Best), len(r.NearMisses))
	}
	last := 0.0
	for _, m := range r.NearMisses {
		if m.Evaluation.Excess < last || len(m.Violations) == 0 || len(m.Remedies) == 0 {
			t.Errorf("%s: excess %g after %g, %v, %v", m.Combination.Key(), m.Evaluation.Excess, last, m.Violations, m.Remedies)
		}
		last = m.Evaluation.Excess
	}

	// Nothing fits: the misses say which parts do not go together.
	d := synthetic.Generate(3, synthetic.Sizes{3, 3, 3, 2, 2}, false)
	for i := range d.Frames {
		tiny := 1.0
		d.Frames[i].MaxPropIn = &tiny
	}
	r = search(t, laidOut(t, d, "cruise"), Options{Draws: 5})
	if len(r.Best) != 0 || len(r.NearMisses) == 0 || len(r.NearMisses[0].Misfits) == 0 ||
		!slices.ContainsFunc(r.NearMisses[0].Misfits, func(m predict.Misfit) bool { return m.Finding.Rule == compat.RulePropSize }) {
		t.Errorf("%d results, misses %+v", len(r.Best), r.NearMisses)
	}
}

// Ties go to the lower ids: a drawer with every part twice gives the first of the twins.
func TestTiesByIDs(t *testing.T) {
	d := synthetic.Generate(9, synthetic.Sizes{3, 3, 3, 2, 2}, true)
	for _, m := range d.Motors[:3] {
		m.ID = "a-" + m.ID
		d.Motors = append(d.Motors, m)
	}
	for _, style := range []string{"cruise", "race"} {
		for _, method := range []Method{Exact, Genetic} {
			r := search(t, laidOut(t, d, style), Options{Method: method, Draws: 2})
			if len(r.Best) > 1 && !strings.HasPrefix(r.Best[0].Combination.Motor.ID, "a-") {
				t.Errorf("%s, %s: %s comes before its twin", style, method, r.Best[0].Combination.Key())
			}
		}
	}
}

// All weight on one axis ranks by that axis; no weight on an axis leaves it out.
func TestOneAxis(t *testing.T) {
	p := problem(t, synthetic.ExampleDrawer(t, "racer.yaml"), "cruise")
	for a := range objective.AxisCount {
		p.Style.Weights = objective.Weights{}
		p.Style.Weights[a] = 1
		s, err := space.New(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		r := search(t, s, Options{Draws: 2})
		for i := range r.Best {
			v := &r.Best[i].Evaluation
			if math.Abs(v.Score-v.Axes[a]) > 1e-9 {
				t.Errorf("%s alone: score %g, axis %g", a, v.Score, v.Axes[a])
			}
			for _, f := range r.FrontAxes {
				if f[a] > r.Best[0].Evaluation.Axes[a]+1e-9 {
					t.Errorf("%s alone: the front has %g, the best %g", a, f[a], r.Best[0].Evaluation.Axes[a])
				}
			}
		}
	}
}

// The front holds no member that another beats, and everything feasible is beaten or in it.
func TestFront(t *testing.T) {
	s := clubSpace(t, "race")
	r := search(t, s, Options{Method: Exact, Draws: 2})
	for i := range r.FrontAxes {
		for j := range r.FrontAxes {
			if i != j && (r.FrontAxes[i].Dominates(&r.FrontAxes[j]) || r.FrontAxes[i] == r.FrontAxes[j]) {
				t.Fatalf("%v and %v are both in the front", r.FrontAxes[i], r.FrontAxes[j])
			}
		}
	}
	s.Each(func(c space.Candidate) bool {
		v := s.Evaluate(c).Evaluation
		if !v.Feasible() {
			return true
		}
		for i := range r.FrontAxes {
			if r.FrontAxes[i] == v.Axes || r.FrontAxes[i].Dominates(&v.Axes) {
				return true
			}
		}
		t.Fatalf("%v is neither in the front nor beaten", v.Axes)
		return false
	})
}

// Every listed figure has an interval that holds its value, or a reason; every result its shares.
func TestFiguresAndShares(t *testing.T) {
	r := search(t, clubSpace(t, "freestyle"), Options{Top: 4})
	best := 0.0
	for i := range r.Best {
		b := &r.Best[i]
		if !(b.AheadShare >= 0 && b.AheadShare <= 1 && b.BestShare >= 0 && b.BestShare <= 1) {
			t.Errorf("shares %g and %g", b.AheadShare, b.BestShare)
		}
		best += b.BestShare
		for q := range figure.Count {
			v := b.Figures[q]
			if v.Why == physics.Defined && !(v.Low <= v.Value && v.Value <= v.High) {
				t.Errorf("%s: %g not in %g to %g", figure.Of(q).Key, v.Value, v.Low, v.High)
			}
			if v.Why != physics.Defined && (v.Value != 0 || v.Low != 0 || v.High != 0) {
				t.Errorf("%s is undefined and %g", figure.Of(q).Key, v.Value)
			}
		}
	}
	if best > 1+1e-9 {
		t.Errorf("the listed are best in %g of all draws", best)
	}
}

// Near misses differ in motor, prop or pack, and a limit that they name lets the first of them pass.
func TestNearMissesDiffer(t *testing.T) {
	for _, text := range []string{"style_minutes=120..", "all_up_g=..12", "hover_throttle_pct=..3",
		"thrust_to_weight=40.."} {
		p := problem(t, synthetic.Club(t), "cruise")
		limit, err := objective.ParseLimit(text)
		if err != nil {
			t.Fatal(err)
		}
		p.Style = p.Style.With(limit)
		r := search(t, clubSpace(t, "cruise").InStyle(p.Style), Options{Draws: 2})
		seen := map[[3]string]bool{}
		for _, m := range r.NearMisses {
			kind := [3]string{m.Combination.Motor.ID, m.Combination.Prop.ID, m.Combination.Pack.ID}
			if seen[kind] {
				t.Errorf("%s: %v twice", text, kind)
			}
			seen[kind] = true
		}
		if len(r.NearMisses) != solve.NearMissCount {
			t.Fatalf("%s: %d misses", text, len(r.NearMisses))
		}
		loosened := 0
		for k, way := range r.NearMisses[0].Remedies {
			if way.Loose == nil {
				continue
			}
			loosened++
			if b := &r.NearMisses[0].Violations[k]; !way.Loose.Range.Holds(b.Value) || way.Now.Range.Holds(b.Value) {
				t.Errorf("%s: %s does not hold %g, or %s does", text, way.Loose, b.Value, way.Now)
			}
		}
		if loosened == 0 {
			t.Errorf("%s: no limit to loosen", text)
		}
	}
}

// An interrupted proof gives the best so far with the gap that is left.
func TestInterrupt(t *testing.T) {
	s := laidOut(t, synthetic.Generate(1, synthetic.Sizes{30, 40, 30, 12, 8}, false), "race")
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	whole, err := rank(context.Background(), s, Options{Method: Exact, Draws: 10})
	if err != nil || !whole.Proven || whole.Gap != 0 || whole.Skipped == 0 || whole.Evaluated+whole.Skipped != s.Fitted {
		t.Fatalf("%+v %v", whole, err)
	}
	watched := progress.Begin(ctx, func(told progress.Told) {
		if told.Done > 5000 { // past the search for first incumbents
			cancel()
		}
	})
	r, err := rank(watched, s, Options{Method: Exact, Draws: 10})
	if err != nil {
		t.Fatal(err)
	}
	if !r.Interrupted || r.Proven || r.Gap <= 0 || len(r.Best) == 0 {
		t.Errorf("interrupted %v, proven %v, gap %g, %d results", r.Interrupted, r.Proven, r.Gap, len(r.Best))
	}
	if best := whole.Best[0].Evaluation.Score; r.Best[0].Evaluation.Score+r.Gap < best-1e-9 {
		t.Errorf("the gap %g over %g does not reach the best, %g", r.Gap, r.Best[0].Evaluation.Score, best)
	}
}
