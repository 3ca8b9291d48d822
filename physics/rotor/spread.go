package rotor

import (
	"math"

	"partsaloft/physics/uncertain"
)

// spread is what is not known of a prop's coefficients: at a reference speed ln CT errs by e_T and ln CP by
// perThrust e_T + e_P, and both further with the distance of ln of speed from it. Standard deviations; index 0 is
// e_T, 1 is e_P.
type spread struct {
	own, series   [2]float64    // of the prop itself, and of its series
	class         [2][4]float64 // of all props of the class: level, and what grows with pitch, blades and diameter
	perThrust     float64
	speed         slopes
	zeroThrust    float64 // of the zero-thrust advance ratio
	basis         [3]uncertain.Basis
	referenceRadS float64
}

// slopes are errors of e_T and e_P over ln of speed.
type slopes struct {
	own, class [2]float64
	perThrust  float64
	basis      uncertain.Basis
}

// Numbers of spread.basis.
const (
	ofThrust = iota
	ofPower
	ofAdvance
)

// spread of a prop, by class, by what of the blade was measured, and by its bench points.
func (s *Spec) spread() spread {
	share := s.MultirotorShare()
	sp := s.conventionalSpread()
	if share > 0 {
		sp = sp.mixed(s.multirotorSpread(), share)
	}
	sp.basis = [3]uncertain.Basis{uncertain.Estimated, uncertain.Estimated, uncertain.Estimated}
	sp.speed.basis = uncertain.Estimated
	sp.referenceRadS = classTipMS / (s.DiameterM / 2)
	// What the ruler leaves open, over what the label leaves open.
	switch angles := s.angles(); {
	case angles >= manyStations:
		sp.shrink(allStationsShare, share)
	case angles > 0:
		sp.shrink(chordAngleShare, share)
	case len(s.Stations) > 0:
		sp.shrink(chordShare, share)
	}
	sp.addPitch(s)
	if len(s.Bench) > 0 {
		s.benched(&sp, share)
	}
	return sp
}

// conventionalSpread is the spread of conventional props from their label.
func (s *Spec) conventionalSpread() spread {
	law := smallSpread
	if s.DiameterM >= largePropM {
		law = largeSpread
	}
	sp := spread{own: law.own, perThrust: conventionalPowerPerThrust, zeroThrust: law.zeroThrust}
	sp.share(s, [2]float64{familyShare, familyShare})
	return sp
}

// multirotorSpread is the spread of multirotor props from their label.
func (s *Spec) multirotorSpread() spread {
	by := [4]float64{1, math.Log(s.PitchM / s.DiameterM / 0.8), math.Log(float64(s.Blades) / 3),
		math.Log(s.DiameterM / typicalDiameterM)}
	law := multirotorErrors
	sp := spread{own: law.own, perThrust: multirotorPowerPerThrust, zeroThrust: multirotorZeroLnSD}
	if s.DiameterM < law.smallUnderM {
		sp.own = law.ownSmall
	}
	if s.Blades < multirotorBlades && s.MadeFor == MadeForUnknown && s.DiameterM >= openFromM {
		sp.own[1] = math.Max(sp.own[1], law.unknownKind)
	}
	for kind := range sp.class {
		for i, x := range by {
			sp.class[kind][i] = law.class[kind][i] * x
		}
	}
	sp.speed = slopes{own: law.ownSpeed, class: law.classSpeed, perThrust: multirotorPowerPerThrust}
	sp.share(s, [2]float64{law.series[0], law.series[1]})
	return sp
}

// share hands a part of a prop's own variances to its series, if it is of one.
func (sp *spread) share(s *Spec, shares [2]float64) {
	if !s.Series {
		return
	}
	for kind, share := range shares {
		sp.own[kind], sp.series[kind] = sp.own[kind]*math.Sqrt(1-share), sp.own[kind]*math.Sqrt(share)
	}
}

