package rotor

import (
	"math"

	"partsaloft/physics/uncertain"
)

// LabelPolar is the section polar of conventional props, fitted to measured CT and CP of 94 props (UIUC Propeller
// Database, vols 1-3), each family counting once; see DEVELOPERS.md, "How the constants were fitted".
func LabelPolar() Polar {
	return Polar{
		ZeroLiftRad: -0.04001, ZeroLiftLog: -0.01909,
		Slope: 5.464, SlopeLog: -0.06286,
		LiftMax: 1.339, LiftMaxLog: 0.04738, LiftMin: -0.6, Softness: 0.4044,
		Drag: 0.02818, DragLog: -0.4872, DragRise: 0.118, DragLift: 0.3731, DragStall: 0.6467,
		StallRad: 0.517, StallWidthRad: 0.2, PlateForce: 1.5,
		LogLow: -4, LogHigh: 2.2, Zero75Low: -3.5, Zero75High: 2,
	}
}

// LabelBlade is the law that guesses a blade from its label, fitted together with LabelPolar; the
// two shapes along the blade are means of 45 measured props.
func LabelBlade() BladeLaw {
	return BladeLaw{
		Chord: -1.72, ChordBlades: -0.2047, ChordDiameter: -0.3046, ChordPitch: -0.02692,
		PitchShift: 0.03721, PitchScale: 0.7061, PitchPower: 0.9515,
		ChordShape: [stationCount]float64{.888, 1.053, 1.131, 1.172, 1.183, 1.158, 1.112, 1.051, .975, .887, .799, .675,
			.535, .263},
		PitchShape: [stationCount]float64{.626, .821, .888, .929, .962, .986, .991, .997, 1, 1, .994, .991, .923, .861},
	}
}

// LabelThrust is the factor on CT that the fit leaves over for the label of a conventional prop.
func LabelThrust() LabelFactor {
	return LabelFactor{Level: -0.03084, Pitch: 0.1476, Blades: 0.06202, Diameter: 0.1074}
}

// LabelBench is how bench points correct a prop.
func LabelBench() BenchLaw {
	return BenchLaw{
		ZeroShift: -0.017, ZeroThrust: -0.139, ZeroPower: 0.351,
		PitchLnSD: 0.12, ChordLnSD: 0.22, DragLnSD: 0.30,
		Bend: 0.5, Shift: 0.5,
	}
}

// labelSpread is what a law leaves open for a label; index 0 is e_T, 1 is e_P of spread.
type labelSpread struct {
	own        [2]float64
	zeroThrust float64
}

// What the conventional law leaves open under 6.5 inch and from there on: standard deviations whose normal 80 %
// interval holds 80 % of the props of families left out of the fit (CT 0.205 and 0.172, CP 0.195 and 0.172, of which
// conventionalPowerPerThrust times that of CT goes with CT).
var (
	smallSpread = labelSpread{[2]float64{0.205, 0.143}, 0.138}
	largeSpread = labelSpread{[2]float64{0.172, 0.131}, 0.077}
)

// classErrors are the errors of multirotor props; index 0 is e_T, 1 is e_P, which is the error of CP/CT^1.5.
type classErrors struct {
	own, ownSmall [2]float64 // of the prop itself, and under smallUnderM
	smallUnderM   float64
	unknownKind   float64       // e_P of two blades of which it is not said what they were made for
	class         [2][4]float64 // level, times ln((P/D)/0.8), times ln(B/3), times ln(D/5 in)
	ownSpeed      [2]float64    // times ln of speed over that of a tip speed of classTipMS
	classSpeed    [2]float64
	series        [2]float64 // shares of the own variances
}

// multirotorErrors: levels and slopes differ between stands by so much (families left out of the fit, by fit bench: 80
// % intervals hold 84 % of 38 props in CT and 88 % of 26 in CP); the shares of a series are judgement.
var multirotorErrors = classErrors{
	own: [2]float64{0.11, 0.06}, ownSmall: [2]float64{0.14, 0.09}, smallUnderM: 4.2 * metresPerInch, unknownKind: 0.12,
	class:    [2][4]float64{{0.09, 0.40, 0.10, 0.12}, {0.045, 0.15, 0.08, 0.08}},
	ownSpeed: [2]float64{0.04, 0.06}, classSpeed: [2]float64{0.04, 0.09}, series: [2]float64{0.6, 0.3},
}

const (
	classTipMS                 = 110.0
	multirotorZeroLnSD         = 0.10 // judgement, as ClassLaw.Advance of the class
	conventionalPowerPerThrust = 0.65 // 0.58 and 0.72 were found two ways
	multirotorPowerPerThrust   = 1.5  // the same CP/CT^1.5
)

