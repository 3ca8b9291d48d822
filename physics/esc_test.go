package physics

import (
	"math"
	"testing"

	"partsaloft/physics/uncertain"
)

// Independent: the bus current of a hand-made motor by the equation, at half duty and at full throttle, where neither
// loss is left.
func TestSuppliedCurrent(t *testing.T) {
	e := ESC{PartThrottleLoss: 0.4, RippleFactor: 1}
	m := Motor{TorqueConstantNmA: 0.004, RippleW: 6}
	// 16 V over 4 mNm/A are 4000 rad/s; 6 W · (1/4)² of ripple on 16 V.
	if got, want := e.SuppliedA(&m, 0.5, 16, 10), 10*0.5*1.2+6.0/16/16; math.Abs(got-want) > 1e-12 {
		t.Errorf("%g A at half duty, want %g", got, want)
	}
	if got := e.SuppliedA(&m, 1, 16, 10); got != 10 {
		t.Errorf("%g A at full throttle, want 10", got)
	}
	if got := (ESC{}).SuppliedA(&m, 0.5, 16, 10); got != 5 {
		t.Errorf("an ESC without losses draws %g A, want 5", got)
	}
}

// Property: twice the switching frequency takes three quarters of the ripple away; deviations multiply 1 + k and end at
// the lowest loss.
func TestESCDeviates(t *testing.T) {
	law := DefaultMotorLaw()
	if r := law.ESC(48e3).RippleFactor; math.Abs(r-0.25) > 1e-12 {
		t.Errorf("ripple at 48 kHz over that at 24 is %g", r)
	}
	e := law.ESC(0).ESC
	e.Deviate(&uncertain.Deviation{uncertain.PartThrottle: 0.1, uncertain.Ripple: -0.2})
	k := (1+law.PartThrottleLoss)*math.Exp(0.1) - 1
	if math.Abs(e.PartThrottleLoss-k) > 1e-9 || math.Abs(e.RippleFactor-math.Exp(-0.2)) > 1e-12 {
		t.Errorf("deviated to %+v", e)
	}
	e.Deviate(&uncertain.Deviation{uncertain.PartThrottle: -9})
	if e.PartThrottleLoss != LowestPartThrottleLoss {
		t.Errorf("the loss goes down to %g", e.PartThrottleLoss)
	}
}

// Independent: what busV, currentA and duty say of a pack agrees with the circuit: the pack's current is what the ESCs
// draw at the voltage that this current leaves, and the duty found gives the voltage asked for.
func TestSupplyAgreesWithItself(t *testing.T) {
	for _, c := range []Craft{nimble(t), steep(t)} {
		for _, k := range []float64{-0.2, 0, 0.38, 0.9} {
			for _, ripple := range []float64{0, 1, 6} {
				c.Board.ESC = ESC{PartThrottleLoss: k, RippleFactor: ripple}
				s := c.supply(1)
				top := c.fullThrottle(&s, 1)
				for _, share := range []float64{0.3, 0.5, 0.7, 0.9} {
					o := c.turning(share * top.speedRadS)
					d, ok := s.duty(o)
					volts, packA := s.busV(d, o.currentA), s.currentA(d, o.currentA)
					escs := float64(c.Rotors)*c.Board.SuppliedA(&c.Motor, d, volts, o.currentA) + s.electronicsA
					if !ok || math.Abs(packA/escs-1) > 1e-9 || math.Abs(volts-(s.openV-s.resistanceOhm*packA)) > 1e-9 ||
						math.Abs(d*volts/o.voltageV-1) > 1e-7 {
						t.Errorf("k %g, ripple %g: duty %.4f, %.4f V, %.4f A by the pack, %.4f by the ESCs",
							k, ripple, d, volts, packA, escs)
					}
				}
			}
		}
	}
}
