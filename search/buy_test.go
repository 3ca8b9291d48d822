package search

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// bestScore is the best score of a drawer, 0 if nothing is feasible.
func bestScore(t *testing.T, d *inventory.Drawer, style string) float64 {
	t.Helper()
	r := search(t, laidOut(t, d, style), Options{Method: Exact, Top: 1, Draws: 2})
	if len(r.Best) == 0 {
		return 0
	}
	return r.Best[0].Evaluation.Score
}

// asOffer reads parts as an offer, through the reader.
func asOffer(t *testing.T, text string) *inventory.Offer {
	t.Helper()
	offer, err := inventory.ReadOffer("offer.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return offer
}

// shop reads the example of an offer.
func shop(t *testing.T) *inventory.Offer {
	t.Helper()
	text, err := examples.Files.ReadFile("shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return asOffer(t, string(text))
}

// Independent: what a purchase gains is what ranking the drawer with the bought parts put in gains,
// for every single part and every pair.
func TestBuyAgainstRanking(t *testing.T) {
	offer := shop(t)
	d := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	p := problem(t, d, "cruise")
	got, err := Buy(context.Background(), p, offer, Options{Top: 100, Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	with := func(parts ...Offered) *inventory.Drawer {
		m := offerOf(d, offer) // for the outfits
		all := *d
		all.Extras = slices.Clone(m.drawer.Extras)
		for _, part := range parts {
			switch part.Kind {
			case inventory.KindMotor:
				all.Motors = append(slices.Clone(all.Motors), *offer.Parts.Motor(part.ID))
			case inventory.KindProp:
				all.Props = append(slices.Clone(all.Props), *offer.Parts.Prop(part.ID))
			case inventory.KindPack:
				all.Packs = append(slices.Clone(all.Packs), *offer.Parts.Pack(part.ID))
			case inventory.KindFrame:
				all.Frames = append(slices.Clone(all.Frames), *offer.Parts.Frame(part.ID))
			case inventory.KindBoard:
				all.Boards = append(slices.Clone(all.Boards), *offer.Parts.Board(part.ID))
			default:
				all.Extras = append(slices.Clone(all.Extras), *offer.Parts.Extra(part.ID))
			}
		}
		return &all
	}
	before := bestScore(t, with(), "cruise")
	if got.Before == nil || math.Abs(got.Before.Evaluation.Score-before) > 1e-12 || !got.Proven {
		t.Fatalf("before: %+v, ranking gives %g", got.Before, before)
	}
	parts := offerOf(d, offer).parts
	single := map[string]float64{}
	for _, part := range parts {
		single[part.ID] = bestScore(t, with(part), "cruise") - before
	}
	seen := map[string]bool{}
	for _, one := range got.Singles {
		id := one.Parts[0].ID
		seen[id] = true
		if math.Abs(one.Gain-single[id]) > 1e-12 {
			t.Errorf("%s gains %g, ranking gives %g", id, one.Gain, single[id])
		}
	}
	for id, gain := range single {
		if gain > 1e-12 && !seen[id] {
			t.Errorf("%s gains %g and is not listed", id, gain)
		}
	}
	listed := map[[2]string]float64{}
	for _, pair := range got.Pairs {
		listed[[2]string{pair.Parts[0].ID, pair.Parts[1].ID}] = pair.Gain
	}
	for i, a := range parts {
		for j, b := range parts[i+1:] {
			if a.Kind == inventory.KindExtra && b.Kind == inventory.KindExtra {
				continue // two adapters: see Buy
			}
			pair := [2]string{a.ID, b.ID}
			if _, ok := listed[pair]; !ok && (i+j)%3 > 0 && synthetic.Of(3) < 3 {
				continue // of those that are not listed a third
			}
			gain := bestScore(t, with(a, b), "cruise") - before
			most := max(single[a.ID], single[b.ID], 0)
			if have, ok := listed[pair]; gain > most+1e-9 && (!ok || math.Abs(have-gain) > 1e-9) {
				t.Errorf("%s and %s gain %g, listed with %g (%v)", a.ID, b.ID, gain, have, ok)
			}
		}
	}
	if len(listed) == 0 || len(seen) == 0 {
		t.Errorf("%d singles and %d pairs", len(seen), len(listed))
	}
}

// An adapter that unblocks a board says so; prices make gains per price.
func TestBuyUnblocks(t *testing.T) {
	d := synthetic.Generate(3, synthetic.Sizes{3, 3, 3, 1, 1}, true)
	d.Extras = nil
	d.Boards[0].StackMm, d.Frames[0].StackMm = inventory.Lengths{25.5}, inventory.Lengths{30.5}
	d.Boards[0].Cells = &inventory.CellRange{Min: 1, Max: 8}
	d.Boards[0].EscCurrentA = 60
	p := problem(t, d, "cruise")
	p.Style.Limits = nil
	offer := asOffer(t, `
extras:
  - {id: plate, role: adapter, mass_g: 1, use: optional, bridges: {what: stack_mm, from: 25.5, to: 30.5}, price: "4.00", currency: EUR}
`)
	got, err := Buy(context.Background(), p, offer, Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	if got.Before != nil || len(got.Singles) != 1 {
		t.Fatalf("before %v, singles %+v", got.Before, got.Singles)
	}
	one := got.Singles[0]
	if !slices.Contains(one.Unblocks, PartName{inventory.KindBoard,
		"b000"}) || one.Gain <= 0 || one.Price != 4 || one.Currency != "EUR" || math.Abs(one.PerPrice-one.Gain/4) > 1e-12 {
		t.Errorf("got %+v", one)
	}
	if !slices.ContainsFunc(one.Best.Combination.Extras, func(e *inventory.Extra) bool { return e.ID == "plate" }) {
		t.Error("the combination that becomes possible lacks the plate")
	}
}

// With no list, one step variations are tried, one at a time, and none is listed that gains nothing.
func TestBuyVariations(t *testing.T) {
	d := synthetic.ExampleDrawer(t, "racer.yaml")
	got, err := Buy(context.Background(), problem(t, d, "race"), nil, Options{Draws: 2, Top: 5})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Singles) == 0 || len(got.Singles) > 5 || len(got.Pairs) > 0 {
		t.Fatalf("%d singles, %d pairs", len(got.Singles), len(got.Pairs))
	}
	last := math.Inf(1)
	for _, one := range got.Singles {
		if one.Parts[0].Step == "" || one.Gain > last || one.Gain <= 0 && one.Unblocks == nil {
			t.Errorf("got %+v", one)
		}
		last = one.Gain
		t.Logf("%+.2f %s", one.Gain, one.Parts[0].ID)
	}
}

// Plans and purchases are the same on any number of workers.
func TestPlanAndBuyDeterminism(t *testing.T) {
	d := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	p := problem(t, d, "cruise")
	var plans []*Plan
	var lists []*Shopping
	for _, workers := range []int{1, 2, 8} {
		o := Options{Draws: 4, Workers: workers, Top: 4}
		plan, err := MakePlan(context.Background(),
			PlanProblem{Drawer: d, Air: p.Air, Wishes: wishes(t, "cruise", "indoor")}, o)
		if err != nil {
			t.Fatal(err)
		}
		list, err := Buy(context.Background(), p, nil, o)
		if err != nil {
			t.Fatal(err)
		}
		plans, lists = append(plans, plan), append(lists, list)
	}
	for i := range plans {
		if !reflect.DeepEqual(plans[0], plans[i]) {
			t.Errorf("plan %d differs", i)
		}
		if len(lists[0].Singles) == 0 || len(lists[i].Singles) != len(lists[0].Singles) {
			t.Fatalf("%d and %d purchases", len(lists[0].Singles), len(lists[i].Singles))
		}
		for k := range lists[i].Singles {
			a, b := lists[0].Singles[k], lists[i].Singles[k]
			if a.Parts[0] != b.Parts[0] || a.Gain != b.Gain || a.Best.Figures != b.Best.Figures ||
				a.Best.AheadShare != b.Best.AheadShare {
				t.Errorf("purchase %d differs: %+v, %+v", k, a.Parts, b.Parts)
			}
		}
	}
}

// A candidate is evaluated and judged without allocating.
func TestEvaluateAllocatesNothing(t *testing.T) {
	s := clubSpace(t, "race")
	s.Each(func(c space.Candidate) bool {
		if n := testing.AllocsPerRun(20, func() { s.Evaluate(c) }); n != 0 {
			t.Errorf("%g allocations", n)
		}
		return false
	})
}

// Property: a basket holds up to two parts in order, each once.
func TestBaskets(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for range 1000 {
		a, b := emptyBasket, emptyBasket
		want := map[int]bool{}
		ok := true
		for range rng.IntN(3) {
			part := rng.IntN(4)
			want[part] = true
			a, _ = a.with(part)
		}
		for range rng.IntN(3) {
			part := rng.IntN(4)
			want[part] = true
			b, _ = b.with(part)
		}
		l := load{b, true}
		got, ok := l.join(a, 2)
		if ok != (len(want) <= 2) {
			t.Fatalf("%v and %v: %v", a, b, ok)
		}
		if ok && (got.size() != len(want) || got[1] >= 0 && got[0] >= got[1]) {
			t.Fatalf("%v and %v make %v", a, b, got)
		}
	}
}

// Independent: of a drawer too large to be laid out with what could be bought, the best purchase gains what a proven
// ranking of the drawer with that part in it gains.
func TestBuyOfALargeDrawer(t *testing.T) {
	if testing.Short() {
		t.Skip("works out a whole proof")
	}
	d := synthetic.Generate(3, synthetic.Sizes{100, 100, 60, 40, 40}, false)
	if n := hypothetical(d).product(); n <= layWhole {
		t.Fatalf("%g sets are not too many", n)
	}
	got, err := Buy(context.Background(), problem(t, d, "freestyle"), nil, Options{Top: 3, Draws: 2, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if got.Proven || got.Why.Kind != PurchasesCut || got.Why.Most != shortList || len(got.Singles) == 0 {
		t.Fatalf("proven %v, %+v, %d purchases", got.Proven, got.Why, len(got.Singles))
	}
	one := got.Singles[0]
	m := hypothetical(d)
	all := *d
	for kind, name := range kinds {
		if name != one.Parts[0].Kind {
			continue
		}
		at := slices.Index(m.drawer.IDs(name), one.Parts[0].ID)
		if at < m.owned[kind] {
			t.Fatalf("%v is not among what can be bought", one.Parts)
		}
		switch name {
		case inventory.KindMotor:
			all.Motors = append(slices.Clone(d.Motors), m.drawer.Motors[at])
		case inventory.KindProp:
			all.Props = append(slices.Clone(d.Props), m.drawer.Props[at])
		case inventory.KindPack:
			all.Packs = append(slices.Clone(d.Packs), m.drawer.Packs[at])
		case inventory.KindFrame:
			all.Frames, all.Extras = append(slices.Clone(d.Frames), m.drawer.Frames[at]), m.drawer.Extras
		case inventory.KindBoard:
			all.Boards, all.Extras = append(slices.Clone(d.Boards), m.drawer.Boards[at]), m.drawer.Extras
		}
	}
	before, after := bestScore(t, d, "freestyle"), bestScore(t, &all, "freestyle")
	if math.Abs(got.Before.Evaluation.Score-before) > 0.05 || math.Abs(one.After-after) > 0.05 {
		t.Errorf("%s takes %.2f to %.2f, a ranking %.2f to %.2f", one.Parts[0].ID, got.Before.Evaluation.Score, one.After,
			before, after)
	}
}
