package uncertain

// Owner says with whom an input's error goes: two crafts that share the owner share the error.
type Owner uint8

// The owners. What no part carries errs alike in all crafts.
const (
	OfAll Owner = iota
	OfProp
	OfMotor
	OfPack
	OfFrame
	OfBoard
	OfExtras
)

var owners = [InputCount]Owner{
	PropThrust: OfProp, PropPower: OfProp, PropZeroThrust: OfProp, PropMass: OfProp, PropInertia: OfProp,
	PropThrustSpeed: OfProp, PropPowerSpeed: OfProp,
	MotorSpeed: OfMotor, MotorResistance: OfMotor, MotorLoss: OfMotor, MotorMass: OfMotor, MotorInertia: OfMotor,
	RotorModel: OfMotor, MotorCurrentLimit: OfMotor,
	PackResistance: OfPack, PackCapacity: OfPack, PackMass: OfPack,
	FrameMass: OfFrame, DragArea: OfFrame,
	BoardMass: OfBoard, ElectronicsPower: OfBoard, ThrottleScale: OfBoard, PartThrottle: OfBoard,
	Ripple:      OfBoard,
	ExtrasMass:  OfExtras,
	FlyingPower: OfAll,
	MotorsSpeed: OfAll, MotorsLoss: OfAll, MotorsPower: OfAll, EscResistance: OfAll,
}

// Owner is with whom an input's error goes.
func (i Input) Owner() Owner { return owners[i] }
