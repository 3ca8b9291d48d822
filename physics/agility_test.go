package physics

import (
	"math"
	"testing"
)

// Independent: the classical Runge-Kutta method (W. Kutta, Zeitschrift für Mathematik und Physik 46, 435, 1901) in steps
// of 0.2 ms on rotor speed, sink and height, with the motor's current from the voltage balance, against the few steps of
// pullOut.
func TestPullOutAgainstFineSteps(t *testing.T) {
	type state struct{ sink, speed, height float64 }
	fine := func(c *Craft, s *supply, duty, weightN, diveMS, fullRadS float64) float64 {
		rate := func(x state) state {
			thrust, torque := c.Propeller.DescentLoads(x.speed, math.Max(x.sink, 0))
			kt := c.Motor.TorqueConstantNmA
			ohm := c.Motor.EffectiveOhm(x.speed) + duty*duty*s.rotors*s.resistanceOhm
			current := math.Max((duty*(s.openV-s.resistanceOhm*s.electronicsA)-kt*x.speed)/ohm, 0)
			return state{GravityMS2 - (s.rotors*thrust+c.dragN(x.sink))*GravityMS2/weightN,
				(kt*current - c.Motor.LossNm - torque) / c.InertiaKgM2(), x.sink}
		}
		ahead := func(x, by state, step float64) state {
			return state{x.sink + step*by.sink, x.speed + step*by.speed, x.height + step*by.height}
		}
		const step = 2e-4
		x := state{diveMS, fullRadS / 4, diveMS * commandLagS}
		for x.sink > 0 {
			a := rate(x)
			b := rate(ahead(x, a, step/2))
			d := rate(ahead(x, b, step/2))
			e := rate(ahead(x, d, step))
			x = ahead(ahead(ahead(ahead(x, a, step/6), b, step/3), d, step/3), e, step/6)
		}
		return x.height
	}
	var off []float64
	for _, base := range []Craft{nimble(t), steep(t)} {
		for _, heavier := range []float64{1, 1.4, 1.8} {
			for _, inertia := range []float64{0.5, 1, 2} {
				for _, dive := range []float64{3, 8, 15, 25} {
					c := base
					c.FrameKg *= heavier
					c.Motor.BellInertiaKgM2 *= inertia
					s := c.supply(midCharge)
					full := c.fullThrottle(&s, 1).speedRadS
					weight := c.MassKg() * GravityMS2
					got, ok := c.pullOut(&s, 1, weight, dive, full)
					want := fine(&c, &s, 1, weight, dive, full)
					if !ok || math.Abs(got/want-1) > 0.03 {
						t.Errorf("%.3g kg from %g m/s: %.4g m, in fine steps %.4g", c.MassKg(), dive, got, want)
					}
					off = append(off, math.Abs(got/want-1))
				}
			}
		}
	}
	var mean float64
	for _, x := range off {
		mean += x / float64(len(off))
	}
	if mean > 0.007 {
		t.Errorf("off by %.2g at the mean", mean)
	}
}

// Independent: bisection on the margin for the smaller root of d V_bus(d) = V_m.
func TestDutyAgainstBisection(t *testing.T) {
	for _, c := range []Craft{nimble(t), steep(t)} {
		for _, loss := range []float64{-0.2, 0, 0.5, 1} {
			for _, ripple := range []float64{0, 1, 5} {
				c.Board.PartThrottleLoss, c.Board.RippleFactor = loss, ripple
				s := c.supply(midCharge)
				full := c.fullThrottle(&s, 1).speedRadS
				for part := 0.05; part < 1; part += 0.05 {
					o := c.turning(part * full)
					low, high := 0.0, 1.0
					for i := range 60 {
						middle := (low + high) / 2
						if i == 0 {
							middle = o.voltageV / s.openV
						}
						if s.marginV(middle, o) < 0 {
							low = middle
						} else {
							high = middle
						}
					}
					d, ok := s.duty(o)
					if !ok || math.Abs(d-low) > 1e-6 {
						t.Errorf("loss %g, ripple %g at %.2f of full speed: duty %.8f, by bisection %.8f", loss, ripple, part, d, low)
					}
					if got, want := s.drawnA(d, o), s.currentA(d, o.currentA); math.Abs(got/want-1) > 1e-5 {
						t.Errorf("loss %g, ripple %g at %.2f of full speed: %.7g A, by the bus voltage %.7g", loss, ripple, part, got, want)
					}
				}
			}
		}
	}
}
