package physics

import "math"

// LabelPolar is the section polar fitted to measured CT and CP; see DEVELOPERS.md, "How the
// constants were fitted".
func LabelPolar() Polar {
	return Polar{
		ZeroLiftRad: -0.0545, ZeroLiftLog: -0.020,
		Slope: 5.045, SlopeLog: -0.0425,
		LiftMax: 1.276, LiftMaxLog: 0.0656, LiftMin: -0.6, Softness: 0.43,
		Drag: 0.0326, DragLog: -0.496, DragRise: 0.110, DragLift: 0.384, DragStall: 0.654,
		StallRad: 0.517, StallWidthRad: 0.2, PlateForce: 1.5,
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

// LabelThrust is the factor on CT that the fit leaves over for a label.
func LabelThrust() LabelFactor {
	return LabelFactor{Level: 0.002, Pitch: 0.160, Blades: 0.058, Diameter: 0.139}
}

// LabelPower is LabelThrust for CP.
func LabelPower() LabelFactor { return LabelFactor{} }

// Uncertainty of the label laws by class of prop, from props left out of the fit: logarithmic
// standard deviations of CT, CP and zero-thrust advance ratio, and the correlation of the first two.
var (
	smallSpread  = spread{0.22, 0.31, 0.26, 0.69, familyShare, Estimated, Estimated, Estimated}
	racingSpread = spread{0.18, 0.35, 0.26, 0.36, familyShare, Estimated, Estimated, Estimated}
	largeSpread  = spread{0.165, 0.183, 0.10, 0.83, familyShare, Estimated, Estimated, Estimated}
)

// softTwist is Blade.SoftTwist of a class of stiffness, per pascal.
func (f Flex) softTwist() float64 {
	return [...]float64{FlexUnknown: 0, FlexStiff: 0, FlexMedium: 0, FlexSoft: 0}[f]
}

const (
	largePropM   = 6.5 * metresPerInch
	familyShare  = 0.8 // of the variance between props lies between series
	manyStations = 4
)

// What measured stations leave of the label's standard deviations of CT, CP, zero-thrust advance.
var (
	chordShare       = [3]float64{0.8, 0.85, 0.95}
	chordAngleShare  = [3]float64{0.65, 0.75, 0.6}
	allStationsShare = [3]float64{0.55, 0.65, 0.5}
)

// What bench points leave open, and how they are used.
const (
	benchThrustLnSD      = 0.02 // of the stand
	benchTorqueLnSD      = 0.04
	thrustOnlyPowerShare = 0.72 // sqrt(1 − correlation²)
	thrustOnlyZeroLnSD   = 0.15
	advancingZeroLnSD    = 0.04
	benchCorrelation     = 0.5
	zeroShift            = -0.077
	zeroThrustShare      = -0.138
	zeroPowerShare       = 0.478
	powerPerThrust       = 0.97
	pitchLnSD            = 0.12
	chordLnSD            = 0.22
	dragLnSD             = 0.30
	measuredPitchLnSD    = 0.05
	measuredChordLnSD    = 0.05
	benchThrustLimit     = 1.0 // ln ratio to the label's thrust that no prop reaches
	benchTorqueLimit     = 1.4
	benchSpreadLimit     = 0.30 // ln ratio between CT of two static points
)

// benchModelLnSD is what stays open of CT, CP and the zero-thrust advance ratio when a bench point is exact.
var benchModelLnSD = [3]float64{0.025, 0.035, 0.12}

// Mass and inertia of a prop.
const (
	measuredMassLnSD = 0.02
	propMassKg       = 4.3e-3 // three blades, 5 inch, P/D of 0.85
	propMassLnSD     = 0.20
	propInertiaLnSD  = 0.10
)

// EstimatePropMass estimates a prop's mass in kg from its label.
func EstimatePropMass(diameterM, pitchM float64, blades int) Estimate {
	m := propMassKg * math.Pow(diameterM/typicalDiameterM, 2.15) * math.Pow(float64(blades)/3, 0.7) *
		math.Pow(pitchM/diameterM/0.85, 0.3)
	return Estimate{m, propMassLnSD, Estimated}
}

// EstimatePropInertia estimates a prop's moment of inertia in kg m² from its mass and from where
// a blade of that mass has its metal. The hub takes propHubShare of the mass at next to no radius
// (common practice, no source: a quarter to a third). The rest lies along the blade as its
// section, chord² times thickness ratio: ordinary blades thin out to half that ratio at the tip,
// root-heavy ones to none, and tip-heavy ones hold their section (a uniform rod from the hub).
// That gives 0.22, 0.17 and 0.29 m R²; a uniform rod without a hub has 0.33.
func EstimatePropInertia(massKg, diameterM float64, place MassPlace) Estimate {
	law := LabelBlade()
	radii, widths := stationRadii()
	var mass, inertia float64
	for i, x := range radii {
		chord := law.ChordShape[i]
		along := (x - rootRadius) / (1 - rootRadius)
		metal := [...]float64{MassEven: chord * chord * (1 - along/2), MassRoot: chord * chord * (1 - along), MassTip: 1}[place]
		mass += metal * widths[i]
		inertia += metal * widths[i] * x * x
	}
	share := (1 - propHubShare) * inertia / mass
	return Estimate{share * massKg * diameterM * diameterM / 4, propInertiaLnSD, Estimated}
}

// propHubShare is the hub's share of a prop's mass.
const propHubShare = 0.27
