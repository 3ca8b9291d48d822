package sound

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// sines is a plain sum of steady harmonics of combs, with white noise.
func sines(seconds float64, combs ...float64) *Recording {
	const rateHz = 22050.0
	r := rand.New(rand.NewPCG(9, 9))
	x := make([]float64, int(seconds*rateHz))
	for _, hz := range combs {
		phase := 2 * math.Pi * r.Float64()
		for i := range x {
			for h := 1.0; h <= 6; h++ {
				x[i] += 0.1 / h * math.Sin(h*(2*math.Pi*hz*float64(i)/rateHz+phase))
			}
		}
	}
	for i := range x {
		x[i] += 0.03 * r.NormFloat64()
	}
	return &Recording{RateHz: rateHz, Channels: [][]float64{x}}
}

// Property: four rotors beat and are heard far from the prediction too; one comb is believed only close to it, with
// the doubt of one rotor out of four; a chord of three tones is not believed.
func TestOneShaftOrFour(t *testing.T) {
	const hz = 613
	for _, c := range []struct {
		name  string
		combs []float64
		off   float64 // of the prior, ln
		why   Reason
	}{
		{"four rotors", []float64{0.99 * hz, 0.996 * hz, 1.005 * hz, 1.009 * hz}, 0.15, Heard},
		{"one comb", []float64{hz}, 0.03, Heard},
		{"one comb far off", []float64{hz}, 0.15, SteadyTone},
		{"a chord", []float64{hz, hz * math.Pow(2, 4.0/12), hz * math.Pow(2, 7.0/12)}, 0.03, SteadyTone},
	} {
		got, err := Hear(sines(4, c.combs...), Prior{SpeedRadS: 2 * math.Pi * hz / 3 * math.Exp(c.off), Blades: 3})
		if err != nil || got.Why != c.why {
			t.Errorf("%s: reason %d, want %d, %v", c.name, got.Why, c.why, err)
			continue
		}
		if off := math.Log(got.SpeedRadS * 3 / (2 * math.Pi * hz)); c.why == Heard &&
			(math.Abs(off) > 0.005 || len(c.combs) == 1 && got.LnSD < doubtSingle) {
			t.Errorf("%s: %+.2f %% off, doubt %g", c.name, 100*off, got.LnSD)
		}
	}
}

// Property: orders of a shaft that belong to no other blade count, from the definition of a fraction in lowest terms.
func TestPrimitive(t *testing.T) {
	for n, want := range map[int][]int{2: {1, 3}, 3: {1, 2, 4, 5}, 4: {1, 3, 5, 7}, 6: {1, 5, 7, 11}} {
		if got := primitive(n); !slices.Equal(got, want) {
			t.Errorf("%d: %v, want %v", n, got, want)
		}
	}
}

// Independent: shaft lines 10 dB under the blade tones tell the blade count that was said wrongly, or confirm it far
// from the prediction.
func TestShaftLinesTellBlades(t *testing.T) {
	s := still()
	s.imbalance, s.snrDB = 0.3, 12
	got, _ := hear(t, s, s.rpm*0.9, 4)
	if got.Why != OtherBlades || got.OtherBlades != 3 {
		t.Errorf("3 blades taken for 4: reason %d, %d blades", got.Why, got.OtherBlades)
	}
	got, truth := hear(t, s, s.rpm*0.78, 3)
	if off := math.Log(got.SpeedRadS * 30 / math.Pi / truth); got.Why != Heard || math.Abs(off) > 0.01 {
		t.Errorf("3 blades, 2 sd off the prediction: reason %d, %+.2f %%", got.Why, 100*off)
	}
}
