package physics

import (
	"math"

	"partsaloft/physics/rotor"
)

// Motor heat: a lumped mass cooled by its prop's wash.
//
//	T = T_air + P R_th,  R_th = heatKW m^(−2/3) with m in grams
//
// The mean of a flight is taken as steady: a motor of 5 to 40 g follows within half a minute to
// two. heatKW is from memory of small outrunners on stands (3 to 5 K/W at 30 g), good to half
// and double.
const heatKW = 40.0

// heatW is what one motor turns to heat: all that goes in and does not leave on the shaft, less
// the ESC's share of the resistance.
func (m *Motor) heatW(o operating) float64 {
	ohm := m.EffectiveOhm(o.speedRadS) - m.ResistanceFactor*m.EscOhm
	return o.currentA*o.currentA*ohm + m.LossNm*o.speedRadS
}

func (m *Motor) temperatureK(heatW float64, air rotor.Air) float64 {
	return air.TemperatureK + heatW*heatKW*math.Pow(m.MassKg*1000, -2.0/3)
}
