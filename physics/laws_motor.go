package physics

import "math"

// Constants of the motor and ESC laws, fitted to thrust-stand tables with whole motors left out;
// see DEVELOPERS.md, "How the constants were fitted".
const (
	labelSpeedShare     = 0.945   // true kV over label kV
	motorMassG          = 12.1    // g at D²H = 1000 mm³
	motorMassPower      = 0.911   //
	motorConstant       = 0.66e-3 // N m/√W at 1 g
	motorConstantPower  = 0.915   //
	escOhm              = 0.011   // ESC and leads
	windingShare        = 0.935   //
	resistanceSpeedRadS = 3700.0  // speed at which the effective resistance has doubled
	lossPerGramNm       = 0.165e-3
	lossSpeedRadS       = 2000.0
	lossSpeedPower      = 0.41
	partThrottleLoss    = 0.3
)

// Standard deviations of the logarithm that the left-out residuals of the motor laws show.
const (
	motorMassLnSD         = 0.12
	motorSpeedLnSD        = 0.04
	motorResistanceLnSD   = 0.20
	motorLossLnSD         = 0.40
	motorSpeedResistance  = 0.5 // correlation
	printedResistanceLnSD = 0.30
	motorInertiaLnSD      = 0.25
	throttleScaleLnSD     = 0.12 // 0.04 of duty at half throttle
	rotorModelLnSD        = 0.08
)

// MotorTorqueConstant is ke = kt in V s/rad for a label kV in rpm/V.
func MotorTorqueConstant(labelKV float64) Estimate {
	return Estimate{60 / (2 * math.Pi) / (labelSpeedShare * labelKV), motorSpeedLnSD, Label}
}

// EstimateMotorMass estimates a motor's mass in kg, short leads included, from stator diameter and
// height in metres.
func EstimateMotorMass(statorDiameterM, statorHeightM float64) Estimate {
	volume := statorDiameterM * statorDiameterM * statorHeightM * 1e9 / 1000
	return Estimate{motorMassG / 1000 * math.Pow(volume, motorMassPower), motorMassLnSD, Estimated}
}

// EstimateWinding estimates the winding resistance in ohm from the torque constant and the mass:
// Rw = ke²/Km², with Km the motor constant.
func EstimateWinding(torqueConstantNmA, massKg float64) Estimate {
	km := motorConstant * math.Pow(massKg*1000, motorConstantPower)
	return Estimate{torqueConstantNmA * torqueConstantNmA / (km * km), motorResistanceLnSD, Estimated}
}

// PrintedWinding is the winding resistance that a sheet prints: it says little about what the
// motor shows under load (see DEVELOPERS.md), so law and print share the weight.
func PrintedWinding(printedOhm float64, law Estimate) Estimate {
	wPrint := 1 / (printedResistanceLnSD * printedResistanceLnSD)
	wLaw := 1 / (law.LnSD * law.LnSD)
	mean := (wPrint*math.Log(printedOhm) + wLaw*math.Log(law.Value)) / (wPrint + wLaw)
	return Estimate{math.Exp(mean), math.Sqrt(1 / (wPrint + wLaw)), Label}
}

// EstimateLossTorque estimates the loss torque in N m at lossSpeedRadS from the mass.
func EstimateLossTorque(massKg float64) Estimate {
	return Estimate{lossPerGramNm * massKg * 1000, motorLossLnSD, Estimated}
}

// MeasuredLoss is the loss torque in N m at lossSpeedRadS from a no-load current and voltage.
func MeasuredLoss(noLoadA, noLoadV, torqueConstantNmA float64) Estimate {
	speed := noLoadV / torqueConstantNmA
	return Estimate{noLoadA * torqueConstantNmA / math.Pow(speed/lossSpeedRadS, lossSpeedPower), 0.2, Label}
}

// EstimateBellInertia estimates the moment of inertia of the turning part in kg m² from mass and stator
// diameter: the bell carries a share of the mass at about its own radius.
//
//	J = share m (D/2 + wall)²
func EstimateBellInertia(massKg, statorDiameterM float64) Estimate {
	radius := statorDiameterM/2 + bellWallM
	return Estimate{bellMassShare * massKg * radius * radius, motorInertiaLnSD, Estimated}
}

// The bell holds magnets, ring and cap: about 45 % of the mass at 1.5 mm outside the stator, less
// what sits at the shaft (common practice, no source).
const (
	bellMassShare = 0.40
	bellWallM     = 0.0015
)
