package sound

import (
	"math"
	"math/rand/v2"
	"testing"
)

// goertzel is the power of one frequency in a sound (Goertzel 1958, as a sum).
func goertzel(x []float64, rateHz, hz float64) float64 {
	var re, im float64
	for i, v := range x {
		w := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(len(x)))
		sin, cos := math.Sincos(2 * math.Pi * hz * float64(i) / rateHz)
		re, im = re+w*v*cos, im+w*v*sin
	}
	return (re*re + im*im) / float64(len(x)) / float64(len(x))
}

// Property: hum goes, and what is no hum stays.
func TestWithoutHum(t *testing.T) {
	const rateHz = 11025.0
	r := rand.New(rand.NewPCG(3, 3))
	n := int(4 * rateHz)
	wander := slowNoise(r, n, rateHz, 0.5)
	quiet, hummed := make([]float64, n), make([]float64, n)
	phase := 0.0
	for i := range quiet {
		phase += 2 * math.Pi * 410 * (1 + 0.005*wander[i]) / rateHz
		quiet[i] = 0.2*math.Sin(phase) + 0.01*r.NormFloat64()
	}
	for _, base := range []float64{50.03, 59.95} {
		for i := range quiet {
			hummed[i] = quiet[i]
			for m := 1.0; m <= 5; m++ {
				hummed[i] += 0.2 / m * math.Sin(2*math.Pi*base*m*float64(i)/rateHz+m)
			}
		}
		clean := withoutHum(&Recording{RateHz: rateHz, Channels: [][]float64{hummed}}).Channels[0]
		for m := 1.0; m <= 5; m++ {
			before, after := goertzel(hummed, rateHz, base*m), goertzel(clean, rateHz, base*m)
			if after > before/100 {
				t.Errorf("%g Hz: %.1f dB less, want 20", base*m, 10*math.Log10(before/after))
			}
		}
		left := 0.0
		for i := range clean {
			left += sq(clean[i] - quiet[i])
		}
		if share := left / float64(n) / sq(rms(quiet)); share > 0.01 {
			t.Errorf("%g Hz: what is no hum has changed by %.1f %% of its power", base, 100*share)
		}
	}
	for name, x := range map[string][]float64{"a wandering tone": quiet, "silence": make([]float64, n),
		"shorter than a block": quiet[:3000]} {
		in := &Recording{RateHz: rateHz, Channels: [][]float64{x}}
		if withoutHum(in) != in {
			t.Errorf("%s is taken for hum", name)
		}
	}
}
