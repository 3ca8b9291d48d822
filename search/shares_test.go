package search

import (
	"fmt"
	"slices"
	"testing"

	"partsaloft/search/internal/synthetic"
)

// Property: shares, intervals and the order do not move when motors, props and packs are called otherwise and listed
// in another order.
func TestSharesDoNotHangOnNames(t *testing.T) {
	club := synthetic.Club(t)
	other := *club
	other.Motors, other.Props, other.Packs = slices.Clone(club.Motors), slices.Clone(club.Props), slices.Clone(club.Packs)
	other.Fleet, other.Log = nil, nil
	was := map[string]string{}
	rename := func(id *string, i int) {
		now := fmt.Sprintf("q%03d", (i*37+11)%307)
		was[now], *id = *id, now
	}
	for i := range other.Motors {
		rename(&other.Motors[i].ID, i)
	}
	for i := range other.Props {
		rename(&other.Props[i].ID, 100+i)
	}
	for i := range other.Packs {
		rename(&other.Packs[i].ID, 200+i)
	}
	if len(was) != len(other.Motors)+len(other.Props)+len(other.Packs) {
		t.Fatal("two parts have one name")
	}
	slices.Reverse(other.Motors)
	slices.Reverse(other.Props)
	slices.Reverse(other.Packs)
	for i := range other.Motors {
		other.Motors[i].Bench = slices.Clone(other.Motors[i].Bench)
		for k := range other.Motors[i].Bench {
			for now, before := range was {
				if before == other.Motors[i].Bench[k].Prop {
					other.Motors[i].Bench[k].Prop = now
					break
				}
			}
		}
	}
	o := Options{Top: 8, Seed: 4}
	a, b := search(t, clubSpace(t, "race"), o), search(t, laidOut(t, &other, "race"), o)
	if len(a.Best) != 8 || len(b.Best) != 8 {
		t.Fatalf("%d and %d rows", len(a.Best), len(b.Best))
	}
	for i := range a.Best {
		x, y := &a.Best[i], &b.Best[i]
		if was[y.Combination.Motor.ID] != x.Combination.Motor.ID || was[y.Combination.Pack.ID] != x.Combination.Pack.ID {
			t.Errorf("place %d: %s, by other names %s", i+1, x.Combination.Key(), y.Combination.Key())
		}
		if x.AheadShare != y.AheadShare || x.BestShare != y.BestShare || x.Figures != y.Figures {
			t.Errorf("place %d: ahead in %g, best in %g; by other names %g and %g", i+1, x.AheadShare, x.BestShare,
				y.AheadShare, y.BestShare)
		}
	}
}