// softTwist is Blade.SoftTwist of a class of stiffness, per pascal. Of eleven thin park-flyer
// blades with their shape measured, CT falls over rpm as a softness of 0 to 4e-6 would make it
// (4x2.5 inch 5e-7, 3x3 1e-6, 5x4.3 2.5e-6); multirotor props on a 5-inch stand show none up to
// 24 000 rpm. Soft is the lower third of the former, medium a third of that. Specimens known to
// twist (five in UIUC vol. 2) gain pitch with load instead: the sign is not certain.
func (f Flex) softTwist() float64 {
	return [...]float64{FlexUnknown: 0, FlexStiff: 0, FlexMedium: 1.7e-7, FlexSoft: 5e-7}[f]
}

const (
	largePropM   = 6.5 * metresPerInch
	familyShare  = 0.60 // of the variance between props lies between families: 0.64 of CT, 0.58 of CP
	manyStations = 4
)

// What measured stations leave of the label's standard deviations of CT, CP, zero-thrust advance: families left out,
// by fit bench.
var (
	chordShare       = [3]float64{0.58, 1.2, 1}
	chordAngleShare  = [3]float64{0.58, 0.9, 0.75}
	allStationsShare = [3]float64{0.58, 0.95, 0.75}
)

// What bench points leave open, and how they are used.
const (
	benchThrustLnSD    = 0.02 // of one point, in the most likely blade
	benchTorqueLnSD    = 0.04 //
	thrustOnlyZeroLnSD = 0.15
	advancingZeroLnSD  = 0.04
	benchCorrelation   = 0.5
	measuredPitchLnSD  = 0.05
	measuredChordLnSD  = 0.05
	benchThrustLimit   = 1.0 // ln ratio to the label's thrust that no prop reaches
	benchTorqueLimit   = 1.4
	benchSpreadLimit   = 0.30 // ln ratio between CT of two static points
)

// What one bench point leaves of CT and CP at its speed, and of their slopes over ln of speed (families left out; a
// constant error covered half of the points far away), and of the zero-thrust advance ratio.
const (
	benchLeavesThrust          = 0.015
	benchLeavesPower           = 0.02
	benchLeavesMultirotorPower = 0.03
	benchSpeedSD               = 0.08
	benchSpeedLargeSD          = 0.10 // from 6.5 inch
	benchMeritSpeedSD          = 0.10 // of CP beyond what goes with CT, conventional
	benchMeritSpeedLargeSD     = 0.05
	benchLeavesZero            = 0.07
)

// Mass and inertia of a prop.
const (
	measuredMassLnSD = 0.02
	propMassKg       = 4.3e-3 // three blades, 5 inch, P/D of 0.85
	propMassLnSD     = 0.20
	propInertiaLnSD  = 0.10
)

// EstimateMass estimates a prop's mass in kg from its label. Of 36 weighed props, 9 with all of
// their label lie within 5.5 % at the median and 19 % nine times in ten, 27 whose blades or pitch had
// to be guessed within 14 and 27 %. All had three blades or were taken to have them: that power is
// common practice, no source.
func EstimateMass(diameterM, pitchM float64, blades int) uncertain.Estimate {
	m := propMassKg * math.Pow(diameterM/typicalDiameterM, 2.15) * math.Pow(float64(blades)/3, 0.7) *
		math.Pow(pitchM/diameterM/0.85, 0.3)
	return uncertain.Estimate{Value: m, LnSD: propMassLnSD, Basis: uncertain.Estimated}
}

// EstimateInertia estimates a prop's moment of inertia in kg m² from its mass and from where
// a blade of that mass has its metal. The hub takes propHubShare of the mass at next to no radius
// (common practice, no source: a quarter to a third). The rest lies along the blade as its
// section, chord² times thickness ratio: ordinary blades thin out to half that ratio at the tip,
// root-heavy ones to none, and tip-heavy ones hold their section (a uniform rod from the hub).
// That gives 0.22, 0.17 and 0.29 m R²; a uniform rod without a hub has 0.33.
func EstimateInertia(massKg, diameterM float64, place MassPlace) uncertain.Estimate {
	law := LabelBlade()
	radii, widths := stationRadii()
	var mass, inertia float64
	for i, x := range radii {
		chord := law.ChordShape[i]
		along := (x - rootRadius) / (1 - rootRadius)
		metal := [...]float64{MassEven: chord * chord * (1 - along/2), MassRoot: chord * chord * (1 - along),
			MassTip: 1}[place]
		mass += metal * widths[i]
		inertia += metal * widths[i] * x * x
	}
	share := (1 - propHubShare) * inertia / mass
	return uncertain.Estimate{Value: share * massKg * diameterM * diameterM / 4, LnSD: propInertiaLnSD,
		Basis: uncertain.Estimated}
}

// propHubShare is the hub's share of a prop's mass.
const propHubShare = 0.27
