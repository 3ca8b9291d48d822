package search

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// counted gives the parts of a generated drawer counts at random, so that crafts compete for them.
func counted(d *inventory.Drawer, rng *rand.Rand) *inventory.Drawer {
	n := func(k int) *int { return &k }
	for i := range d.Motors {
		d.Motors[i].Count = n(3 + rng.IntN(6))
	}
	for i := range d.Props {
		k := 4 + rng.IntN(6)
		d.Props[i].Count = n(k)
		if rng.IntN(2) == 0 {
			d.Props[i].Directions = &inventory.Directions{Clockwise: k / 2, Counterclockwise: k - k/2}
		}
	}
	for i := range d.Packs {
		if rng.IntN(3) > 0 {
			d.Packs[i].Count = n(1 + rng.IntN(2))
		}
	}
	for i := range d.Frames {
		d.Frames[i].Count = n(1 + rng.IntN(2))
	}
	for i := range d.Boards {
		d.Boards[i].Count = n(1 + rng.IntN(2))
	}
	for i := range d.Extras {
		d.Extras[i].Count = n(1 + rng.IntN(3))
	}
	return d
}

func wishes(t *testing.T, names ...string) []Wish {
	t.Helper()
	var list []Wish
	for _, name := range names {
		s, ok := objective.Preset(name)
		if !ok {
			t.Fatal(name)
		}
		list = append(list, Wish{Style: s})
	}
	return list
}

