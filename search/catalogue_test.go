package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// pageBounds are bounds such as a page has.
var pageBounds = []Bound{
	{figure.AllUpMass, true, 10}, {figure.StyleTime, false, 10}, {figure.HoverThrottle, true, 10},
	{figure.ThrustToWeight, false, 20}, {figure.TopSpeed, false, 2},
}

func withoutLimits(p space.Problem) space.Problem {
	p.Style.Limits = nil
	return p
}

// catalogue makes one of the club's drawer.
func catalogue(t *testing.T, style objective.Style, o CatalogueOptions) (*space.Space, *Catalogue) {
	t.Helper()
	o.Bounds = pageBounds
	s := clubSpace(t, "freestyle").InStyle(style)
	c, err := catalogueOf(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return s, c
}

// anyLimits draws limits on up to three bounds, often exactly at what some entry has.
func anyLimits(rng *rand.Rand, all []Entry) []*int32 {
	limits := make([]*int32, len(pageBounds))
	for range rng.IntN(4) {
		b := rng.IntN(len(limits))
		k := all[rng.IntN(len(all))].Steps[b] + int32(rng.IntN(3)-1)
		limits[b] = &k
	}
	return limits
}

// anyWeights draws weights, often with zeros.
func anyWeights(rng *rand.Rand) objective.Weights {
	var w objective.Weights
	for w == (objective.Weights{}) {
		for a := range w {
			w[a] = float64(rng.IntN(5))
		}
	}
	w, _ = w.Normalised()
	return w
}

// firstFor is the first of entries for weights and limits, by plain comparison; nil if none keeps them.
func firstFor(entries []Entry, w *objective.Weights, limits []*int32) *Entry {
	var best *Entry
	var top space.Scored
	for i := range entries {
		e := &entries[i]
		if !e.Keeps(limits, pageBounds) {
			continue
		}
		x := e.found
		x.Evaluation.Score = w.Score(&e.Axes)
		if best == nil || x.Order(&top) < 0 {
			best, top = e, x
		}
	}
	return best
}

// Property: thinned as far as it may be without loss, the catalogue holds the best of all feasible
// combinations for any weights and limits, ties by ids included.
func TestCatalogueHoldsTheBest(t *testing.T) {
	styles, trials := []string{"freestyle", "indoor"}, synthetic.Of(3000)
	if testing.Short() {
		styles, trials = styles[:1], 500
	}
	for _, style := range styles {
		p := withoutLimits(problem(t, synthetic.Club(t), style))
		_, whole := catalogue(t, p.Style, CatalogueOptions{Details: 1})
		if int64(len(whole.Entries)) != whole.Feasible || whole.Feasible < 2500 || whole.Complete != whole.Feasible ||
			!whole.Proven {
			t.Fatalf("%s: %d of %d entries, %d complete", style, len(whole.Entries), whole.Feasible, whole.Complete)
		}
		o := CatalogueOptions{Bounds: pageBounds, Rows: 5000}
		o.Workers = 2
		kept, loss, err := pruned(context.Background(), whole.Entries, &o)
		if err != nil || loss != 0 || len(kept) > 3*len(whole.Entries)/5 {
			t.Fatalf("%s: %d kept at a loss of %g, %v", style, len(kept), loss, err)
		}
		rng := rand.New(rand.NewPCG(7, 7))
		found := 0
		for range trials {
			w, limits := anyWeights(rng), anyLimits(rng, whole.Entries)
			want, got := firstFor(whole.Entries, &w, limits), firstFor(kept, &w, limits)
			if want == nil && got == nil {
				continue
			}
			found++
			if want == nil || got == nil || want.found.Candidate != got.found.Candidate {
				t.Fatalf("%s, weights %v: the best is %v, the catalogue's %v", style, w, want, got)
			}
		}
		if found < trials/3 {
			t.Errorf("%s: only %d limits left anything", style, found)
		}
	}
}

// Property: with room for few entries the best found is worse by no more than what the catalogue says,
// and it says so.
func TestCatalogueSaysWhatItLoses(t *testing.T) {
	if testing.Short() {
		t.Skip("two catalogues take long")
	}
	p := withoutLimits(problem(t, synthetic.Club(t), "freestyle"))
	_, whole := catalogue(t, p.Style, CatalogueOptions{Details: 1})
	_, small := catalogue(t, p.Style, CatalogueOptions{Rows: 900, Details: 1})
	if len(small.Entries) > 900 || small.Loss <= 0 {
		t.Fatalf("%d entries at a loss of %g", len(small.Entries), small.Loss)
	}
	rng := rand.New(rand.NewPCG(3, 9))
	worst := 0.0
	for range 2000 {
		w, limits := anyWeights(rng), anyLimits(rng, whole.Entries)
		want, got := firstFor(whole.Entries, &w, limits), firstFor(small.Entries, &w, limits)
		if want == nil {
			continue
		}
		if got == nil {
			t.Fatalf("weights %v: nothing is left in the catalogue", w)
		}
		worst = max(worst, w.Score(&want.Axes)/w.Score(&got.Axes)-1)
	}
	if worst > small.Loss*(1+1e-9) || worst < small.Loss/20 {
		t.Errorf("the best is better by up to %.2g, the catalogue says %.2g", worst, small.Loss)
	}
}

// Property: steps stand for limits exactly as the command line reads them.
func TestBoundSteps(t *testing.T) {
	s, whole := catalogue(t, withoutLimits(problem(t, synthetic.Club(t), "race")).Style, CatalogueOptions{Details: 1})
	for i := 0; i < len(whole.Entries); i += 7 {
		e := &whole.Entries[i]
		craft := s.Craft(e.found.Candidate)
		p := craft.Evaluate(&s.Problem.Style.Flying)
		for b, bound := range pageBounds {
			f := figure.Of(bound.Quantity)
			value, why := p.Figure(bound.Quantity)
			if why != physics.Defined {
				continue
			}
			inner := int32(1)
			form := "%s=..%g"
			if !bound.AtMost {
				inner, form = -1, "%s=%g.."
			}
			for _, k := range []int32{e.Steps[b], e.Steps[b] - inner} {
				limit, err := objective.ParseLimit(fmt.Sprintf(form, f.Key, float64(k)/float64(bound.PerUnit)))
				if err != nil {
					t.Fatal(err)
				}
				if keeps := k == e.Steps[b]; limit.Range.Holds(value) != keeps {
					t.Fatalf("%s of %.17g: limit %s holds %v, want %v", f.Key, value, limit, !keeps, keeps)
				}
			}
		}
	}
}

// Property: the order at the opening is that of the ranking, with the same intervals for the first,
// on any number of workers.
func TestCatalogueOpensAsTheRanking(t *testing.T) {
	p := problem(t, synthetic.Club(t), "freestyle")
	ranked, err := rank(context.Background(), clubSpace(t, "freestyle"), Options{Top: 10, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	three := int32(3 * 20)
	o := CatalogueOptions{Opening: []*int32{nil, nil, nil, &three, nil}, Details: 60, Rows: 2500}
	o.Top, o.Seed = 10, 5
	var first *Catalogue
	for _, workers := range []int{1, 3} {
		o.Workers = workers
		_, c := catalogue(t, withoutLimits(p).Style, o)
		if c.Complete < 200 || len(c.Entries) != 2500 {
			t.Errorf("%d entries, %d complete", len(c.Entries), c.Complete)
		}
		rows := rowsAt(c, o.Opening)
		for i := range ranked.Best {
			e := rows[i]
			if e.Combination.Key() != ranked.Best[i].Combination.Key() || e.Result == nil ||
				e.Result.Figures != ranked.Best[i].Figures {
				t.Errorf("place %d is %s, want %s, with the same figures", i+1, e.Combination.Key(),
					ranked.Best[i].Combination.Key())
			}
		}
		if first == nil {
			first = c
			continue
		}
		for i := range c.Entries {
			a, b := &c.Entries[i], &first.Entries[i]
			if a.found != b.found || (a.Result == nil) != (b.Result == nil) || a.Result != nil &&
				a.Result.Figures != b.Result.Figures {
				t.Fatalf("entry %d depends on the number of workers", i)
			}
		}
	}
}

// rowsAt are the first entries of each row that keep limits.
func rowsAt(c *Catalogue, limits []*int32) []*Entry {
	var rows []*Entry
	for i := range c.Entries {
		e := &c.Entries[i]
		if e.Keeps(limits, pageBounds) && !slices.ContainsFunc(rows, e.SameRow) {
			rows = append(rows, e)
		}
	}
	return rows
}

func mustSpace(t testing.TB, p space.Problem) *space.Space {
	t.Helper()
	s, err := space.New(context.Background(), p, 0)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCatalogueStops(t *testing.T) {
	s := clubSpace(t, "race").InStyle(withoutLimits(problem(t, synthetic.Club(t), "race")).Style)
	ended, stop := context.WithCancel(context.Background())
	stop()
	if _, err := catalogueOf(ended, s, CatalogueOptions{Bounds: pageBounds}); err == nil {
		t.Error("an ended context gives a catalogue")
	}
}

// Where there are too many to look at each, the first places at the opening are still the ranking's,
// and proven.
func TestCatalogueOpensProven(t *testing.T) {
	p := problem(t, synthetic.Club(t), "freestyle")
	ranked, err := rank(context.Background(), clubSpace(t, "freestyle"), Options{Top: 10, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	three := int32(3 * 20)
	o := CatalogueOptions{Opening: []*int32{nil, nil, nil, &three, nil}, Details: 20, Whole: 2000}
	o.Top, o.Seed, o.MaxEvals = 10, 5, 500
	_, c := catalogue(t, withoutLimits(p).Style, o)
	if c.Method != "genetic" || c.Proven || c.Complete != 10 {
		t.Fatalf("%s, proven %v, %d complete", c.Method, c.Proven, c.Complete)
	}
	for i, e := range rowsAt(c, o.Opening)[:len(ranked.Best)] {
		if got, want := e.Combination.Key(), ranked.Best[i].Combination.Key(); got != want {
			t.Errorf("place %d is %s, want %s", i+1, got, want)
		}
	}
}

// A genetic search proves nothing and says so; what it finds is a catalogue all the same.
func TestCatalogueOfAGeneticSearch(t *testing.T) {
	o := CatalogueOptions{Details: 20}
	o.Method, o.MaxEvals = Genetic, 3000
	_, c := catalogue(t, withoutLimits(problem(t, synthetic.Club(t), "race")).Style, o)
	if c.Method != "genetic" || c.Proven || c.Complete != 0 || len(c.Entries) < 500 || c.Evaluated > 3000 ||
		c.Entries[0].Result == nil {
		t.Errorf("%s, proven %v, %d entries of %d evaluations", c.Method, c.Proven, len(c.Entries), c.Evaluated)
	}
}
