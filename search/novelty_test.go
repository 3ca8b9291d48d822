package search

import (
	"context"
	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"testing"
)

// The wish for something new: without a fleet it changes nothing; at full weight the list is in the
// order of how unlike the fleet it is; a craft of the fleet itself comes last.
func TestNovel(t *testing.T) {
	d := synthetic.Club(t)
	plain := search(t, laidOut(t, d, "freestyle"), Options{Top: 3, Draws: 2})
	best := plain.Best[0].Combination
	d.Fleet = []inventory.FleetCraft{{Name: "Finch", Parts: best.Parts()}}
	s := laidOut(t, d, "freestyle")
	r := search(t, s, Options{Top: 5, Draws: 2, Novel: 0.4})
	if r.Best[0].Combination.Key() == best.Key() {
		t.Error("the craft that flies already is first")
	}
	last := 1e9
	for i := range r.Best {
		b := &r.Best[i]
		if now := predict.Preferred(b.Evaluation.Score, 0.4, b.Novelty.Distance); now > last || b.Novelty.Nearest != "Finch" {
			t.Errorf("place %d: %g after %g, %s", i+1, now, last, b.Novelty.Nearest)
		} else {
			last = now
		}
	}
	result := plain.Best[0]
	result.SetNovelty(predict.Fleet(&s.Problem), 1)
	if n := result.Novelty; n.Distance > 1e-9 || n.Nearest != "Finch" || n.Differences != nil {
		t.Errorf("the fleet's own craft is unlike it by %g: %+v", n.Distance, n)
	}
	d.Fleet = nil
	bare := search(t, laidOut(t, d, "freestyle"), Options{Top: 3, Draws: 2, Novel: 0.4})
	for i := range bare.Best {
		if bare.Best[i].Combination.Key() != plain.Best[i].Combination.Key() {
			t.Errorf("without a fleet place %d changes", i+1)
		}
	}
	if _, err := rank(context.Background(), s, Options{Novel: 2}); err == nil {
		t.Error("a weight of 2 is taken")
	}
}
