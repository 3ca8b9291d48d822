package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

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
