package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
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

// Property: packs of round cells come in whole rows of them (common practice, no source: 21700 cells have 4 to 5 Ah), and
// what a pack's label allows goes with its rows.
func TestHypotheticalRowsOfCells(t *testing.T) {
	amps := 30.0
	for _, c := range []struct {
		capacity, c float64
		want        string
	}{{4000, 7.5, "row-up 8000 60 A"}, {8000, 3.75, "row-up 12000 45 A, row-down 4000 15 A, amps-up 8000 45 A"}} {
		d := synthetic.Club(t)
		d.Packs = []inventory.Pack{{Part: inventory.Part{ID: "k"}, Cells: 6, CapacityMAh: c.capacity, DischargeC: c.c,
			DischargeA: &amps, Chemistry: inventory.LiIon}}
		var got []string
		for _, p := range hypothetical(d).drawer.Packs[1:] {
			if p.Cells == 6 {
				got = append(got, fmt.Sprintf("%s %.0f %.0f A", strings.TrimPrefix(p.ID, "k."), p.CapacityMAh, p.DischargeC*p.CapacityMAh/1000))
				if one := *p.DischargeA; math.Abs(one-p.DischargeC*p.CapacityMAh/1000) > 1e-9 {
					t.Errorf("%s: %g A on the label", p.ID, one)
				}
			}
		}
		if all := strings.Join(got, ", "); all != c.want {
			t.Errorf("%g mAh: %s, want %s", c.capacity, all, c.want)
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
