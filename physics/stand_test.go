package physics

import (
	"math"
	"testing"
)

// Property: a thrust takes the throttle that gives it, at every volts and throttle; beyond full throttle there is none.
func TestLiftingIsThePointOfItsThrottle(t *testing.T) {
	c := testCraft(t, 23, 6, 1750, 5.1, 4.1, 3, 4.2, 6, 1300, 100, 210, 450)
	for _, exponent := range []float64{1, 1.2} {
		s := Stand{Propeller: c.Propeller, Motor: c.Motor, ESC: c.Board.ESC, ThrottleExponent: exponent}
		for _, volts := range []float64{12, 22.2} {
			for _, throttle := range []float64{0.1, 0.35, 0.7, 0.999} {
				want, err := s.Point(volts, throttle)
				if err != nil {
					t.Fatal(err)
				}
				got, ok, err := s.Lifting(volts, want.ThrustN)
				if err != nil || !ok {
					t.Fatalf("%g V, %g: %v %v", volts, throttle, ok, err)
				}
				for name, pair := range map[string][2]float64{"throttle": {got.Throttle, want.Throttle},
					"speed": {got.SpeedRadS, want.SpeedRadS}, "current": {got.CurrentA, want.CurrentA}} {
					if math.Abs(pair[0]/pair[1]-1) > 4e-3 { // as far as the two ways through the rotor map agree
						t.Errorf("%g V, throttle %g: %s %g, the point has %g", volts, throttle, name, pair[0], pair[1])
					}
				}
			}
			most, err := s.Point(volts, 1)
			if err != nil {
				t.Fatal(err)
			}
			if got, ok, err := s.Lifting(volts, 1.01*most.ThrustN); err != nil || ok || got != most {
				t.Errorf("%g V: %v beyond full throttle, %v", volts, ok, err)
			}
		}
	}
	if _, _, err := (&Stand{}).Lifting(12, 0); err == nil {
		t.Error("no thrust is no error")
	}
}
