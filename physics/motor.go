package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// Motor is one brushless motor with its leads.
type Motor struct {
	TorqueConstantNmA float64 // Nm/A, equal to the back-EMF constant in V s/rad
	WindingOhm        float64 // of the winding under load, at rest and warm
	CopperOhm         float64 // of the winding at rest, which turns to heat; 0 means WindingOhm
	DoublingRadS      float64 // speed at which that has doubled
	EscOhm            float64 // ESC and leads
	LossNm            float64 // loss torque, the same at every speed
	RippleW           float64 // heat by PWM ripple at 24 kHz, d (1 − d) = 1 and 4000 rad/s of voltage over torque constant
	BellInertiaKgM2   float64
	MassKg            float64
	MaxCurrentA       float64 // for the seconds of a punch; 0: none is known
	// LimitEstimated reports whether MaxCurrentA is estimated from what the windings stand, not printed.
	LimitEstimated bool
	Poles          int // 0 means 12
	// Scale factors of uncertain inputs; 1 means nominal.
	ResistanceFactor float64
}

// currentA is the motor current that gives a torque at a speed.
//
//	I = (Q + T_loss)/ke
func (m *Motor) currentA(torqueNm float64) float64 {
	return (torqueNm + m.LossNm) / m.TorqueConstantNmA
}

// EffectiveOhm is the effective resistance of winding, leads and ESC at a speed: it grows with
// electrical speed because commutation and inductance take their share of each step.
//
//	Re = R_esc + Rw (1 + w/w0)
func (m *Motor) EffectiveOhm(speedRadS float64) float64 {
	return m.ResistanceFactor * (m.EscOhm + m.WindingOhm*(1+speedRadS/m.DoublingRadS))
}

// resistancePerSpeed is what EffectiveOhm gains with speed, in ohm s/rad.
func (m *Motor) resistancePerSpeed() float64 {
	return m.ResistanceFactor * m.WindingOhm / m.DoublingRadS
}

// VoltageV is the mean voltage at the motor that drives a torque at a speed, with the current.
//
//	d V = ke w + Re I
func (m *Motor) VoltageV(torqueNm, speedRadS float64) (voltageV, currentA float64) {
	currentA = m.currentA(torqueNm)
	return m.TorqueConstantNmA*speedRadS + m.EffectiveOhm(speedRadS)*currentA, currentA
}

// ResistanceSlopes are the derivatives of the logarithm of EffectiveOhm over the deviations that all motors have in
// common, at the speed that doubles the winding's part: MotorsPower, which acts on the winding alone, and EscResistance.
func (m *Motor) ResistanceSlopes() (motorsPower, escResistance float64) {
	escResistance = m.EscOhm / (m.EscOhm + 2*m.WindingOhm)
	return -2 * math.Log(m.MassKg/lawMassKg) * (1 - escResistance), escResistance
}

// Deviate multiplies what is uncertain of the motor by e to the deviation.
func (m *Motor) Deviate(d *uncertain.Deviation) {
	m.TorqueConstantNmA *= math.Exp(-d[uncertain.MotorSpeed] - d[uncertain.MotorsSpeed])
	m.EscOhm *= math.Exp(d[uncertain.EscResistance])
	if power := d[uncertain.MotorsPower]; power != 0 {
		// Rw goes with the motor constant's square.
		winding := math.Pow(m.MassKg/lawMassKg, -2*power)
		m.WindingOhm *= winding
		m.CopperOhm *= winding
	}
	m.ResistanceFactor *= math.Exp(d[uncertain.MotorResistance])
	m.LossNm *= math.Exp(d[uncertain.MotorLoss] + d[uncertain.MotorsLoss])
	m.MassKg *= math.Exp(d[uncertain.MotorMass])
	m.BellInertiaKgM2 *= math.Exp(d[uncertain.MotorMass] + d[uncertain.MotorInertia])
	m.MaxCurrentA *= math.Exp(d[uncertain.MotorCurrentLimit])
}
