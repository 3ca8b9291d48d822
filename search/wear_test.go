package search

import (
	"context"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Property: a pack noted as puffed is ranked nowhere and counted under its own reason; given as sound it
// ranks as it would, with the danger as its first note; nothing else changes.
func TestAPuffedPackIsNotRanked(t *testing.T) {
	d := synthetic.ExampleDrawer(t, "racer.yaml")
	p := problem(t, d, "race")
	search := func() *Ranking {
		return searched(t, p, Options{Top: 8, Draws: 2})
	}
	before := search()
	pack := d.Pack(before.Best[0].Combination.Pack.ID)
	pack.Note = "puffed after the May race"
	without := search()
	for _, list := range [][]predict.Result{without.Best, without.Front} {
		for i := range list {
			if list[i].Combination.Pack == pack {
				t.Fatalf("pack %s is ranked", pack.ID)
			}
		}
	}
	if n := fallenTo(without, "worn pack"); n == 0 || without.Candidates != before.Candidates || fallenTo(before,
		"worn pack") != 0 {
		t.Errorf("of %d candidates (before %d) %d fell to a worn pack", without.Candidates, before.Candidates, n)
	}
	for _, s := range neighbourhood(d, &without.Best[0].Combination) {
		if s.Combination.Pack == pack {
			t.Errorf("a swap leads to pack %s", pack.ID)
		}
	}
	pack.Condition = inventory.ConditionSound
	sound := search()
	for i := range sound.Best {
		got, want := &sound.Best[i], &before.Best[i]
		if got.Combination.Key() != want.Combination.Key() || got.Evaluation.Score != want.Evaluation.Score {
			t.Fatalf("given as sound, rank %d is %s, want %s", i+1, got.Combination.Key(), want.Combination.Key())
		}
		if got.Combination.Pack == pack && !slices.ContainsFunc(got.Remarks,
			func(f compat.Finding) bool { return f.Rule == compat.RuleWear }) && check.Dangers(&got.Combination) == nil {
			t.Errorf("rank %d does not note the danger: %v", i+1, got.Remarks)
		}
	}
}

// Property: where every pack is worn nothing is feasible, all candidates that else fit fall to that, and
// what comes nearest says so.
func TestAllPacksWorn(t *testing.T) {
	d := synthetic.Club(t)
	for i := range d.Packs {
		d.Packs[i].Condition = inventory.ConditionRetired
	}
	r := searched(t, problem(t, d, "freestyle"), Options{Draws: 2})
	if len(r.Best) > 0 || len(r.NearMisses) == 0 || fallenTo(r, "worn pack") == 0 {
		t.Fatalf("%d results, %d misses, %v", len(r.Best), len(r.NearMisses), r.Infeasible)
	}
	for i := range r.NearMisses {
		if !slices.ContainsFunc(r.NearMisses[i].Misfits,
			func(m predict.Misfit) bool { return m.Finding.Rule == compat.RuleWear }) {
			t.Errorf("%+v", r.NearMisses[i].Misfits)
		}
	}
}

// Property: parts that are thought up are new ones: they carry no note, and no wear.
func TestHypotheticalPacksAreNew(t *testing.T) {
	d := synthetic.Club(t)
	for i := range d.Packs {
		d.Packs[i].Note = "puffed"
	}
	m := hypothetical(d)
	for i := range m.drawer.Packs[m.owned[packKind]:] {
		if p := &m.drawer.Packs[m.owned[packKind]+i]; p.Note != "" || p.Wear().Sign != inventory.NoWear {
			t.Errorf("pack %s: %q, %v", p.ID, p.Note, p.Wear())
		}
	}
}

func searched(t *testing.T, p space.Problem, o Options) *Ranking {
	t.Helper()
	s, err := space.New(context.Background(), p, 0)
	if err != nil {
		t.Fatal(err)
	}
	r, err := rank(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func fallenTo(r *Ranking, reason string) int64 {
	for _, one := range r.Infeasible {
		if one.Reason == reason {
			return one.Count
		}
	}
	return 0
}
