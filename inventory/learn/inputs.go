package learn

import (
	"partsaloft/inventory"
	"partsaloft/physics"
)

// named is an input with its name in a learned file and in words.
type named struct {
	kind  inventory.Kind
	input physics.Input
	key   string
	words string // what grows with the factor
}

// corrected lists what is learned of each kind of part, in the order in which it is shown.
var corrected = [...]named{
	{inventory.KindMotor, physics.MotorSpeed, "kv", "kV"},
	{inventory.KindMotor, physics.MotorResistance, "resistance", "resistance at work"},
	{inventory.KindMotor, physics.MotorLoss, "loss", "loss torque"},
	{inventory.KindMotor, physics.RotorModel, "rotor_torque", "current with any prop"},
	{inventory.KindMotor, physics.MotorMass, "mass", "mass"},
	{inventory.KindProp, physics.PropThrust, "thrust", "thrust"},
	{inventory.KindProp, physics.PropPower, "torque", "torque"},
	{inventory.KindProp, physics.PropZeroThrust, "zero_thrust", "zero-thrust advance ratio"},
	{inventory.KindProp, physics.PropMass, "mass", "mass"},
	{inventory.KindPack, physics.PackResistance, "resistance", "resistance"},
	{inventory.KindPack, physics.PackCapacity, "capacity", "usable capacity"},
	{inventory.KindPack, physics.PackMass, "mass", "mass"},
	{inventory.KindFrame, physics.DragArea, "drag_area", "drag area"},
	{inventory.KindFrame, physics.FrameMass, "mass", "mass with wires and tape"},
	{inventory.KindFrame, physics.FlyingPower, "flying_power", "power taken in flight"},
	{inventory.KindBoard, physics.ElectronicsPower, "electronics_power", "electronics' power"},
	{inventory.KindBoard, physics.ThrottleScale, "throttle_scale", "throttle calibration"},
	{inventory.KindBoard, physics.BoardMass, "mass", "mass"},
	{KindFlying, physics.FlyingPower, "flying_power", "power taken in flight"},
}

func nameOf(kind inventory.Kind, input physics.Input) named {
	for _, n := range corrected {
		if n.kind == kind && n.input == input {
			return n
		}
	}
	return named{kind, input, "", input.String()}
}

// InputKey is an input's name in a learned file.
func InputKey(kind inventory.Kind, input physics.Input) string { return nameOf(kind, input).key }

// InputWords is an input in words.
func InputWords(kind inventory.Kind, input physics.Input) string { return nameOf(kind, input).words }

func inputOf(kind inventory.Kind, key string) (physics.Input, bool) {
	for _, n := range corrected {
		if n.kind == kind && n.key == key {
			return n.input, true
		}
	}
	return 0, false
}

// inputsOf lists the inputs that are corrected of a kind.
func inputsOf(kind inventory.Kind) []physics.Input {
	var list []physics.Input
	for _, n := range corrected {
		if n.kind == kind {
			list = append(list, n.input)
		}
	}
	return list
}

// partner is the input whose error goes together with another's, if there is one.
func partner(i physics.Input) (physics.Input, bool) {
	switch i {
	case physics.PropThrust:
		return physics.PropPower, true
	case physics.PropPower:
		return physics.PropThrust, true
	case physics.MotorSpeed:
		return physics.MotorResistance, true
	case physics.MotorResistance:
		return physics.MotorSpeed, true
	}
	return i, false
}
