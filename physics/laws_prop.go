package physics

import "math"

// LabelPolar is the section polar fitted to measured CT and CP; see DEVELOPERS.md, "How the
// constants were fitted".
func LabelPolar() Polar {
	return Polar{
		ZeroLiftRad: -0.0545, ZeroLiftLog: -0.020,
		Slope: 5.045, SlopeLog: -0.0425,
		LiftMax: 1.276, LiftMaxLog: 0.0656, LiftMin: -0.6, Softness: 0.156,
		Drag: 0.0326, DragLog: -0.496, DragRise: 0.110, DragLift: 0.384, DragStall: 0.654,
		StallRad: 0.517, StallWidthRad: 0.08, PlateForce: 1.5,
		LogLow: -3, LogHigh: 2.2, Zero75Low: -2.5, Zero75High: 2,
	}
}

// LabelBlade is the law that guesses a blade from its label, fitted together with LabelPolar.
func LabelBlade() BladeLaw {
	return BladeLaw{
		Chord: -1.611, ChordBlades: -0.229, ChordDiameter: -0.436, ChordPitch: 0.023,
		PitchShift: 0.0367, PitchScale: 0.7, PitchPower: 0.949,
		ChordShape: [stationCount]float64{.900, 1.01, 1.033, 1.07, 1.11, 1.107, 1.088, 1.042, .974, .892, .808, .690, .555, .273},
		PitchShape: [stationCount]float64{.570, .790, .886, .930, .960, .997, 1, 1, 1, 1, .998, .987, .911, .850},
	}
}

// labelThrustFactor is the factor on CT that the fit leaves over for a label.
func labelThrustFactor(diameterM, pitchM float64, blades int) float64 {
	return math.Exp(0.002 + 0.160*math.Log(pitchM/diameterM/typicalPitchRatio) +
		0.058*math.Log(float64(blades)/2) + 0.139*math.Log(diameterM/typicalDiameterM))
}
