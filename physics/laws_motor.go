package physics

import (
	"math"
	"partsaloft/physics/uncertain"
)

// Constants of the motor and ESC laws, fitted to thrust-stand tables of 19 motors of 11 to 23 mm,
// each counting once; see DEVELOPERS.md, "How the constants were fitted". Motors left out: at full
// throttle rpm within 2.8 % at the median and 6.1 % nine times in ten, current 4.7 and 18 %, thrust
// of a prop whose CT is known 5.5 and 12 %; supplied power at a duty under 0.35 13 and 35 %, from
// there to 0.6 9 and 29 %, beyond 5 and 15 %.
const (
	labelSpeedShare     = 0.947     // true kV over label kV
	motorMassKg         = 0.0350    // of a stator of 22 x 7 mm
	motorMassDiameter   = 1.690     // power of its diameter,
	motorMassHeight     = 1.031     // and of its height
	motorConstant       = 0.6365e-3 // N m/√W at 1 g, as sheets print it
	motorConstantPower  = 0.9257
	windingShare        = 0.633  // of that resistance at rest; what is left of the loaded one grows with speed
	resistanceSpeedRadS = 1853.0 // speed at which the share has doubled; from 1000 to 3000 no worse
	escOhm              = 0.0091 // ESC and leads
	lossPerGramNm       = 0.1356e-3
	partThrottleLoss    = 0.5006
	noLoadLoss          = 1.19 // loss torque under load over that of a printed no-load current
)

// Standard deviations of the logarithm that the left-out residuals of the motor laws show.
const (
	motorMassLnSD        = 0.124
	motorSpeedLnSD       = 0.033
	motorResistanceLnSD  = 0.19
	motorLossLnSD        = 0.52 // stands and ESCs differ as much as motors
	motorSpeedResistance = 0.06 // correlation
	// Printed and estimated resistances scatter by 0.30 about each other; no stand shows that the
	// printed one is nearer to the motor under load.
	printedResistanceLnSD = 0.30
	noLoadLnSD            = 0.40 // printed no-load currents scatter by as much about a law of mass
	motorInertiaLnSD      = 0.25 // a guess
	throttleScaleLnSD     = 0.16 // of ESCs that give all at the end of their throttle
	rotorModelLnSD        = 0.08
)

// MotorTorqueConstant is ke = kt in V s/rad for a label kV in rpm/V.
func MotorTorqueConstant(labelKV float64) uncertain.Estimate {
	return uncertain.Estimate{Value: 60 / (2 * math.Pi) / (labelSpeedShare * labelKV), LnSD: motorSpeedLnSD, Basis: uncertain.Label}
}

// EstimateMotorMass estimates a motor's mass in kg, short leads included, from stator diameter and
// height in metres; stator sizes left out of the fit lie within 8.7 % at the median and 19 % nine
// times in ten (38 printed motors up to 70 g).
//
//	m = m0 (D/22 mm)^a (H/7 mm)^b
func EstimateMotorMass(statorDiameterM, statorHeightM float64) uncertain.Estimate {
	m := motorMassKg * math.Pow(statorDiameterM/0.022, motorMassDiameter) * math.Pow(statorHeightM/0.007, motorMassHeight)
	return uncertain.Estimate{Value: m, LnSD: motorMassLnSD, Basis: uncertain.Estimated}
}

// EstimateWinding estimates the winding resistance in ohm from the torque constant and the mass:
// Rw = ke²/Km², with Km the motor constant.
func EstimateWinding(torqueConstantNmA, massKg float64) uncertain.Estimate {
	km := motorConstant * math.Pow(massKg*1000, motorConstantPower)
	return uncertain.Estimate{Value: torqueConstantNmA * torqueConstantNmA / (km * km), LnSD: motorResistanceLnSD, Basis: uncertain.Estimated}
}

// PrintedWinding is the winding resistance that a sheet prints: it says little about what the
// motor shows under load (see DEVELOPERS.md), so law and print share the weight.
func PrintedWinding(printedOhm float64, law uncertain.Estimate) uncertain.Estimate {
	wPrint := 1 / (printedResistanceLnSD * printedResistanceLnSD)
	wLaw := 1 / (law.LnSD * law.LnSD)
	mean := (wPrint*math.Log(printedOhm) + wLaw*math.Log(law.Value)) / (wPrint + wLaw)
	return uncertain.Estimate{Value: math.Exp(mean), LnSD: math.Sqrt(1 / (wPrint + wLaw)), Basis: uncertain.Label}
}

// EstimateLossTorque estimates the loss torque in N m from the mass. It is the same at every speed
// (hysteresis and friction): a part that grows with speed (eddy current) came out under zero on the
// stands, and printed no-load currents show none either.
func EstimateLossTorque(massKg float64) uncertain.Estimate {
	return uncertain.Estimate{Value: lossPerGramNm * massKg * 1000, LnSD: motorLossLnSD, Basis: uncertain.Estimated}
}

// MeasuredLoss is the loss torque in N m under load from a no-load current. The no-load voltage
// does not matter.
func MeasuredLoss(noLoadA, noLoadV, torqueConstantNmA float64) uncertain.Estimate {
	return uncertain.Estimate{Value: noLoadLoss * noLoadA * torqueConstantNmA, LnSD: noLoadLnSD, Basis: uncertain.Label}
}

// EstimateBellInertia estimates the moment of inertia of the turning part in kg m² from mass and stator
// diameter: the bell carries a share of the mass at about its own radius.
//
//	J = share m (D/2 + wall)²
//
// Bells drawn from usual wall thicknesses (magnets D/14, ring D/20, a light cap) have 0.9 to 1.2
// times that from 8 to 28 mm; the inertias printed in sheets have a seventh. A 5-inch racer comes to
// a time constant of 36 ms with this law and to 29 ms with those; published are 30 to 39 ms.
func EstimateBellInertia(massKg, statorDiameterM float64) uncertain.Estimate {
	radius := statorDiameterM/2 + bellWallM
	return uncertain.Estimate{Value: bellMassShare * massKg * radius * radius, LnSD: motorInertiaLnSD, Basis: uncertain.Estimated}
}

const (
	bellMassShare = 0.40
	bellWallM     = 0.0015
)
