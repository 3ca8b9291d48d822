package rig

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// StartRigLaw is where the fit of the motor law begins: its free constants do not change with those in the code, so
// that neither does the fit.
func StartRigLaw() physics.MotorLaw {
	l := physics.DefaultMotorLaw()
	l.SpeedShare, l.Constant, l.ConstantPower, l.EscOhm, l.WindingShare, l.DoublingRadS, l.LossNmPerG, l.PartThrottleLoss =
		0.94, 0.66e-3, 0.915, 0.010, 0.7, 2500, 0.14e-3, 0.4
	l.RippleW, l.RippleMass = 6, 0.15
	return l
}

// Drive is a motor on a speed controller.
type Drive struct {
	Motor physics.Motor
	ESC   physics.ESC
}

// Effect are the logarithms of what one motor has more than the law gives it of kV, effective resistance and loss
// torque.
type Effect struct{ Speed, Resistance, Loss float64 }

// MotorOf is a rig's motor under a law, with what it has beyond it.
func MotorOf(l *physics.MotorLaw, r *Rig, e Effect) physics.Motor {
	m := l.Motor(physics.MotorLabel{StatorM: r.StatorM, StatorHeightM: r.TallM, KV: r.LabelKV * math.Exp(e.Speed),
		MassKg: r.MassKg}).Motor
	m.ResistanceFactor *= math.Exp(e.Resistance)
	m.LossNm *= math.Exp(e.Loss)
	return m
}

// Losses are what a stand's ESC has beside the law: part-throttle loss, and the logarithm of ripple.
type Losses struct{ Part, Ripple float64 }

// ESCOf is a law's speed controller with what it has beside the law.
func ESCOf(l *physics.MotorLaw, own Losses) physics.ESC {
	e := l.ESC(0).ESC
	e.PartThrottleLoss += own.Part
	e.RippleFactor *= math.Exp(own.Ripple)
	return e
}

// suppliedW is what a supply gives for a torque at a speed.
func suppliedW(d *Drive, torqueNm, speedRadS, supplyV float64) float64 {
	v, i := d.Motor.VoltageV(torqueNm, speedRadS)
	return supplyV * d.ESC.SuppliedA(&d.Motor, math.Min(v/supplyV, 1), supplyV, i)
}

// Turns is the speed at which a voltage turns a prop whose torque is e to torqueLn times its own, with the motor's
// current; both NaN if it does not turn.
func Turns(m *physics.Motor, p *rotor.Propeller, torqueLn, voltageV float64) (speedRadS, currentA float64) {
	s := physics.Stand{Propeller: *p, Motor: *m, ThrottleExponent: 1}
	s.Propeller.PowerFactor *= math.Exp(torqueLn)
	at, err := s.Point(voltageV, 1)
	if err != nil {
		return math.NaN(), math.NaN()
	}
	return at.SpeedRadS, at.CurrentA
}

// TorqueOf is a prop's torque at rest in still air.
func TorqueOf(p *rotor.Propeller, speedRadS float64) float64 {
	_, q := p.HoverLoads(speedRadS)
	return q
}

// MotorLaw is the law in the code.
func MotorLaw() *physics.MotorLaw {
	l := physics.DefaultMotorLaw()
	return &l
}