// Property: no plan takes more pieces than the drawer holds; what is left and what is used add up;
// and the plan is as good as the best of all choices tried one by one.
func TestPlanAgainstEveryChoice(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	met, unmet := 0, 0
	for seed := range uint64(synthetic.Of(60)) {
		d := counted(synthetic.Generate(5000+seed, synthetic.Sizes{4, 4, 4, 3, 3}, seed%4 > 0), rng)
		p := problem(t, d, "cruise")
		plan := PlanProblem{Drawer: d, Air: p.Air, Wishes: wishes(t, "cruise", "race", "freestyle")[:2+seed%2],
			SharePacks: seed%3 == 0, Aim: Aim(seed % 2)}
		got, err := MakePlan(context.Background(), plan, Options{Draws: 2})
		if err != nil || !got.Proven {
			t.Fatal(err, got)
		}
		used := map[string]int{}
		var best allocated
		best.choice = make([]int, len(plan.Wishes))
		for _, c := range got.Crafts {
			if c.Result == nil {
				unmet++
				if c.Unmet.Fitted == 0 && c.Unmet.Candidates == 0 && len(c.Unmet.Shortages) == 0 {
					t.Errorf("drawer %d: wish %s is not met and nothing runs out", seed, c.Wish.Name)
				}
				continue
			}
			met++
			best.add(c.Result.Evaluation.Score)
			spend(&c.Result.Combination, used, plan.SharePacks)
		}
		for _, l := range got.LeftOver {
			if !l.Uncounted {
				used[string(l.Kind)+" "+l.ID] += l.Pieces
			}
		}
		for _, kind := range []inventory.Kind{inventory.KindMotor, inventory.KindProp, inventory.KindPack,
			inventory.KindFrame, inventory.KindBoard, inventory.KindExtra} {
			for _, id := range d.IDs(kind) {
				if n := piecesOf(d, kind, id); n >= 0 && used[string(kind)+" "+id] != n {
					t.Fatalf("drawer %d: of %s %s %d are used or left, there are %d", seed, kind, id, used[string(kind)+" "+id], n)
				}
			}
		}

		stock := space.NewStock(d, plan.SharePacks)
		a := allocation{stock: stock, aim: plan.Aim}
		for i := range plan.Wishes {
			s, err := space.New(context.Background(), space.Problem{Drawer: d, Air: p.Air, Style: plan.Wishes[i].Style}, 1)
			if err != nil {
				t.Fatal(err)
			}
			list, _, _, err := feasibleSorted(context.Background(), s, &Options{Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			a.wishes = append(a.wishes, claims(stock, s, list))
		}
		var every func(at int, so allocated, left []int) allocated
		every = func(at int, so allocated, left []int) allocated {
			if at == len(a.wishes) {
				return so
			}
			top := every(at+1, so, left)
			for i := range a.wishes[at] {
				if c := &a.wishes[at][i]; c.fits(a.stock, left) {
					next := so
					next.add(c.Evaluation.Score)
					c.take(left)
					if found := every(at+1, next, left); a.better(&found, &top) {
						top = found
					}
					c.giveBack(left)
				}
			}
			return top
		}
		want := every(0, allocated{}, stock.Fresh())
		if best.met != want.met || math.Abs(best.total-want.total) > 1e-9 || math.Abs(best.worst-want.worst) > 1e-9 {
			t.Fatalf("drawer %d: %d met, total %g, worst %g; every choice gives %d, %g, %g", seed, best.met, best.total,
				best.worst, want.met, want.total, want.worst)
		}
	}
	if met < synthetic.Of(40) || unmet < synthetic.Of(10) {
		t.Errorf("%d wishes met, %d not", met, unmet)
	}
}

// spend adds a craft's pieces to what is used.
func spend(c *inventory.Combination, used map[string]int, sharePacks bool) {
	n := c.Rotors()
	if m := c.Motor.Mixed; m != nil {
		a, b := m.Pieces(n)
		used["motor "+m.A.ID] += a
		used["motor "+m.B.ID] += b
	} else {
		used["motor "+c.Motor.ID] += n
	}
	used["prop "+c.Prop.ID] += n
	if !sharePacks {
		used["pack "+c.Pack.ID]++
	}
	used["frame "+c.Frame.ID]++
	used["board "+c.Board.ID]++
	for _, e := range c.Extras {
		used["extra "+e.ID]++
	}
}

// piecesOf is the count of a part, −1 if it is not given.
func piecesOf(d *inventory.Drawer, kind inventory.Kind, id string) int {
	var n *int
	switch kind {
	case inventory.KindMotor:
		n = d.Motor(id).Count
	case inventory.KindProp:
		n = d.Prop(id).Count
	case inventory.KindPack:
		n = d.Pack(id).Count
	case inventory.KindFrame:
		n = d.Frame(id).Count
	case inventory.KindBoard:
		n = d.Board(id).Count
	default:
		n = d.Extra(id).Count
	}
	if n == nil {
		return -1
	}
	return *n
}

// A wish that cannot be met says what runs out and who takes it.
func TestPlanSaysWhatRunsOut(t *testing.T) {
	d := synthetic.Club(t)
	p := problem(t, d, "race")
	got, err := MakePlan(context.Background(),
		PlanProblem{Drawer: d, Air: p.Air, Wishes: wishes(t, "race", "cruise", "indoor")}, Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range got.Crafts {
		if c.Result == nil {
			t.Errorf("%s: %v", c.Wish.Name, c.Unmet)
		}
	}
	limit, _ := objective.ParseLimit("all_up_g=440..")
	fast := wishes(t, "race", "race", "race", "race")
	for i := range fast {
		fast[i].Style = fast[i].Style.With(limit)
		fast[i].Name = []string{"first", "second", "third", "fourth"}[i]
	}
	got, err = MakePlan(context.Background(), PlanProblem{Drawer: d, Air: p.Air, Wishes: fast, Aim: BestWorst},
		Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	unmet := 0
	for _, c := range got.Crafts {
		if c.Result == nil {
			unmet++
			t.Log(c.Wish.Name, c.Unmet)
		}
	}
	if unmet == 0 {
		t.Error("four heavy racers come out of three frames that carry one")
	}
	if _, err := MakePlan(context.Background(), PlanProblem{Drawer: d, Air: p.Air}, Options{}); err == nil {
		t.Error("a plan without wishes is taken")
	}
}