// mixed is the spread between two classes: the variances of each by its share.
func (sp spread) mixed(other spread, share float64) spread {
	if share == 1 {
		return other
	}
	m := other
	mix := func(to *float64, from float64) { *to = math.Sqrt(share**to**to + (1-share)*from*from) }
	for kind := range sp.own {
		mix(&m.own[kind], sp.own[kind])
		mix(&m.series[kind], sp.series[kind])
		mix(&m.speed.own[kind], sp.speed.own[kind])
		for i := range m.class[kind] {
			m.class[kind][i] *= math.Sqrt(share)
		}
		m.speed.class[kind] *= math.Sqrt(share)
	}
	mix(&m.zeroThrust, sp.zeroThrust)
	m.perThrust = share*m.perThrust + (1-share)*sp.perThrust
	return m
}

// angles is how many stations have their angle measured.
func (s *Spec) angles() int {
	n := 0
	for _, st := range s.Stations {
		if st.AngleRad > 0 {
			n++
		}
	}
	return n
}

// shrink multiplies the standard deviations of CT, CP and zero-thrust advance ratio by what a ruler leaves of them, found
// on conventional props. Of multirotor props e_P is that of the figure of merit, which no blade measured makes less sure:
// by their share it does not grow.
func (sp *spread) shrink(by [3]float64, multirotor float64) {
	thrust, merit := sp.total(0), sp.total(1)
	power := math.Hypot(sp.perThrust*thrust, merit) * by[1]
	left := math.Sqrt(math.Max(power*power-sq(sp.perThrust*thrust*by[0]), sq(leastMeritShare*merit)))
	left += multirotor * (math.Min(left, merit) - left)
	sp.scale(0, by[0])
	sp.scale(1, left/merit)
	sp.zeroThrust *= by[2]
	sp.basis = [3]uncertain.Basis{uncertain.Label, uncertain.Label, uncertain.Label}
}

// leastMeritShare is the least that a ruler leaves of e_P (judgement).
const leastMeritShare = 0.5

func sq(x float64) float64 { return x * x }

// total is the standard deviation of e_T or e_P.
func (sp *spread) total(kind int) float64 {
	sum := sq(sp.own[kind]) + sq(sp.series[kind])
	for _, x := range sp.class[kind] {
		sum += x * x
	}
	return math.Sqrt(sum)
}

func (sp *spread) scale(kind int, by float64) {
	sp.own[kind] *= by
	sp.series[kind] *= by
	for i := range sp.class[kind] {
		sp.class[kind][i] *= by
	}
}

// addPitch adds what a pitch that no label gives leaves open. An angle measured on the blade takes its place.
func (sp *spread) addPitch(s *Spec) {
	sd := s.PitchLnSD
	if !(sd > 0) || s.angles() > 0 {
		return
	}
	sp.own[0] = math.Hypot(sp.own[0], thrustPerPitch*sd)
	sp.own[1] = math.Hypot(sp.own[1], (powerPerPitch-sp.perThrust*thrustPerPitch)*sd)
	sp.zeroThrust = math.Hypot(sp.zeroThrust, zeroPerPitch*sd)
	sp.basis = [3]uncertain.Basis{uncertain.Estimated, uncertain.Estimated, uncertain.Estimated}
}

