package physics

// Basis says where a number comes from. A higher basis is a weaker one.
type Basis uint8

// The bases, strongest first.
const (
	Measured  Basis = iota // weighed, timed, on a bench
	Label                  // printed on the part or in its sheet
	Estimated              // by a law fitted to other parts
)

// String returns the word used in output.
func (b Basis) String() string {
	return [...]string{"measured", "label", "estimated"}[b]
}

// Estimate is a positive number with the standard deviation of its natural logarithm.
type Estimate struct {
	Value float64
	LnSD  float64
	Basis Basis
}

// Input names one uncertain input of a craft. Every input acts as a factor on its nominal value.
type Input uint8

// The uncertain inputs of a craft, grouped by the part that carries them.
const (
	PropThrust       Input = iota // factor on CT
	PropPower                     // factor on CP
	PropZeroThrust                // factor on the advance ratio of zero thrust
	PropMass                      // factor on one prop's mass
	PropInertia                   // factor on one prop's moment of inertia beyond its mass
	MotorSpeed                    // factor on kV
	MotorResistance               // factor on the effective resistance
	MotorLoss                     // factor on the loss torque
	MotorMass                     // factor on one motor's mass
	MotorInertia                  // factor on the bell's moment of inertia beyond its mass
	PackResistance                // factor on the pack's internal resistance
	PackCapacity                  // factor on the capacity
	PackMass                      // factor on the pack's mass
	FrameMass                     // factor on the frame's mass
	DragArea                      // factor on the drag area
	BoardMass                     // factor on the board's mass
	ElectronicsPower              // factor on the electronics' power
	ExtrasMass                    // factor on the extras' mass, straps and wires included
	RotorModel                    // factor on motor current that motor and prop data leave open
	ThrottleScale                 // exponent of duty over throttle on a stand: ESC calibration
	FlyingPower                   // factor on mean power that segments leave open
	InputCount
)

var inputNames = [InputCount]string{
	"prop thrust", "prop power", "prop zero-thrust advance", "prop mass", "prop inertia",
	"motor kV", "motor resistance", "motor loss", "motor mass", "motor inertia",
	"pack resistance", "pack capacity", "pack mass", "frame mass", "drag area", "board mass",
	"electronics power", "extras mass", "rotor current", "throttle scale", "way of flying",
}

// String returns the input's name in words.
func (i Input) String() string { return inputNames[i] }

// Uncertainty holds the standard deviation of the natural logarithm of each input, with its
// basis, and the correlations that the residuals of the laws show.
type Uncertainty struct {
	LnSD  [InputCount]float64
	Basis [InputCount]Basis
	// ThrustPower is the correlation between PropThrust and PropPower.
	ThrustPower float64
	// SpeedResistance is the correlation between MotorSpeed and MotorResistance.
	SpeedResistance float64
	// SeriesShare is the share of the prop's variances in CT and CP that it has in common with
	// the other props of its series, 0 to 1.
	SeriesShare float64
}

// Deviation is the natural logarithm of the factor on each input; the zero value changes nothing.
type Deviation [InputCount]float64

// Deviation turns independent standard normal numbers, one an input, into a deviation with this
// uncertainty's spreads and correlations.
func (u *Uncertainty) Deviation(normal *[InputCount]float64) Deviation {
	var d Deviation
	for i := range d {
		d[i] = u.LnSD[i] * normal[i]
	}
	d[PropPower] = u.LnSD[PropPower] * correlate(u.ThrustPower, normal[PropThrust], normal[PropPower])
	d[MotorResistance] = u.LnSD[MotorResistance] * correlate(u.SpeedResistance, normal[MotorSpeed], normal[MotorResistance])
	return d
}
