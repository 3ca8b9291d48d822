package solve

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Property: a search finds something that fits wherever anything does, however few of the parts go together: here one
// motor, prop and frame among many that go with nothing.
func TestGeneticStartsWhereLittleFits(t *testing.T) {
	d := synthetic.Generate(31, synthetic.Sizes{1, 1, 6, 1, 6}, true)
	for i, tries := uint64(31), 0; laidOut(t, d, "cruise").Fitted == 0; i++ {
		if tries++; tries > 100 {
			t.Fatal("nothing fits")
		}
		d = synthetic.Generate(i, synthetic.Sizes{1, 1, 6, 1, 6}, true)
	}
	// Motors and packs of other cells than the rest, props that are too large, frames too small for any.
	for i := range 80 {
		m, p, k, f := d.Motors[0], d.Props[0], d.Packs[0], d.Frames[0]
		m.ID, p.ID, k.ID, f.ID = fmt.Sprint("mx", i), fmt.Sprint("px", i), fmt.Sprint("kx", i), fmt.Sprint("fx", i)
		small := 0.5
		m.Cells = &inventory.CellRange{Min: 11, Max: 11}
		p.DiameterIn, p.PitchIn, k.Cells, f.MaxPropIn = 12, 6, 12, &small
		d.Motors, d.Props, d.Packs, d.Frames = append(d.Motors, m), append(d.Props, p), append(d.Packs, k), append(d.Frames, f)
	}
	s := laidOut(t, d, "cruise")
	if s.Fitted == 0 || len(s.Motors) < 80 {
		t.Fatalf("%d of %d motors' fit", s.Fitted, len(s.Motors))
	}
	for seed := range uint64(10) {
		h, err := Genetic(context.Background(), s, &Options{Top: 3, Workers: 2, Seed: seed})
		if err != nil || int64(len(h.Known)) != s.Fitted {
			t.Errorf("seed %d: %d of %d known, %v", seed, len(h.Known), s.Fitted, err)
		}
	}
}

// Independent: with a limit at the median of any figure, on either side, and for spread lists, the search finds the best
// that enumeration finds in nine of ten drawers of which it may look at half, and never one that scores more or breaks
// the limit; and it comes to the same on any number of workers.
func TestGeneticUnderLimitsAndSpread(t *testing.T) {
	ctx := context.Background()
	asked, found := 0, 0
	keys := figure.All()
	for seed := range uint64(synthetic.Of(90)) {
		d := synthetic.Generate(9000+seed, synthetic.Sizes{6, 8, 7, 4, 3}, seed%2 == 0)
		p := problem(t, d, objective.PresetNames()[seed%4])
		q := keys[int(seed*7)%len(keys)].Quantity
		s := limited(t, p, q, seed%2 == 0)
		if s == nil || s.Fitted < 300 {
			continue
		}
		o := Options{Top: 3, Workers: 1, Seed: seed, Spread: seed%3 == 0, MaxEvals: s.Fitted / 2}
		plain := NewIncumbents(s, &o)
		Enumerate(ctx, s, &o, &plain)
		h, err := Genetic(ctx, s, &o)
		if err != nil {
			t.Fatal(err)
		}
		for _, workers := range []int{2, 8} {
			other := o
			other.Workers = workers
			g, err := Genetic(ctx, s, &other)
			if err != nil || !slices.Equal(g.Best.List, h.Best.List) || !reflect.DeepEqual(g.Known, h.Known) ||
				!slices.Equal(g.Groups.Sorted(), h.Groups.Sorted()) {
				t.Fatalf("drawer %d: another result on %d workers, %v", seed, workers, err)
			}
		}
		if plain.BestScore() == 0 {
			continue
		}
		asked++
		if h.BestScore() == plain.BestScore() {
			found++
		}
		if h.BestScore() > plain.BestScore() {
			t.Errorf("drawer %d: %g, enumeration %g", seed, h.BestScore(), plain.BestScore())
		}
	}
	if t.Logf("%d of %d", found, asked); asked < synthetic.Of(30) || 10*found < 9*asked {
		t.Errorf("found %d of %d", found, asked)
	}
}

// limited is a space with a limit at the median of a figure; nil if nothing has the figure.
func limited(t *testing.T, p space.Problem, q figure.Quantity, most bool) *space.Space {
	t.Helper()
	s, err := space.New(context.Background(), p, 2)
	if err != nil {
		t.Fatal(err)
	}
	var values []float64
	s.Each(func(c space.Candidate) bool {
		craft := s.Craft(c)
		performance := craft.Evaluate(&p.Style.Flying)
		if value, why := performance.Figure(q); why == physics.Defined {
			values = append(values, value)
		}
		return len(values) < 2000
	})
	if len(values) == 0 {
		return nil
	}
	slices.Sort(values)
	r := objective.Range{Low: values[len(values)/2], High: math.Inf(1)}
	if most {
		r = objective.Range{Low: math.Inf(-1), High: values[len(values)/2]}
	}
	style := p.Style
	style.Limits = append(slices.Clone(style.Limits), objective.Limit{Quantity: q, Range: r})
	return s.InStyle(style)
}

// Property: what a proof or a longer search starts from is never lost: its list is at no place worse than that of the
// search that came first.
func TestProofKeepsWhatWasFoundFirst(t *testing.T) {
	ctx := context.Background()
	compared := 0
	for seed := range uint64(synthetic.Of(30)) {
		s := laidOut(t, synthetic.Generate(9500+seed, synthetic.Sizes{8, 8, 8, 4, 3}, seed%2 == 0),
			objective.PresetNames()[seed%4])
		o := Options{Top: 5, Workers: 2, Seed: seed, MaxEvals: 200}
		first, err := Genetic(ctx, s, &o)
		if err != nil {
			t.Fatal(err)
		}
		o.MaxProof = 1 // given up at once
		p, err := proveFrom(ctx, s, &o, 200)
		if err != nil {
			t.Fatal(err)
		}
		for i := range first.Best.List {
			compared++
			if i >= len(p.Best.List) || p.Best.List[i].Order(&first.Best.List[i]) > 0 {
				t.Errorf("drawer %d, place %d is lost", seed, i+1)
			}
		}
	}
	if compared < synthetic.Of(60) {
		t.Errorf("only %d places", compared)
	}
}
