package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// CurrentLimit estimates the largest current in A of a motor whose sheet prints none, for the
// seconds of a punch, from the copper heat that a gram of motor bears, which is alike across sizes:
//
//	I = √(q m) Km/ke
//
// q is that of small multirotor motors' printed limits; the limits of general sheets, held for longer, are
// half as large. The mass is in kg, the torque constant in Nm/A.
func (l *MotorLaw) CurrentLimit(torqueConstantNmA, massKg float64) uncertain.Estimate {
	return uncertain.Estimate{Value: math.Sqrt(PunchHeatWKg * massKg / l.Winding(torqueConstantNmA, massKg).Value),
		LnSD: motorLimitLnSD, Basis: uncertain.Estimated}
}

// Copper heat that motors bear, in W/kg of motor, fitted by fit limits to 54 printed limits of motors up to 110 g: in
// the seconds of a punch (the median of 11 small multirotor motors, power of mass −0.07 ± 0.09; their scatter of ln
// 0.38 in heat is half of that in current, and sheets differ in how many seconds they mean), what is worth a note in
// one (their lowest quarter), and what motors bear all along (43 general sheets: 0.85 at the median, half of them 0.58
// to 1.07). Sizes left out, the current errs by 15 % at the median and 47 % nine times in ten.
const (
	PunchHeatWKg = 3.9e3
	NotedHeatWKg = 3.0e3
	MeanHeatWKg  = 1.0e3

	motorLimitLnSD = 0.25
)

// MeanLimitA is what an estimated limit for a punch leaves for a steady segment, in A; 0 if the limit is
// printed or not known, for what a printed one means all along no sheet says.
//
//	I_mean = I √(q_mean/q_punch)
func (m *Motor) MeanLimitA() float64 {
	if !m.LimitEstimated {
		return 0
	}
	return m.MaxCurrentA * math.Sqrt(MeanHeatWKg/PunchHeatWKg)
}
