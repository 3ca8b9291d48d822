package search

import (
	"context"
	"math/rand/v2"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/uncertain"
)

// small draws the sizes of a drawer that can be looked at whole.
func small(rng *rand.Rand) sizes {
	return sizes{2 + rng.IntN(5), 2 + rng.IntN(5), 2 + rng.IntN(5), 1 + rng.IntN(3), 1 + rng.IntN(3)}
}

// space lays out a generated drawer for a style.
func space(t testing.TB, d *inventory.Drawer, style string, with ...string) *Space {
	t.Helper()
	p := problem(t, d, style)
	p.With = with
	s, err := NewSpace(context.Background(), p, 2)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Property: counting without visiting gives what visiting every product of types gives, rule by
// rule, on random drawers with and without a wanted role and with counts.
func TestCountsAgainstVisits(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for seed := range uint64(120) {
		d := generate(seed, small(rng), seed%3 == 0)
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
		s := space(t, d, "cruise", with...)
		var candidates, fitted int64
		var fallen [inventory.RuleEnd]int64
		visit(s, func(c inventory.Combination) {
			candidates++
			if r := c.FirstFault(); r == inventory.NoRule {
				fitted++
			} else {
				fallen[r]++
			}
		})
		if s.candidates != candidates || s.fitted != fitted || s.fallen != fallen {
			t.Fatalf("drawer %d: counted %d, %d fit, fallen %v; visited %d, %d fit, fallen %v", seed, s.candidates, s.fitted, s.fallen, candidates, fitted, fallen)
		}
		var each int64
		s.each(func(c candidate) bool {
			each++
			made := s.combination(c)
			if made.FirstFault() != inventory.NoRule || !s.fitsTogether(c) {
				t.Fatalf("drawer %d: %s does not fit", seed, made.Key())
			}
			return true
		})
		if each != fitted {
			t.Fatalf("drawer %d: yielded %d candidates, %d fit", seed, each, fitted)
		}
	}
}

// visit goes through the product of types with enough pieces and the extras' choices, the plain
// way.
func visit(s *Space, yield func(inventory.Combination)) {
	for _, f := range s.frames {
		enough := func(n *int) bool { return n == nil || *n >= f.RotorCount() }
		for _, b := range s.boards {
			choices, _ := s.loadouts(f, b)
			for _, m := range s.motors {
				if !enough(m.Count) || (&inventory.Combination{Motor: m, Frame: f}).FirstFault() == inventory.RuleCount {
					continue
				}
				for _, p := range s.props {
					if !enough(p.Count) {
						continue
					}
					for _, k := range s.packs {
						for _, l := range choices {
							c := inventory.Combination{Motor: m, Prop: p, Pack: k, Frame: f, Board: b, Extras: append([]*inventory.Extra(nil), l.extras...)}
							adapters, _ := s.problem.Drawer.Bridges(&c)
							c.Extras = append(c.Extras, adapters...)
							yield(c)
						}
					}
				}
			}
		}
	}
}

// Independent: a candidate put together from tables is the craft that its combination converts to.
func TestTablesAgainstConversion(t *testing.T) {
	for _, d := range []*inventory.Drawer{club(t), generate(5, sizes{8, 8, 8, 4, 4}, true)} {
		s := space(t, d, "freestyle")
		n := 0
		s.each(func(c candidate) bool {
			if n++; n%37 != 0 {
				return true
			}
			made := s.combination(c)
			want, err := made.Craft(s.si.propellers[c.prop])
			if err != nil {
				t.Fatal(err)
			}
			got := s.craft(c)
			got.Uncertainty, want.Uncertainty = uncertain.Budget{}, uncertain.Budget{}
			if got != want {
				t.Fatalf("%s:\n%+v\n%+v", made.Key(), got, want)
			}
			return true
		})
	}
}

// A wanted role takes exactly one extra of its role, whatever else is on board.
func TestWantedRoles(t *testing.T) {
	s := space(t, generate(7, sizes{4, 4, 4, 2, 2}, true), "cruise", "camera")
	bare := space(t, generate(7, sizes{4, 4, 4, 2, 2}, true), "cruise")
	if s.candidates != 2*bare.candidates {
		t.Errorf("two cameras to choose from make %d candidates of %d", s.candidates, bare.candidates)
	}
	s.each(func(c candidate) bool {
		cameras := 0
		for _, e := range s.combination(c).Extras {
			if e.Role == inventory.Camera {
				cameras++
			}
		}
		if cameras != 1 {
			t.Fatalf("%d cameras on board", cameras)
		}
		return true
	})
	none := space(t, generate(7, sizes{4, 4, 4, 2, 2}, true), "cruise", "antenna")
	if none.fitted != 0 || none.fallen[inventory.RuleCount] != none.candidates || none.candidates == 0 {
		t.Errorf("an antenna that nobody owns: %d of %d fit, %v", none.fitted, none.candidates, none.fallen)
	}
	p := problem(t, club(t), "cruise")
	p.With = []string{"engine"}
	if _, err := NewSpace(context.Background(), p, 0); err == nil {
		t.Error("an unknown role is taken")
	}
}

// Property: whatever is asked for, repair gives a candidate that fits and holds the held gene, or
// says that the held part fits nowhere.
func TestRepair(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for seed := range uint64(40) {
		s := space(t, generate(seed, small(rng), seed%2 == 0), "cruise")
		if s.fitted == 0 {
			continue
		}
		fitsSomewhere := map[gene]map[int32]bool{}
		at := func(c candidate, g gene) int32 { return [...]int32{c.motor, c.prop, c.pack, c.body}[g] }
		s.each(func(c candidate) bool {
			for g := range genes {
				if fitsSomewhere[g] == nil {
					fitsSomewhere[g] = map[int32]bool{}
				}
				fitsSomewhere[g][at(c, g)] = true
			}
			return true
		})
		o := s.layOrders()
		for range 200 {
			want := candidate{int32(rng.IntN(len(s.motors))), int32(rng.IntN(len(s.props))), int32(rng.IntN(len(s.packs))), int32(rng.IntN(len(s.bodies)))}
			held := gene(rng.IntN(int(genes)))
			got, ok := s.repair(o, want, held)
			if ok != fitsSomewhere[held][at(want, held)] {
				t.Fatalf("drawer %d: repairing %v holding %d: %v", seed, want, held, ok)
			}
			if ok && (!s.fitsTogether(got) || at(got, held) != at(want, held)) {
				t.Fatalf("drawer %d: %v became %v, holding %d", seed, want, got, held)
			}
		}
	}
}

// A drawer that lacks a kind of part, and a style that is none, are errors that say so.
func TestNewSpaceErrors(t *testing.T) {
	p := problem(t, &inventory.Drawer{Name: "empty.yaml"}, "cruise")
	if _, err := NewSpace(context.Background(), p, 0); err == nil || err.Error() != "nothing can be put together: the drawer empty.yaml holds no motors, props, packs, frames and boards; a craft takes motors, props, a pack, a frame and a board" {
		t.Errorf("got %v", err)
	}
	p = problem(t, club(t), "cruise")
	p.Style.Weights = objective.Weights{}
	if _, err := NewSpace(context.Background(), p, 0); err == nil {
		t.Error("a style without weights is taken")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := NewSpace(ctx, problem(t, club(t), "cruise"), 0); err != context.Canceled {
		t.Errorf("got %v after an interrupt", err)
	}
}
