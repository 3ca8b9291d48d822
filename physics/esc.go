package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// ESC is what a speed controller loses beyond the resistance that stands with the motor's. The zero value loses
// nothing.
//
//	I_bus = [P_m (1 + k (1 − d)) + P_rip]/V_bus,  P_m = d V_bus I
//
// with d the duty and I the motor current. The part-throttle loss k belongs to the board, whatever motor is on it: it
// differs by switching, dead time and whether the ESC brakes the freewheeling phase (synchronous ESCs lose next to
// nothing).
type ESC struct {
	PartThrottleLoss float64 // k: what is drawn beyond the motor's power, over it, towards no duty
	RippleFactor     float64 // on the motor's heat by PWM ripple, 1 at UsualPWMHz
}

// UsualPWMHz is the switching frequency of an ESC that does not say it, at which the ripple was fitted.
const UsualPWMHz = 24e3

// LowestPartThrottleLoss is where deviations of the part-throttle loss end: an ESC that draws less than its motor takes
// cannot be, and what readings show under 0 (to −0.05) is the error of a stand's meters.
const LowestPartThrottleLoss = -0.2

// ESC is the law's speed controller with a switching frequency in Hz; 0 means UsualPWMHz. Ripple goes with the inverse
// square of the frequency (theory; two motors at 83 000 rpm drew 5 to 7 W less at 48 than at 24 kHz where the law says
// 3.4).
func (l *MotorLaw) ESC(pwmHz float64) EstimatedESC {
	e := EstimatedESC{
		ESC:    ESC{PartThrottleLoss: l.PartThrottleLoss, RippleFactor: 1},
		Draw:   uncertain.Estimate{Value: 1 + l.PartThrottleLoss, LnSD: partThrottleLnSD, Basis: uncertain.Estimated},
		Ripple: uncertain.Estimate{Value: 1, LnSD: rippleLnSD, Basis: uncertain.Estimated},
	}
	if pwmHz > 0 {
		e.RippleFactor = (UsualPWMHz / pwmHz) * (UsualPWMHz / pwmHz)
		e.Ripple = uncertain.Estimate{Value: e.RippleFactor, LnSD: rippleAtPWMLnSD, Basis: uncertain.Label}
	}
	return e
}

// Standard deviations of the logarithm from board to board: of 1 + k (fitted: 0.24 over four stands, whose k are 0.76,
// 0.45, 0.36 and −0.02, and 0.20 over eight set-ups, five of them on the last stand with −0.08 to 0.18; the law takes
// the middle, as of k), and of the ripple (judgement).
const (
	partThrottleLnSD = 0.22
	rippleLnSD       = 0.4
	rippleAtPWMLnSD  = 0.2 // where the switching frequency is known
)

// EstimatedESC is a speed controller with the estimates of its uncertain numbers.
type EstimatedESC struct {
	ESC
	Draw   uncertain.Estimate // 1 + k, what is drawn towards no duty over the motor's power
	Ripple uncertain.Estimate // factor on the ripple, 1 at UsualPWMHz
}

// Put sets a budget's inputs that an ESC carries.
func (e *EstimatedESC) Put(b *uncertain.Budget) {
	b.Set(uncertain.PartThrottle, e.Draw)
	b.Set(uncertain.Ripple, e.Ripple)
}

// Deviate multiplies what is drawn towards no duty, 1 + k, down to LowestPartThrottleLoss, and the ripple.
func (e *ESC) Deviate(d *uncertain.Deviation) {
	if by := d[uncertain.PartThrottle]; by != 0 {
		e.PartThrottleLoss = math.Max((1+e.PartThrottleLoss)*math.Exp(by)-1, LowestPartThrottleLoss)
	}
	e.RippleFactor *= math.Exp(d[uncertain.Ripple])
}

// SuppliedA is the current in A that one motor's ESC draws at a duty and a voltage on the ESC for a motor current.
func (e ESC) SuppliedA(m *Motor, duty, busV, motorCurrentA float64) float64 {
	return switchedA(e.PartThrottleLoss, duty, motorCurrentA) + busV*m.rippleS(e)*chopped(duty)
}

// switchedA is the share of the motor current that the ESC draws, part-throttle loss included.
func switchedA(loss, duty, motorCurrentA float64) float64 {
	return duty * motorCurrentA * (1 + loss*(1-duty))
}

// chopped is [d (1 − d)]², how the ripple's heat goes with duty.
func chopped(duty float64) float64 {
	x := duty * (1 - duty)
	return x * x
}

// rippleRadS is the pack's voltage over the motor's torque constant at which RippleW is given.
const rippleRadS = 4000.0

// rippleS is the ripple's heat over the square of the voltage at the ESC, in A/V, at d (1 − d) = 1.
//
//	P_rip = RippleW [(V/ke)/4000 rad/s · d (1 − d)]²
func (m *Motor) rippleS(e ESC) float64 {
	return e.RippleFactor * m.RippleW / (rippleRadS * rippleRadS * m.TorqueConstantNmA * m.TorqueConstantNmA)
}
