package physics

import (
	"math"
	"testing"
)

// Published: one 5-inch craft of which motor output above idle, rpm and effective kV were logged: 47, 35 and 25 %
// for duties of 53, 42 and 31 %.
func TestPublishedThrottleOutput(t *testing.T) {
	for _, x := range [][2]float64{{0.53, 0.47}, {0.42, 0.35}, {0.31, 0.25}} {
		if got := OutputThrottle.Shown(x[0]); math.Abs(got/x[1]-1) > 0.06 {
			t.Errorf("a duty of %g shows as %.3f, published %g", x[0], got, x[1])
		}
	}
}

// Property: what is shown grows with the duty from 0 to 1 at the top of the stick; thrust lies under output, output
// under signal; what is not known to be one of them lies between, within its doubt.
func TestThrottleKindsAreOrdered(t *testing.T) {
	for _, k := range []ThrottleKind{UnknownThrottle, OutputThrottle, ThrustThrottle, SignalThrottle} {
		last := -1.0
		for d := 0.0; d <= 1.2; d += 0.01 {
			x := k.Shown(d)
			if x < last || x < 0 || x > 1 {
				t.Errorf("kind %d: %.3f at a duty of %.2f after %.3f", k, x, d, last)
			}
			last = x
			if thrust, out, signal := ThrustThrottle.Shown(d), OutputThrottle.Shown(d), SignalThrottle.Shown(d); thrust > out ||
				out > signal {
				t.Errorf("at %.2f: thrust %.3f, output %.3f, signal %.3f", d, thrust, out, signal)
			}
		}
		if last != 1 {
			t.Errorf("kind %d ends at %g", k, last)
		}
	}
	for d := 0.25; d < 0.7; d += 0.05 {
		sd, x := UnknownThrottle.Scale().LnSD, UnknownThrottle.Shown(d)
		if low, high := ThrustThrottle.Shown(d), SignalThrottle.Shown(d); low < x*math.Exp(-2*sd) || high > x*math.Exp(2*sd) {
			t.Errorf("at %.2f an unknown display shows %.3f, kinds show %.3f to %.3f", d, x, low, high)
		}
	}
}