// benched is what bench points leave, of a prop that belongs to the multirotor class by a share.
func (s *Spec) benched(sp *spread, share float64) {
	var torque, advancing bool
	var logs, weights float64
	for _, b := range s.Bench {
		torque, advancing = torque || b.TorqueNm > 0, advancing || b.AxialMS > 0
		w := b.ThrustN * b.ThrustN
		logs, weights = logs+w*math.Log(b.SpeedRadS), weights+w
	}
	sp.referenceRadS = math.Exp(logs / weights)
	sp.own[0], sp.series[0], sp.class[0] = benchLeavesThrust, 0, [4]float64{}
	sp.basis[ofThrust] = uncertain.Measured
	speed, merit := benchSpeedSD, benchMeritSpeedSD
	if s.DiameterM >= largePropM {
		speed, merit = benchSpeedLargeSD, benchMeritSpeedLargeSD
	}
	sp.speed.own[0] = math.Sqrt(speed*speed - sq(sp.speed.class[0]))
	sp.speed.perThrust, sp.speed.basis = sp.perThrust, uncertain.Label
	if share < 1 {
		sp.speed.own[1] = math.Hypot(sp.speed.own[1], math.Sqrt(1-share)*merit)
	}
	switch pitch := s.PitchLnSD; {
	case !torque:
		sp.zeroThrust = math.Min(sp.zeroThrust, math.Hypot(thrustOnlyZeroLnSD, zeroPerPitch*pitch))
		sp.basis[ofPower], sp.basis[ofAdvance] = uncertain.Label, uncertain.Label
	default:
		power := benchLeavesPower
		if share > 0 {
			power = benchLeavesMultirotorPower
		}
		sp.perThrust = benchCorrelation * power / benchLeavesThrust
		sp.own[1], sp.series[1], sp.class[1] = power*math.Sqrt(1-benchCorrelation*benchCorrelation), 0, [4]float64{}
		sp.zeroThrust = math.Min(sp.zeroThrust, math.Hypot(benchLeavesZero, zeroPerPitch*pitch))
		sp.basis[ofPower], sp.basis[ofAdvance] = uncertain.Measured, uncertain.Label
	}
	if advancing {
		sp.zeroThrust = math.Min(sp.zeroThrust, advancingZeroLnSD)
		sp.basis[ofAdvance] = uncertain.Measured
	}
}

// forms are the errors as linear forms of the numbers that they share.
func (sp *spread) forms() uncertain.PropForms {
	var f uncertain.PropForms
	// put adds e_T or e_P of a number to a pair of rows.
	put := func(row, kind int, number uncertain.PropNumber, sd, perThrust float64) {
		if kind == 0 {
			f[row][number], f[row+1][number] = sd, perThrust*sd
		} else {
			f[row+1][number] = sd
		}
	}
	for kind := range sp.own {
		k := uncertain.PropNumber(kind)
		put(0, kind, uncertain.OwnThrust+k, sp.own[kind], sp.perThrust)
		put(0, kind, uncertain.SeriesThrust+k, sp.series[kind], sp.perThrust)
		first := [...]uncertain.PropNumber{uncertain.ClassThrust, uncertain.ClassMerit}[kind]
		for i, sd := range sp.class[kind] {
			put(0, kind, first+uncertain.PropNumber(i), sd, sp.perThrust)
		}
		put(2, kind, uncertain.OwnThrustSpeed+k, sp.speed.own[kind], sp.speed.perThrust)
		put(2, kind, [...]uncertain.PropNumber{uncertain.ClassThrustSpeed, uncertain.ClassMeritSpeed}[kind],
			sp.speed.class[kind], sp.speed.perThrust)
	}
	return f
}

// uncertainty states the spread about a prop's factors, and what is not known of its mass.
func (s *Spec) uncertainty(sp *spread, thrust, power, advance float64) Uncertainty {
	f := sp.forms()
	u := Uncertainty{
		Thrust:     uncertain.Estimate{Value: thrust, LnSD: f.LnSD(0), Basis: sp.basis[ofThrust]},
		Power:      uncertain.Estimate{Value: power, LnSD: f.LnSD(1), Basis: sp.basis[ofPower]},
		ZeroThrust: uncertain.Estimate{Value: advance, LnSD: sp.zeroThrust, Basis: sp.basis[ofAdvance]},
		Mass:       uncertain.Estimate{Value: s.MassKg, LnSD: measuredMassLnSD, Basis: uncertain.Measured},
		Forms:      f, SpeedBasis: sp.speed.basis,
	}
	if !(s.MassKg > 0) {
		u.Mass = EstimateMass(s.DiameterM, s.PitchM, s.Blades)
	}
	u.Inertia = EstimateInertia(u.Mass.Value, s.DiameterM, s.MassPlace)
	return u
}
