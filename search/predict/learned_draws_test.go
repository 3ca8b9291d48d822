package predict

import (
	"math"
	"math/rand/v2"
	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// Property: draws have the spreads and the correlations, within a part and between parts, that the
// corrections state.
func TestLearnedDrawsGoTogether(t *testing.T) {
	drawer := synthetic.Club(t)
	rng := rand.New(rand.NewPCG(23, 24))
	synthetic.Correct(drawer, rng)
	d := NewDraws(Sampling{Draws: 6000, Seed: 3})
	c := inventory.Combination{Motor: drawer.Motor("m1507-37"), Prop: drawer.Prop("p3.5-26x3"),
		Pack: drawer.Pack("k3s-620"), Frame: &drawer.Frames[0], Board: &drawer.Boards[0]}
	lists := map[uncertain.Input]inventory.Correction{}
	for _, list := range []inventory.Corrections{c.Motor.Learned, c.Prop.Learned, c.Pack.Learned, c.Frame.Learned,
		c.Board.Learned} {
		for _, k := range list {
			lists[k.Input] = k
		}
	}
	drawn := sampleOf(t, d, c, problem(t, drawer, "cruise").Air)
	u := &drawn.uncertainty
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
			mean, sd := stat.MeanStdDev(drawn.of(a), nil)
			r := stat.Correlation(drawn.of(a), drawn.of(b), nil)
			want := inventory.Corrections{first, second}.Together(a, b)
			if math.Abs(mean) > 0.06*first.LnSD || math.Abs(sd/first.LnSD-1) > 0.05 || math.Abs(r-want) > 0.06 {
				t.Errorf("%v and %v: mean %.4f, sd %.4f of %.4f, correlation %.3f of %.3f", a, b, mean, sd, first.LnSD, r, want)
			}
		}
	}
}
