package space

import (
	"context"
	"math/rand/v2"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
)

func problem(t testing.TB, d *inventory.Drawer, style string) Problem {
	t.Helper()
	air, s := synthetic.AirAndStyle(t, d, style)
	return Problem{Drawer: d, Air: air, Style: s}
}

// laidOut lays out a drawer for a style.
func laidOut(t testing.TB, d *inventory.Drawer, style string, with ...string) *Space {
	t.Helper()
	p := problem(t, d, style)
	p.With = with
	s, err := New(context.Background(), p, 2)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Property: counting without visiting gives what visiting every product of types gives, rule by
// rule, on random drawers with and without a wanted role, with counts, and with frames and boards twice.
func TestCountsAgainstVisits(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for seed := range uint64(120) {
		d := synthetic.Generate(seed, synthetic.Small(rng), seed%3 == 0)
		if seed%4 == 1 {
			synthetic.AddBodyTwins(d, rng)
		}
		for i := range d.Props {
			if rng.IntN(4) == 0 {
				n := rng.IntN(7)
				d.Props[i].Count = &n
				d.Props[i].Directions = &inventory.Directions{Clockwise: n / 3, Counterclockwise: n - n/3}
			}
		}
		for i := range d.Motors {
			if rng.IntN(4) == 0 {
				n := rng.IntN(7)
				d.Motors[i].Count = &n
			}
		}
		var with []string
		if seed%2 == 0 {
			with = []string{"camera"}
		}
		s := laidOut(t, d, "cruise", with...)
		var candidates, fitted int64
		fit := map[string]bool{}
		var fallen [compat.RuleEnd]int64
		synthetic.Every(d, with, func(c inventory.Combination) {
			candidates++
			if r := compat.FirstFault(&c); r == compat.NoRule {
				fitted++
				fit[c.Key()] = true
			} else {
				fallen[r]++
			}
		})
		if s.Candidates != candidates || s.Fitted != fitted || s.Excluded != fallen {
			t.Fatalf("drawer %d: counted %d, %d fit, fallen %v; visited %d, %d fit, fallen %v", seed, s.Candidates, s.Fitted,
				s.Excluded, candidates, fitted, fallen)
		}
		var each int64
		s.Each(func(c Candidate) bool {
			each++
			made := s.Combination(c)
			if compat.FirstFault(&made) != compat.NoRule || !s.FitsTogether(c) || !fit[made.Key()] {
				t.Fatalf("drawer %d: %s does not fit", seed, made.Key())
			}
			return true
		})
		if each != fitted {
			t.Fatalf("drawer %d: yielded %d candidates, %d fit", seed, each, fitted)
		}
	}
}

// Independent: a candidate put together from tables is the craft that its combination converts to.
func TestTablesAgainstConversion(t *testing.T) {
	sizes := synthetic.Sizes{3, 3, 3, 4, 4}
	twins, learned := synthetic.Generate(6, sizes, true), synthetic.Generate(7, sizes, true)
	rng := rand.New(rand.NewPCG(6, 7))
	synthetic.AddBodyTwins(twins, rng)
	synthetic.AddBodyTwins(learned, rng)
	synthetic.Correct(learned, rng)
	for _, d := range []*inventory.Drawer{
		synthetic.Club(t), synthetic.Generate(5, synthetic.Sizes{8, 8, 8, 4, 4}, true), twins, learned,
	} {
		s := laidOut(t, d, "freestyle", "camera")
		n := 0
		s.Each(func(c Candidate) bool {
			if n++; n%37 != 0 {
				return true
			}
			made := s.Combination(c)
			want, err := made.Craft(s.Propeller(c))
			if err != nil {
				t.Fatal(err)
			}
			got := s.Craft(c)
			got.Uncertainty, want.Uncertainty = uncertain.Budget{}, uncertain.Budget{}
			if *got.Known != want.Standard() {
				t.Fatalf("%s: %+v is remembered as its standard, not %+v", made.Key(), *got.Known, want.Standard())
			}
			got.Known = nil
			if got != want {
				t.Fatalf("%s:\n%+v\n%+v", made.Key(), got, want)
			}
			return true
		})
	}
}

// A wanted role takes exactly one extra of its role, whatever else is on board.
func TestWantedRoles(t *testing.T) {
	s := laidOut(t, synthetic.Generate(7, synthetic.Sizes{4, 4, 4, 2, 2}, true), "cruise", "camera")
	bare := laidOut(t, synthetic.Generate(7, synthetic.Sizes{4, 4, 4, 2, 2}, true), "cruise")
	if s.Candidates != 2*bare.Candidates {
		t.Errorf("two cameras to choose from make %d candidates of %d", s.Candidates, bare.Candidates)
	}
	s.Each(func(c Candidate) bool {
		cameras := 0
		for _, e := range s.Combination(c).Extras {
			if e.Role == inventory.Camera {
				cameras++
			}
		}
		if cameras != 1 {
			t.Fatalf("%d cameras on board", cameras)
		}
		return true
	})
	none := laidOut(t, synthetic.Generate(7, synthetic.Sizes{4, 4, 4, 2, 2}, true), "cruise", "antenna")
	if none.Fitted != 0 || none.Excluded[compat.RuleCount] != none.Candidates || none.Candidates == 0 {
		t.Errorf("an antenna that nobody owns: %d of %d fit, %v", none.Fitted, none.Candidates, none.Excluded)
	}
	p := problem(t, synthetic.Club(t), "cruise")
	p.With = []string{"engine"}
	if _, err := New(context.Background(), p, 0); err == nil {
		t.Error("an unknown role is taken")
	}
}

// A drawer that lacks a kind of part, and a style that is none, are errors that say so.
func TestNewSpaceErrors(t *testing.T) {
	p := problem(t, &inventory.Drawer{Name: "empty.yaml"}, "cruise")
	if _, err := New(context.Background(), p,
		0); err == nil || err.Error() != "no build is possible: empty.yaml holds no motors, props, packs, frames, boards" {
		t.Errorf("got %v", err)
	}
	p = problem(t, synthetic.Club(t), "cruise")
	p.Style.Weights = objective.Weights{}
	if _, err := New(context.Background(), p, 0); err == nil {
		t.Error("a style without weights is taken")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := New(ctx, problem(t, synthetic.Club(t), "cruise"), 0); err != context.Canceled {
		t.Errorf("got %v after an interrupt", err)
	}
}
