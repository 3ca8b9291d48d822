package objective

import (
	"math"
	"testing"
)

// Property: weights are refused in words or add up to one.
func FuzzWeights(f *testing.F) {
	for _, s := range []string{"grip=4,endurance=1", "grip=0", "top_speed=1e6, smoothness = .5", "grip=nan",
		"grip=1e-320,endurance=0x1p3", "=,=", "grip=1,grip=2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ParseWeights(text)
		if err != nil {
			if err.Error() == "" {
				t.Errorf("%q: no words", text)
			}
			return
		}
		var sum float64
		for a, x := range w {
			if !(x >= 0 && x <= 1) {
				t.Errorf("%q: %s weighs %g", text, Axis(a), x)
			}
			sum += x
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%q: the weights add up to %g", text, sum)
		}
		axes := Axes{100, 0.001, 50, 0}
		if score := w.Score(&axes); !(score >= 0 && score <= 100+1e-9) {
			t.Errorf("%q: a score of %g", text, score)
		}
	})
}

// Property: a limit is refused in words or holds what lies inside, and reads back as it is written.
func FuzzLimit(f *testing.F) {
	for _, s := range []string{"all_up_g=..250", "style_minutes=3..", "thrust_to_weight=2..4", "all_up_g=5..3",
		"all_up_g=1e400..", "tip_mach=-0..", "motor_temperature_c=-1e-5..1_0", "x=..", "=..1", "all_up_g=..250=.."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLimit(text)
		if err != nil {
			if err.Error() == "" {
				t.Errorf("%q: no words", text)
			}
			return
		}
		if math.IsNaN(l.Range.Low) || math.IsNaN(l.Range.High) || l.Range.Low > l.Range.High || math.IsInf(l.Range.Low, 1) ||
			math.IsInf(l.Range.High, -1) {
			t.Errorf("%q: from %g to %g", text, l.Range.Low, l.Range.High)
		}
		again, err := ParseLimit(l.String())
		if err != nil || again != l {
			t.Errorf("%q is written %q, which reads as %v, %v", text, l, again, err)
		}
		for _, x := range []float64{l.Range.Low, l.Range.High} {
			if !math.IsInf(x, 0) && !l.Range.Holds(x) {
				t.Errorf("%q does not hold its end %g", text, x)
			}
		}
	})
}
