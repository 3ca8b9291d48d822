package space

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
)

// Two packs are of one class if nothing that a pilot notes of them tells them apart.
func TestTwinPacks(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	base := inventory.Pack{Part: inventory.Part{ID: "k1"}, Cells: 4, CapacityMAh: 850, DischargeC: 95, Connector: "XT30",
		MassG: num(98), CellResistanceMohm: num(7)}
	worn := 400
	for _, c := range []struct {
		name   string
		change func(*inventory.Pack)
		twins  bool
	}{
		{"the same again", func(*inventory.Pack) {}, true},
		{"a gram more", func(p *inventory.Pack) { p.MassG = num(99) }, true},
		{"a tenth more", func(p *inventory.Pack) { p.MassG = num(108) }, false},
		{"not weighed", func(p *inventory.Pack) { p.MassG = nil }, true},
		{"another printed C", func(p *inventory.Pack) { p.DischargeC = 110 }, true},
		{"half the printed C", func(p *inventory.Pack) { p.DischargeC = 45 }, false},
		{"8 instead of 7 mΩ a cell", func(p *inventory.Pack) { p.CellResistanceMohm = num(8) }, true},
		{"14 instead of 7 mΩ a cell", func(p *inventory.Pack) { p.CellResistanceMohm = num(14) }, false},
		{"another plug", func(p *inventory.Pack) { p.Connector = "XT60" }, false},
		{"LiHV", func(p *inventory.Pack) { p.Chemistry = inventory.LiHV }, false},
		{"LiPo written out", func(p *inventory.Pack) { p.Chemistry = inventory.LiPo }, true},
		{"50 mAh more", func(p *inventory.Pack) { p.CapacityMAh = 900 }, false},
		{"to be retired", func(p *inventory.Pack) { p.Condition = inventory.ConditionRetired }, false},
	} {
		d := synthetic.Generate(1, synthetic.Sizes{2, 2, 1, 2, 2}, true)
		other := base
		other.ID = "k2"
		c.change(&other)
		d.Packs = []inventory.Pack{base, other}
		s := laidOut(t, d, "cruise")
		if got := s.classOf[0] == s.classOf[1]; got != c.twins {
			t.Errorf("%s: one class %v, want %v", c.name, got, c.twins)
		}
	}
	// By the law of ageing alone: 400 flights are more than the doubt of a new pack's resistance.
	d := synthetic.Generate(1, synthetic.Sizes{2, 2, 1, 2, 2}, true)
	fresh, old := base, base
	fresh.CellResistanceMohm, old.CellResistanceMohm, old.Cycles, old.ID = nil, nil, &worn, "k2"
	d.Packs = []inventory.Pack{fresh, old}
	if s := laidOut(t, d, "cruise"); s.classOf[0] == s.classOf[1] {
		t.Error("a pack of 400 flights counts as a twin of a new one")
	}
}

// Property: classes part the packs; those of one class are twins of each other; and neither names nor the order
// in the drawer change them.
func TestClassesHangOnContent(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	merged := 0
	for seed := range uint64(40) {
		d := synthetic.Generate(6000+seed, synthetic.Sizes{2, 2, 12, 2, 2}, true)
		synthetic.AddTwins(d, rng)
		classes := func(d *inventory.Drawer) map[string]string {
			s := laidOut(t, d, "cruise")
			of := map[string]string{}
			for k, class := range s.classOf {
				if s.classOf[class] != class || class > int32(k) {
					t.Fatalf("drawer %d: pack %d is of class %d, which is of class %d", seed, k, class, s.classOf[class])
				}
				of[s.Packs[k].Note] = s.Packs[class].Note
				if int(class) < k {
					merged++
				}
			}
			// Named by the least member's mark, whatever it is called.
			least := map[string]string{}
			for mark, class := range of {
				if now, ok := least[class]; !ok || mark < now {
					least[class] = mark
				}
			}
			for mark, class := range of {
				of[mark] = least[class]
			}
			return of
		}
		for i := range d.Packs {
			d.Packs[i].Note = fmt.Sprintf("mark %02d", i)
		}
		before := classes(d)
		other := *d
		other.Packs = slices.Clone(d.Packs)
		rng.Shuffle(len(other.Packs), func(i, j int) { other.Packs[i], other.Packs[j] = other.Packs[j], other.Packs[i] })
		for i := range other.Packs {
			other.Packs[i].ID = fmt.Sprintf("p%08x", rng.Uint32())
		}
		after := classes(&other)
		for mark, class := range before {
			if after[mark] != class {
				t.Fatalf("drawer %d: %s is of class %s, renamed and shuffled of %s", seed, mark, class, after[mark])
			}
		}
	}
	if merged < 40 {
		t.Errorf("only %d packs have an earlier twin", merged)
	}
}

// A group's members are the candidates that fit and have its key, each once.
func TestMembersAreTheGroup(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	most := 0
	for seed := range uint64(12) {
		d := synthetic.Generate(6100+seed, synthetic.Small(rng), seed%2 == 0)
		synthetic.AddTwins(d, rng)
		s := laidOut(t, d, "cruise")
		want := map[Group]int{}
		s.Each(func(c Candidate) bool { want[s.Group(c)]++; return true })
		for g, n := range want {
			for c := range s.Members(g) {
				if s.Group(c) != g || !s.FitsTogether(c) {
					t.Fatalf("drawer %d: %v is no member of %v", seed, c, g)
				}
				n--
			}
			if n != 0 {
				t.Fatalf("drawer %d: %v has %d members too few", seed, g, n)
			}
			most = max(most, want[g])
		}
	}
	if most < 4 {
		t.Errorf("the largest group has %d members", most)
	}
}
