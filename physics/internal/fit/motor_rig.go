package main

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// startRigLaw is where the fit of the motor law begins: its free constants do not change with those in the code, so
// that neither does the fit.
func startRigLaw() physics.MotorLaw {
	l := physics.DefaultMotorLaw()
	l.SpeedShare, l.Constant, l.ConstantPower, l.EscOhm, l.WindingShare, l.DoublingRadS, l.LossNmPerG, l.PartThrottleLoss =
		0.94, 0.66e-3, 0.915, 0.010, 0.7, 2500, 0.14e-3, 0.4
	return l
}

// rigEffect are the logarithms of what one motor has more than the law gives it of kV, effective resistance and loss
// torque.
type rigEffect struct{ speed, resistance, loss float64 }

// motorOf is a rig's motor under a law, with what it has beyond it.
func motorOf(l *physics.MotorLaw, r *rig, e rigEffect) physics.Motor {
	m := l.Motor(physics.MotorLabel{StatorM: r.statorM, StatorHeightM: r.tallM, KV: r.labelKV * math.Exp(e.speed),
		MassKg: r.massKg}).Motor
	m.ResistanceFactor *= math.Exp(e.resistance)
	m.LossNm *= math.Exp(e.loss)
	return m
}

// suppliedW is what a supply gives for a torque at a speed.
func suppliedW(m *physics.Motor, torqueNm, speedRadS, supplyV float64) float64 {
	v, i := m.VoltageV(torqueNm, speedRadS)
	return supplyV * m.BusCurrentA(math.Min(v/supplyV, 1), i)
}

// turns is the speed at which a voltage turns a prop whose torque is e to torqueLn times its own, with the motor's
// current; both NaN if it does not turn.
func turns(m *physics.Motor, p *rotor.Propeller, torqueLn, voltageV float64) (speedRadS, currentA float64) {
	s := physics.Stand{Propeller: *p, Motor: *m, ThrottleExponent: 1}
	s.Propeller.PowerFactor *= math.Exp(torqueLn)
	at, err := s.Point(voltageV, 1)
	if err != nil {
		return math.NaN(), math.NaN()
	}
	return at.SpeedRadS, at.CurrentA
}

// torqueOf is a prop's torque at rest in still air.
func torqueOf(p *rotor.Propeller, speedRadS float64) float64 {
	_, q := p.HoverLoads(speedRadS)
	return q
}

// motorLaw is the law in the code.
func motorLaw() *physics.MotorLaw {
	l := physics.DefaultMotorLaw()
	return &l
}
