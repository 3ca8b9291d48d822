package rotor

// Pitch of props whose label gives none: its ratio to the diameter, and what CT, CP and the advance ratio of no thrust
// gain for each unit of its logarithm. The ratio is the geometric mean over 19 labelled props of 1.6 to 4 inches (the
// tables that the laws are fitted to), the sd that of its logarithm; the gains of CT are those of blades at rest by
// the label's law at ratios of 0.5 to 1, of CP 1.5 times as much, as thrust costs props of any pitch about the same.
const (
	UnknownPitchRatio = 0.72
	UnknownPitchLnSD  = 0.36

	thrustPerPitch, powerPerPitch, zeroPerPitch = 0.7, 1.05, 1.0
)
