package rotor

import (
	"math"

	"partsaloft/physics/uncertain"
)

// spread is what is not known of a prop's coefficients, standard deviations of logarithms.
type spread struct {
	thrust, power, zeroThrust, correlation, seriesShare float64
	basis, powerBasis, advanceBasis                     uncertain.Basis
}

// spread of a prop without bench points, by class and by what of the blade was measured.
func (s *Spec) spread() spread {
	sp := smallSpread
	switch {
	case s.MultirotorShare() > 0:
		sp = s.multirotorSpread()
	case s.DiameterM >= largePropM:
		sp = largeSpread
	}
	angles := s.angles()
	// What the ruler leaves open, over what the label leaves open.
	switch {
	case angles >= manyStations:
		sp.shrink(allStationsShare)
	case angles > 0:
		sp.shrink(chordAngleShare)
	case len(s.Stations) > 0:
		sp.shrink(chordShare)
	}
	return sp
}

// multirotorSpread is the spread of multirotor props: with e_T the error of ln CT and e_K that of K = CP/CT^1.5,
// ln CP errs by 1.5 e_T + e_K.
func (s *Spec) multirotorSpread() spread {
	pitch, blades := math.Log(s.PitchM/s.DiameterM/0.8), math.Log(float64(s.Blades)/3)
	size := math.Log(s.DiameterM / typicalDiameterM)
	own := [2]float64{0.11, 0.06}
	if s.DiameterM < 4.2*metresPerInch {
		own = [2]float64{0.14, 0.09}
	}
	if s.Blades < multirotorBlades && s.MadeFor == MadeForUnknown && s.DiameterM >= openFromM {
		own[1] = 0.12
	}
	thrust := math.Sqrt(own[0]*own[0] + 0.09*0.09 + sq(0.50*pitch) + sq(0.10*blades) + sq(0.17*size))
	merit := math.Sqrt(own[1]*own[1] + 0.045*0.045 + sq(0.20*pitch) + sq(0.10*blades) + sq(0.12*size))
	power := math.Hypot(1.5*thrust, merit)
	return spread{thrust, power, 0.10, 1.5 * thrust / power, familyShare, uncertain.Estimated, uncertain.Estimated,
		uncertain.Estimated}
}

func sq(x float64) float64 { return x * x }

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

// shrink multiplies the standard deviations of CT, CP and zero-thrust advance ratio.
func (s *spread) shrink(by [3]float64) {
	s.thrust *= by[0]
	s.power *= by[1]
	s.zeroThrust *= by[2]
	s.basis, s.powerBasis, s.advanceBasis = uncertain.Label, uncertain.Label, uncertain.Label
}

// spread left over by bench points.
func (b *benchMatch) spread(sp spread) spread {
	n := math.Sqrt(float64(b.points))
	before := sp
	sp.thrust = math.Hypot(benchLeavesThrust, benchRepeat/n)
	sp.power = math.Hypot(benchLeavesPower*before.power, benchRepeat/n)
	sp.zeroThrust = math.Min(sp.zeroThrust, benchLeavesZero)
	sp.basis, sp.powerBasis, sp.advanceBasis = uncertain.Measured, uncertain.Measured, uncertain.Label
	if !b.torque {
		sp.power = before.power * thrustOnlyPowerShare
		sp.powerBasis = uncertain.Label
		sp.zeroThrust = math.Min(before.zeroThrust, thrustOnlyZeroLnSD)
	}
	if b.advancing {
		sp.zeroThrust = math.Min(sp.zeroThrust, advancingZeroLnSD)
		sp.advanceBasis = uncertain.Measured
	}
	sp.correlation = benchCorrelation
	sp.seriesShare = 0
	return sp
}
