package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// Constants of the airframe's laws; see DEVELOPERS.md, "How the constants were fitted".
const (
	// m² of drag area of the body a metre of prop diameter. See rotorDragSM for what it was found with; of a body
	// in a fairing it is streamlinedShare (one timed craft).
	dragAreaPerM     = 0.13
	streamlinedShare = 0.35
	dragAreaLnSD     = 0.30    // of 5-inch crafts
	looseDragLnSD    = 0.45    // of others, which no flight pins
	boardKgPerA      = 0.40e-3 // kg a rated ampere of one ESC (common practice, no source: 3 to 4 g at 5 to 12 A, 10 g at 30 A, 20 g at 50 A)
	boardMassLnSD    = 0.30
	boardPowerW      = 1.2 // common practice, no source
	electronicsLnSD  = 0.40
	// One pilot's flights of one craft scatter by 0.14, pilots by more; with it 80 % intervals hold 81 % of timed flights.
	flyingPowerLnSD   = 0.25
	labelMassLnSD     = 0.03 // a mass that the pilot wrote down
	givenDragAreaLnSD = 0.15
	givenPowerLnSD    = 0.15 // of electronics, read from a sheet (common practice, no source)
	rotorDragLnSD     = 0.35 // what the law leaves of the one craft it was found on, and of how blades differ
)

// Unsteadiness is what flying takes over steady flight at the same speeds and lifts, on power: power
// grows faster than thrust, and every change of speed is paid for twice. It is what is fitted to timed flights of
// weighed crafts (`fit flown`). Crafts left out whole, 30 flights lie within 20 % at the median and 44 % nine times in
// ten (whoops under 2 inch 13 and 33, 2 to 4 inch 22 and 53, 5 inch 20 and 32). Indoors the fit says 0.86, from one
// whoop alone: nothing takes less than steady flight, so its power in hover comes out too high, and 1 it is. Rotor
// speeds logged on a 3.5-inch craft say 1.1 to 1.3.
const (
	UnsteadyOutdoors = 1.24
	UnsteadyIndoors  = 1.00
)

// slowestOutdoorsMS is the speed over which nobody flies in a room (judgement).
const slowestOutdoorsMS = 3.5

// Outdoors reports whether segments are of flying outdoors: one is a punch, or has a part of the standard's speed, or a
// speed over that of a room.
func Outdoors(segments []Segment) bool {
	for i := range segments {
		if g := &segments[i]; g.Kind == Punch || g.SpeedPart > 0 || g.SpeedMS > slowestOutdoorsMS {
			return true
		}
	}
	return len(segments) == 0
}

// EstimateDragArea estimates drag coefficient times frontal area of the body in m², the rotors' own drag left out, from
// the diameter of the props that the frame is made for: such crafts are built alike around their props.
func EstimateDragArea(propDiameterM float64, streamlined bool) uncertain.Estimate {
	const inchM = 0.0254
	e := uncertain.Estimate{Value: dragAreaPerM * propDiameterM, LnSD: looseDragLnSD, Basis: uncertain.Estimated}
	if streamlined {
		e.Value *= streamlinedShare
	} else if propDiameterM > 4.5*inchM && propDiameterM < 6*inchM {
		e.LnSD = dragAreaLnSD
	}
	return e
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
// and prop laws together leave open of the current, how an ESC bends throttle, the rotors' own drag,
// and what segments leave open of a way of flying.
func ShareSpread(u *uncertain.Budget) {
	u.Set(uncertain.RotorModel, uncertain.Estimate{LnSD: rotorModelLnSD, Basis: uncertain.Estimated})
	u.Set(uncertain.ThrottleScale, uncertain.Estimate{LnSD: throttleScaleLnSD, Basis: uncertain.Estimated})
	u.Set(uncertain.RotorDrag, uncertain.Estimate{LnSD: rotorDragLnSD, Basis: uncertain.Estimated})
	u.Set(uncertain.FlyingPower, uncertain.Estimate{LnSD: flyingPowerLnSD, Basis: uncertain.Estimated})
}

// GivenPower is the electric power in W of a part as its sheet says.
func GivenPower(powerW float64) uncertain.Estimate {
	return uncertain.Estimate{Value: powerW, LnSD: givenPowerLnSD, Basis: uncertain.Label}
}

// Mass of frames with their screws over the largest prop that they take, D in inches: open ones weigh 2.3 g D^2.2,
// ducted ones 1.7 g D^3.3 (common practice, no source: open 8 to 30 g for 2.5 and 3 inch, 60 to 130 for 5, 130 to 190
// for 7; ducted 3 to 4 g for 31 mm, 4 to 8 for 40 mm, 10 to 20 for 2 inch, 50 to 90 for 3).
const (
	openFrameKg, openFramePower     = 2.3e-3, 2.2
	ductedFrameKg, ductedFramePower = 1.7e-3, 3.3
	frameMassLnSD                   = 0.45
)

// EstimateFrameMass estimates a frame's mass in kg from the diameter in m of the largest prop that it takes.
func EstimateFrameMass(propDiameterM float64, ducted bool) uncertain.Estimate {
	inches := propDiameterM / 0.0254
	massKg := openFrameKg * math.Pow(inches, openFramePower)
	if ducted {
		massKg = ductedFrameKg * math.Pow(inches, ductedFramePower)
	}
	return uncertain.Estimate{Value: massKg, LnSD: frameMassLnSD, Basis: uncertain.Estimated}
}
