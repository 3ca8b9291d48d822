package physics

import (
	"math"
)

// Motor heat by size, the mass m of a motor in grams (geometry; from memory of small outrunners on stands, 3 to
// 5 K/W at 30 g; good to a factor of 1.6). In flight all of it warms as one, cooled by its prop's wash:
//
//	ΔT = P R (1 − e^(−t/τ)),  R = 40 m^(−2/3) K/W,  τ = R · 0.43 m
//
// In a punch nothing is cooled: the stator, half of the motor, takes the heat up, and the copper is warmer by what
// it must hand on to the stator:
//
//	ΔT = P t/(0.21 m) + P_cu 10 m^(−2/3) (1 − e^(−t/1.8 s))
//
// P_cu is the copper heat I² Rw, P that with the loss torque's and the ripple's.
const (
	coolingKW       = 40.0
	heatCapacityJGK = 0.43
	statorJGK       = 0.21
	copperKW        = 10.0
	copperS         = 1.8
	copperPart      = 0.8111243971624382 // 1 − e^(−PunchS/copperS)
	// PunchS is how long a punch lasts (judgement).
	PunchS = 3.0
)

// heat is what one motor turns to heat at an operating point, in W: copper by the current, and all.
type heat struct{ copperW, allW float64 }

// heat at an operating point, a duty and the voltage at the ESC.
func (m *Motor) heat(e ESC, o operating, duty, busV float64) heat {
	ohm := m.CopperOhm
	if ohm == 0 {
		ohm = m.WindingOhm
	}
	copper := o.currentA * o.currentA * ohm * m.ResistanceFactor
	return heat{copper, copper + m.LossNm*o.speedRadS + busV*busV*m.rippleS(e)*chopped(duty)}
}

func (m *Motor) massPower() float64 {
	root := math.Cbrt(m.MassKg * 1000)
	return 1 / (root * root)
}

// flightRiseK is how much warmer than the air the windings are after a time at a mean heat.
func (m *Motor) flightRiseK(meanW, durationS float64) float64 {
	resistance := coolingKW * m.massPower()
	return meanW * resistance * -math.Expm1(-durationS/(resistance*heatCapacityJGK*m.MassKg*1000))
}

// punchRiseK is what a punch adds.
func (m *Motor) punchRiseK(h heat) float64 {
	return h.allW*PunchS/(statorJGK*m.MassKg*1000) + h.copperW*copperKW*m.massPower()*copperPart
}
