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
	case s.DiameterM >= largePropM:
		sp = largeSpread
	case s.Blades >= 3:
		sp = racingSpread
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
