package rotor

import (
	"math"

	"partsaloft/physics/uncertain"
)

// Pitch of props whose label gives none: its ratio to the diameter, and what CT, CP and the advance ratio of no thrust
// gain for each unit of its logarithm. The ratio is the geometric mean over 19 labelled props of 1.6 to 4 inches (the
// tables that the laws are fitted to), the sd that of its logarithm; the gains of CT are those of blades at rest by
// the label's law at ratios of 0.5 to 1, of CP 1.5 times as much, as thrust costs props of any pitch about the same.
const (
	UnknownPitchRatio = 0.72
	UnknownPitchLnSD  = 0.36

	thrustPerPitch, powerPerPitch, zeroPerPitch = 0.7, 1.05, 1.0
)

// addPitch adds what a pitch that no label gives leaves open. An angle measured on the blade takes its place; a thrust
// that was read leaves it to the advance ratio alone.
func (u *Uncertainty) addPitch(s *Spec) {
	sd := s.PitchLnSD
	if !(sd > 0) || s.angles() > 0 {
		return
	}
	add := func(e *uncertain.Estimate, gain float64) {
		e.LnSD = math.Hypot(e.LnSD, gain*sd)
		e.Basis = max(e.Basis, uncertain.Estimated)
	}
	add(&u.ZeroThrust, zeroPerPitch)
	if len(s.Bench) > 0 {
		return
	}
	together := u.ThrustPower*u.Thrust.LnSD*u.Power.LnSD + thrustPerPitch*powerPerPitch*sd*sd
	shared := u.SeriesShare * u.Thrust.LnSD * u.Thrust.LnSD
	add(&u.Thrust, thrustPerPitch)
	add(&u.Power, powerPerPitch)
	u.ThrustPower = together / (u.Thrust.LnSD * u.Power.LnSD)
	u.SeriesShare = shared / (u.Thrust.LnSD * u.Thrust.LnSD) // each prop's pitch is its own
}
