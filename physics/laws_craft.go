package physics

import "partsaloft/physics/uncertain"

// Constants of the airframe's laws; see DEVELOPERS.md, "How the constants were fitted".
const (
	dragAreaPerM      = 0.121 // m² of drag area a metre of prop diameter
	dragAreaLnSD      = 0.35
	boardKgPerA       = 0.40e-3 // kg a rated ampere of one ESC (common practice, no source: 3 to 4 g at 5 to 12 A, 10 g at 30 A, 20 g at 50 A)
	boardMassLnSD     = 0.30
	boardPowerW       = 1.2 // common practice, no source
	electronicsLnSD   = 0.40
	flyingPowerLnSD   = 0.20 // one pilot's flights of one craft scatter by 0.14, pilots by more
	labelMassLnSD     = 0.03 // a mass that the pilot wrote down
	givenDragAreaLnSD = 0.15
)

// UnsteadyFactor is what flying takes over steady flight at the same speeds and load factors: power
// grows faster than thrust, and every change of speed is paid for twice. It is the one constant
// fitted to timed flights; whole crafts left out, 25 flights of 13 crafts lie within 16 % at the
// median and 55 % nine times in ten, 80 % of them between 0.7 and 1.4 times the timed.
const UnsteadyFactor = 1.20

// EstimateDragArea estimates drag coefficient times frontal area in m² from the diameter of the
// props that the frame is made for: such crafts are built alike around their props.
func EstimateDragArea(propDiameterM float64) uncertain.Estimate {
	return uncertain.Estimate{Value: dragAreaPerM * propDiameterM, LnSD: dragAreaLnSD, Basis: uncertain.Estimated}
}

// GivenDragArea is a drag area in m² that the pilot knows.
func GivenDragArea(areaM2 float64) uncertain.Estimate {
	return uncertain.Estimate{Value: areaM2, LnSD: givenDragAreaLnSD, Basis: uncertain.Label}
}

// EstimateBoardMass estimates a board's mass in kg from the rating of one of its ESCs in A.
func EstimateBoardMass(escA float64) uncertain.Estimate {
	return uncertain.Estimate{Value: boardKgPerA * escA, LnSD: boardMassLnSD, Basis: uncertain.Estimated}
}

// EstimateBoardPower is what a flight controller with its ESCs takes for itself, in W.
func EstimateBoardPower() uncertain.Estimate {
	return uncertain.Estimate{Value: boardPowerW, LnSD: electronicsLnSD, Basis: uncertain.Estimated}
}

// GivenMass is a mass in kg that the pilot wrote down: weighed, or read from a sheet.
func GivenMass(massKg float64) uncertain.Estimate {
	return uncertain.Estimate{Value: massKg, LnSD: labelMassLnSD, Basis: uncertain.Label}
}

// ShareSpread sets the standard deviations of the inputs that no part carries alone: what motor
// and prop laws together leave open of the current, how an ESC bends throttle, and what segments
// leave open of a way of flying.
func ShareSpread(u *uncertain.Budget) {
	u.Set(uncertain.RotorModel, uncertain.Estimate{LnSD: rotorModelLnSD, Basis: uncertain.Estimated})
	u.Set(uncertain.ThrottleScale, uncertain.Estimate{LnSD: throttleScaleLnSD, Basis: uncertain.Estimated})
	u.Set(uncertain.FlyingPower, uncertain.Estimate{LnSD: flyingPowerLnSD, Basis: uncertain.Estimated})
}
