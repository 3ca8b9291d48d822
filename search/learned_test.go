package search

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// correct gives every part of a drawer corrections at random that share a few numbers.
func correct(d *inventory.Drawer, rng *rand.Rand) {
	const common = 4
	some := func(inputs ...uncertain.Input) inventory.Corrections {
		var list inventory.Corrections
		for _, i := range inputs {
			shared := make([]float64, common)
			length := 0.0
			for j := range shared {
				shared[j] = rng.NormFloat64()
				length += shared[j] * shared[j]
			}
			for j := range shared {
				shared[j] *= (0.5 + 0.5*rng.Float64()) / math.Sqrt(length)
			}
			list = append(list, inventory.Correction{Input: i, LnFactor: 0.15 * rng.NormFloat64(), LnSD: 0.02 + 0.1*rng.Float64(), Measured: rng.IntN(2) == 0, Shared: shared})
		}
		return list
	}
	for i := range d.Motors {
		d.Motors[i].Learned = some(uncertain.MotorSpeed, uncertain.MotorResistance, uncertain.MotorLoss, uncertain.MotorMass, uncertain.RotorModel)
	}
	for i := range d.Props {
		d.Props[i].Learned = some(uncertain.PropThrust, uncertain.PropPower, uncertain.PropZeroThrust, uncertain.PropMass)
	}
	for i := range d.Packs {
		d.Packs[i].Learned = some(uncertain.PackResistance, uncertain.PackCapacity, uncertain.PackMass)
	}
	for i := range d.Frames {
		d.Frames[i].Learned = some(uncertain.FrameMass, uncertain.DragArea, uncertain.FlyingPower)
	}
	for i := range d.Boards {
		d.Boards[i].Learned = some(uncertain.BoardMass, uncertain.ElectronicsPower)
	}
}

// Independent: with everything corrected, a candidate put together from tables is the craft that
// its combination converts to, and branch and bound gives what plain enumeration gives.
func TestLearnedInTheSearch(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	ctx := context.Background()
	compared := 0
	for seed := range uint64(40) {
		d := generate(4000+seed, small(rng), seed%2 == 0)
		correct(d, rng)
		s := space(t, d, []string{"cruise", "freestyle", "race", "indoor"}[seed%4])
		s.each(func(c candidate) bool {
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
			return rng.IntN(20) > 0
		})
		o := Options{Top: 3, Workers: 2}
		var plain tally
		plain.best.n = o.Top
		s.plain(ctx, &o, &plain)
		p, err := s.proveFrom(ctx, &o, 40)
		if err != nil || !p.whole {
			t.Fatal(err)
		}
		if len(p.best.list) != len(plain.best.list) {
			t.Fatalf("drawer %d: %d found, enumeration has %d", seed, len(p.best.list), len(plain.best.list))
		}
		for i := range plain.best.list {
			compared++
			if p.best.list[i] != plain.best.list[i] {
				t.Fatalf("drawer %d, place %d: %+v, enumeration has %+v", seed, i+1, p.best.list[i], plain.best.list[i])
			}
		}
	}
	if compared < 30 {
		t.Errorf("only %d places compared", compared)
	}
}

// Property: draws have the spreads and the correlations, within a part and between parts, that the
// corrections state.
func TestLearnedDrawsGoTogether(t *testing.T) {
	drawer := club(t)
	rng := rand.New(rand.NewPCG(23, 24))
	correct(drawer, rng)
	s := space(t, drawer, "cruise")
	d := newDraws(6000, 3)
	c := inventory.Combination{Motor: drawer.Motor("m1507-37"), Prop: drawer.Prop("p3.5-26x3"), Pack: drawer.Pack("k3s-620"), Frame: &drawer.Frames[0], Board: &drawer.Boards[0]}
	lists := map[uncertain.Input]inventory.Correction{}
	for _, list := range []inventory.Corrections{c.Motor.Learned, c.Prop.Learned, c.Pack.Learned, c.Frame.Learned, c.Board.Learned} {
		for _, k := range list {
			lists[k.Input] = k
		}
	}
	u := uncertainty(t, s, &c)
	for a := range uncertain.InputCount {
		first, ok := lists[a]
		if !ok {
			continue
		}
		if u.LnSD[a] != first.LnSD {
			t.Errorf("%v: %g left, corrected to %g", a, u.LnSD[a], first.LnSD)
		}
		for b := a + 1; b < uncertain.InputCount; b++ {
			second, ok := lists[b]
			if !ok {
				continue
			}
			mean, sd, r := moments(sampleOf(t, d, c, s, a), sampleOf(t, d, c, s, b))
			want := inventory.Corrections{first, second}.Together(a, b)
			if math.Abs(mean) > 0.06*first.LnSD || math.Abs(sd/first.LnSD-1) > 0.05 || math.Abs(r-want) > 0.06 {
				t.Errorf("%v and %v: mean %.4f, sd %.4f of %.4f, correlation %.3f of %.3f", a, b, mean, sd, first.LnSD, r, want)
			}
		}
	}
}
