package solve

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/search/internal/synthetic"
)

// tenfold gives a drawer nine more of each pack, each of a mass up to off more.
func tenfold(d *inventory.Drawer, off float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	packs := d.Packs
	for _, p := range packs {
		for i := range 9 {
			twin := p
			twin.ID = fmt.Sprintf("%s-%d", p.ID, i)
			if off > 0 {
				massG := 1000 * p.SI(288.15).MassKg * (1 + off*rng.Float64())
				twin.MassG = &massG
			}
			d.Packs = append(d.Packs, twin)
		}
	}
}

// tenfoldPowertrains gives a drawer nine more of each motor and prop.
func tenfoldPowertrains(d *inventory.Drawer) {
	motors, props := d.Motors, d.Props
	for i := range 9 {
		for _, m := range motors {
			m.ID = fmt.Sprintf("%s-%d", m.ID, i)
			d.Motors = append(d.Motors, m)
		}
		for _, p := range props {
			p.ID = fmt.Sprintf("%s-%d", p.ID, i)
			d.Props = append(d.Props, p)
		}
	}
}

// Property: ten of each motor and prop, so that a hundred times as many builds fit, take no more evaluations than one of
// each, and the best of them score the same.
func TestPowertrainTwinsCostNoMore(t *testing.T) {
	var work, fitted [2]int64
	var best [2]float64
	for i := range 2 {
		d := synthetic.Generate(3, synthetic.Sizes{20, 24, 10, 6, 3}, false)
		if i == 1 {
			tenfoldPowertrains(d)
		}
		s := laidOut(t, d, "freestyle")
		p, err := proveFrom(context.Background(), s, &Options{Top: 1, Workers: 2}, 40)
		if err != nil || !p.Whole {
			t.Fatal(err)
		}
		work[i], fitted[i], best[i] = p.evaluations(), s.Fitted, p.BestScore()
	}
	if fitted[1] != 100*fitted[0] || best[0] != best[1] || work[1] > work[0]*11/10 {
		t.Errorf("of each one %d fit, best %g, %d evaluations; ten %d, %g, %d", fitted[0], best[0], work[0], fitted[1],
			best[1], work[1])
	}
}

// Property: ten packs of each kind take no more evaluations than one does, and a drawer of parts that no bound tells
// apart takes at most half as much again as enumeration.
func TestTwinsCostNoMoreThanTheirPart(t *testing.T) {
	ctx := context.Background()
	sizes := synthetic.Sizes{10, 14, 4, 5, 3}
	prove := func(d *inventory.Drawer) (p *Proof, work int64) {
		s := laidOut(t, d, "freestyle")
		p, err := proveFrom(ctx, s, &Options{Top: 10, Workers: 2}, 40)
		if err != nil || !p.Whole {
			t.Fatal(err)
		}
		return p, p.evaluations()
	}
	one := synthetic.Generate(1, sizes, true)
	p, alone := prove(one)
	ten := synthetic.Generate(1, sizes, true)
	tenfold(ten, 0)
	q, equal := prove(ten)
	if q.space.Fitted < 9*p.space.Fitted || equal > alone*11/10 {
		t.Errorf("%d of each pack fit in %d ways and take %d evaluations, one of each %d", 10, q.space.Fitted, equal, alone)
	}
	for i := range p.Best.List {
		if a, b := p.Best.List[i].Evaluation.Score, q.Best.List[i].Evaluation.Score; a != b {
			t.Errorf("place %d scores %g with twins, %g without", i+1, b, a)
		}
	}
	near := synthetic.Generate(1, sizes, true)
	tenfold(near, 0.002)
	r, work := prove(near)
	if work > r.space.Fitted*3/2 {
		t.Errorf("%d near twins take %d evaluations", r.space.Fitted, work)
	}
	t.Logf("one of each %d, ten %d, ten near %d of %d", alone, equal, work, r.space.Fitted)
}

// Property: a proof ends where its budget is what it takes, or a fifth less; one that would take over twice its budget,
// for it has so many roots, is given up after a tenth of it, at the same point on any number of workers, and its gap
// leaves room for whatever was not looked at.
func TestBudget(t *testing.T) {
	if testing.Short() {
		t.Skip("works out a whole proof")
	}
	ctx := context.Background()
	s := laidOut(t, synthetic.Generate(25, synthetic.Sizes{40, 50, 30, 12, 8}, false), "freestyle")
	o := Options{Top: 10, Workers: 2}
	free, err := newProof(ctx, s, &o, warmEvals)
	if err != nil || !free.start(ctx) || !free.run(ctx) || free.queue.Len() > 0 {
		t.Fatal(err)
	}
	for _, share := range []float64{1, 0.8} {
		o.MaxProof = int64(share * float64(free.evaluations()))
		p, err := BranchAndBound(ctx, s, &o)
		if err != nil || !p.Whole || !slices.Equal(p.Best.List, free.Best.List) {
			t.Errorf("%.1f of %d evaluations: %v, whole %v", share, free.evaluations(), err, p.Whole)
		}
	}

	s = laidOut(t, synthetic.Generate(1, synthetic.Sizes{300, 400, 60, 60, 30}, false), "freestyle")
	var looks int64
	for _, workers := range []int{1, 8, 2}[:1+synthetic.Of(2)] {
		o = Options{Top: 10, Workers: workers, MaxProof: 450_000}
		p, err := BranchAndBound(ctx, s, &o)
		if err != nil || !p.Begun() {
			t.Fatal(err)
		}
		if int64(p.roots.count) < 2*o.MaxProof {
			t.Fatalf("%d roots", p.roots.count)
		}
		if p.Whole || p.Looks() > o.MaxProof/10 || p.Gap() != 100-p.BestScore() || looks > 0 && p.Looks() != looks {
			t.Errorf("%d workers: whole %v, %d evaluations, else %d, gap %g", workers, p.Whole, p.Looks(), looks, p.Gap())
		}
		looks = p.Looks()
	}
	t.Logf("%d evaluations for the list of one, %d until the other is given up", free.evaluations(), looks)
}
