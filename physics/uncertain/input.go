package uncertain

// Input names one uncertain input of a craft. Every input acts as a factor on its nominal value.
type Input uint8

// The uncertain inputs of a craft, grouped by the part that carries them.
const (
	PropThrust        Input = iota // factor on CT
	PropPower                      // factor on CP
	PropZeroThrust                 // factor on the advance ratio of zero thrust
	PropMass                       // factor on one prop's mass
	PropInertia                    // factor on one prop's moment of inertia beyond its mass
	MotorSpeed                     // factor on kV
	MotorResistance                // factor on the effective resistance
	MotorLoss                      // factor on the loss torque
	MotorMass                      // factor on one motor's mass
	MotorInertia                   // factor on the bell's moment of inertia beyond its mass
	PackResistance                 // factor on the pack's internal resistance
	PackCapacity                   // factor on the capacity
	PackMass                       // factor on the pack's mass
	FrameMass                      // factor on the frame's mass
	DragArea                       // factor on the drag area
	BoardMass                      // factor on the board's mass
	ElectronicsPower               // factor on the electronics' power
	ExtrasMass                     // factor on the extras' mass, straps and wires included
	RotorModel                     // factor on motor current that motor and prop data leave open
	ThrottleScale                  // exponent of duty over throttle on a stand; factor on the throttle that a craft's display shows
	FlyingPower                    // factor on mean power that segments leave open
	MotorCurrentLimit              // factor on the current that a motor without a printed limit bears
	PartThrottle                   // factor on 1 + k, what an ESC draws towards no duty over its motor's power
	Ripple                         // factor on heat by PWM ripple
	MotorsSpeed                    // factor on kV of all motors: what the law of labels errs by
	MotorsLoss                     // factor on the loss torque of all motors
	MotorsPower                    // factor on how the motor constant goes with mass, e times as much mass over 35 g
	EscResistance                  // factor on the resistance of ESC and leads of all boards
	RotorDrag                      // factor on the rotors' own drag along the disc
	PropThrustSpeed                // slope of ln CT over ln of speed, about the speed where CT is known best
	PropPowerSpeed                 // slope of ln CP likewise
	InputCount
)

var inputNames = [InputCount]string{
	"prop thrust", "prop power", "prop zero-thrust advance", "prop mass", "prop inertia",
	"motor kV", "motor resistance", "motor loss", "motor mass", "motor inertia",
	"pack resistance", "pack capacity", "pack mass", "frame mass", "drag area", "board mass",
	"electronics power", "extras mass", "rotor current", "throttle scale", "way of flying", "motor current limit",
	"ESC draw at part throttle", "PWM ripple", "kV of all motors", "loss of all motors", "small motors' resistance",
	"resistance of ESCs and leads",
	"rotor drag", "prop thrust over speed", "prop power over speed",
}

// String returns the input's name in words.
func (i Input) String() string { return inputNames[i] }
