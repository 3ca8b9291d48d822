package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// ThrottleKind is what a display shows as throttle.
type ThrottleKind uint8

// The kinds.
const (
	UnknownThrottle ThrottleKind = iota // taken for an output, with its doubt
	OutputThrottle                      // motor output above idle, or a stick that goes straight to it
	ThrustThrottle                      // an autopilot's command that goes with thrust
	SignalThrottle                      // the signal to the ESC
)

// Constants of what displays show (common practice, no source, but for shareOfFull, which is that of the throttle cap's
// ESCs: full voltage is reached a little before the end of the signal). One 5-inch craft whose output, rpm and
// effective kV were logged showed 47 % for a duty of 53 %, 35 for 42 and 25 for 31; the law says 48, 37 and 25.
const (
	shareOfFull = 1.05
	idleShare   = 0.055 // of the signal; 0.08 to 0.15 on some firmware
	thrustBend  = 0.55  // of an autopilot's thrust curve
	// Standard deviations of the logarithm of what is shown; an output shows a third more than thrust and a tenth less
	// than the signal.
	outputLnSD  = 0.15 // and of the signal
	thrustLnSD  = 0.25
	unknownLnSD = 0.30
)

// Shown is the throttle on a display, 0 to 1, at a duty at the motor; at the top of the stick it stays at 1.
//
//	signal u = d/1.05,  output m = (u − i)/(1 − i),  thrust f = (1 − e) m + e m²
func (k ThrottleKind) Shown(duty float64) float64 {
	signal := math.Min(duty/shareOfFull, 1)
	if k == SignalThrottle {
		return signal
	}
	output := math.Max((signal-idleShare)/(1-idleShare), 0)
	if k == ThrustThrottle {
		return output * (1 - thrustBend + thrustBend*output)
	}
	return output
}

// Scale is the factor on what a display of this kind shows, nominally 1: ESCs bend throttle, and firmware differs.
func (k ThrottleKind) Scale() uncertain.Estimate {
	e := uncertain.Estimate{Value: 1, LnSD: outputLnSD, Basis: uncertain.Estimated}
	switch k {
	case UnknownThrottle:
		e.LnSD = unknownLnSD
	case ThrustThrottle:
		e.LnSD = thrustLnSD
	}
	return e
}
