package learn

import (
	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// named is an input with its name in a learned file and in words.
type named struct {
	kind  inventory.Kind
	input uncertain.Input
	key   string
	words string // what grows with the factor
}

// corrected lists what is learned of each kind of part, in the order in which it is shown.
var corrected = [...]named{
	{inventory.KindMotor, uncertain.MotorSpeed, "kv", "kV"},
	{inventory.KindMotor, uncertain.MotorResistance, "resistance", "resistance at work"},
	{inventory.KindMotor, uncertain.MotorLoss, "loss", "loss torque"},
	{inventory.KindMotor, uncertain.RotorModel, "rotor_torque", "current with any prop"},
	{inventory.KindMotor, uncertain.MotorMass, "mass", "mass"},
	{inventory.KindProp, uncertain.PropThrust, "thrust", "thrust"},
	{inventory.KindProp, uncertain.PropPower, "torque", "torque"},
	{inventory.KindProp, uncertain.PropZeroThrust, "zero_thrust", "zero-thrust advance ratio"},
	{inventory.KindProp, uncertain.PropMass, "mass", "mass"},
	{inventory.KindPack, uncertain.PackResistance, "resistance", "resistance"},
	{inventory.KindPack, uncertain.PackCapacity, "capacity", "usable capacity"},
	{inventory.KindPack, uncertain.PackMass, "mass", "mass"},
	{inventory.KindFrame, uncertain.DragArea, "drag_area", "drag area"},
	{inventory.KindFrame, uncertain.FrameMass, "mass", "mass with wires and tape"},
	{inventory.KindFrame, uncertain.FlyingPower, "flying_power", "power taken in flight"},
	{inventory.KindBoard, uncertain.ElectronicsPower, "electronics_power", "electronics' power"},
	{inventory.KindBoard, uncertain.ThrottleScale, "throttle_scale", "throttle calibration"},
	{inventory.KindBoard, uncertain.BoardMass, "mass", "mass"},
	{KindFlying, uncertain.FlyingPower, "flying_power", "power taken in flight"},
}

func nameOf(kind inventory.Kind, input uncertain.Input) named {
	for _, n := range corrected {
		if n.kind == kind && n.input == input {
			return n
		}
	}
	return named{kind, input, "", input.String()}
}

// InputKey is an input's name in a learned file.
func InputKey(kind inventory.Kind, input uncertain.Input) string { return nameOf(kind, input).key }

// InputWords is an input in words.
func InputWords(kind inventory.Kind, input uncertain.Input) string { return nameOf(kind, input).words }

func inputOf(kind inventory.Kind, key string) (uncertain.Input, bool) {
	for _, n := range corrected {
		if n.kind == kind && n.key == key {
			return n.input, true
		}
	}
	return 0, false
}

// inputsOf lists the inputs that are corrected of a kind.
func inputsOf(kind inventory.Kind) []uncertain.Input {
	var list []uncertain.Input
	for _, n := range corrected {
		if n.kind == kind {
			list = append(list, n.input)
		}
	}
	return list
}

// partner is the input whose error goes together with another's, if there is one.
func partner(i uncertain.Input) (uncertain.Input, bool) {
	switch i {
	case uncertain.PropThrust:
		return uncertain.PropPower, true
	case uncertain.PropPower:
		return uncertain.PropThrust, true
	case uncertain.MotorSpeed:
		return uncertain.MotorResistance, true
	case uncertain.MotorResistance:
		return uncertain.MotorSpeed, true
	}
	return i, false
}
