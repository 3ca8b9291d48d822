package physics

// Motor is one brushless motor with its leads.
type Motor struct {
	TorqueConstantNmA float64 // Nm/A, equal to the back-EMF constant in V s/rad
	WindingOhm        float64 // terminal resistance of the winding, warm
	LossNm            float64 // loss torque, the same at every speed
	BellInertiaKgM2   float64
	MassKg            float64
	MaxCurrentA       float64 // 0: not given
	Poles             int     // 0: not given
	// Scale factors of uncertain inputs; 1 means nominal.
	ResistanceFactor float64
}

// currentA is the motor current that gives a torque at a speed.
//
//	I = (Q + T_loss)/ke
func (m *Motor) currentA(torqueNm float64) float64 {
	return (torqueNm + m.LossNm) / m.TorqueConstantNmA
}

// resistanceOhm is the effective resistance of winding, leads and ESC at a speed: it grows with
// electrical speed because commutation and inductance take their share of each step.
//
//	Re = R_esc + k Rw (1 + w/w0)
func (m *Motor) resistanceOhm(speedRadS float64) float64 {
	return m.ResistanceFactor * (escOhm + windingShare*m.WindingOhm*(1+speedRadS/resistanceSpeedRadS))
}

// resistancePerSpeed is what resistanceOhm gains with speed, in ohm s/rad.
func (m *Motor) resistancePerSpeed() float64 {
	return m.ResistanceFactor * windingShare * m.WindingOhm / resistanceSpeedRadS
}

// voltageV is the mean voltage at the motor that drives a torque at a speed, with the current.
//
//	d V = ke w + Re I
func (m *Motor) voltageV(torqueNm, speedRadS float64) (voltageV, currentA float64) {
	currentA = m.currentA(torqueNm)
	return m.TorqueConstantNmA*speedRadS + m.resistanceOhm(speedRadS)*currentA, currentA
}

// busCurrentA is what the ESC draws from the pack at a duty: the motor current's share of the
// period plus switching and ripple losses, which vanish at full throttle.
//
//	I_bus = d I (1 + k (1 − d))
func busCurrentA(duty, motorCurrentA float64) float64 {
	return duty * motorCurrentA * (1 + partThrottleLoss*(1-duty))
}
