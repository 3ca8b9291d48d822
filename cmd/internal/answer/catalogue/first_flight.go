package catalogue

import (
	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/predict"
)

// readings say where each reading of a first flight is read, and what it is.
var readings = map[predict.ReadingKind]struct{ where, what Answer }{
	predict.ReadMass:          {"read.scale", "read.mass"},
	predict.ReadHoverThrottle: {"read.display", "read.hover_throttle"},
	predict.ReadHoverCurrent:  {"read.display", "read.hover_current"},
	predict.ReadPunchCell:     {"read.display", "read.punch"},
	predict.ReadFlightTime:    {"read.stopwatch", "read.time"},
	predict.ReadAlarmCell:     {"read.alarm", "read.landing"},
}

// throttleReadings say what a display shows of the throttle, by its kind; of no kind it is not known.
var throttleReadings = map[inventory.ThrottleKind]Answer{
	"": "read.hover_throttle", inventory.OutputThrottle: "read.hover_output", inventory.ThrustThrottle: "read.hover_thrust",
	inventory.SignalThrottle: "read.hover_signal",
}

// ReadingText says where a reading of a result's first flight is read and what it is; value is what is expected, in the
// pilot's unit.
func ReadingText(kind predict.ReadingKind, r *predict.Result, value float64) (where, what string) {
	form, values := readings[kind], map[string]any{}
	cells := r.Combination.Pack.Cells
	switch {
	case kind == predict.ReadHoverThrottle:
		form.what = throttleReadings[r.Combination.Board.Throttle]
	case kind == predict.ReadPunchCell && r.Performance.Cap != physics.NoLimit:
		limit := ShownOf(r, figure.ThrottleCap)
		form.what, values["cap"] = "read.punch_capped", limit.String()
	case kind == predict.ReadAlarmCell && cells > 1:
		form.what, values["pack"] = "read.landing_pack", Fixed(float64(cells)*value, 1)
	}
	return form.where.Template(), form.what.Sentence(values)
}

// causes say of each uncertain input what more and less of it is at the bench.
var causes = [uncertain.InputCount][2]string{
	uncertain.PropThrust: {"props that pull more than their label", "props that pull less than their label"},
	uncertain.PropPower: {"props that take more torque than estimated",
		"props that take less torque than estimated"},
	uncertain.PropZeroThrust:  {"props steeper than their label", "props shallower than their label"},
	uncertain.PropMass:        {"heavier props", "lighter props"},
	uncertain.PropThrustSpeed: {"props that gain more thrust with rpm", "props that gain less thrust with rpm"},
	uncertain.PropPowerSpeed:  {"props that gain more torque with rpm", "props that gain less torque with rpm"},
	uncertain.PropInertia:     {"props with their mass further out", "props with their mass further in"},
	uncertain.MotorSpeed:      {"motors with more kV than their label", "motors with less kV than their label"},
	uncertain.MotorResistance: {"more resistance in motors, ESCs or leads", "less resistance in motors, ESCs or leads"},
	uncertain.MotorLoss: {"more friction and iron loss in the motors",
		"less friction and iron loss in the motors"},
	uncertain.MotorMass:        {"heavier motors", "lighter motors"},
	uncertain.MotorInertia:     {"heavier bells", "lighter bells"},
	uncertain.PackResistance:   {"a pack with more resistance (worn, cold)", "a pack with less resistance"},
	uncertain.PackCapacity:     {"more capacity than on the label", "less capacity than on the label"},
	uncertain.PackMass:         {"a heavier pack", "a lighter pack"},
	uncertain.FrameMass:        {"a heavier frame", "a lighter frame"},
	uncertain.DragArea:         {"more drag", "less drag"},
	uncertain.BoardMass:        {"a heavier board", "a lighter board"},
	uncertain.ElectronicsPower: {"electronics that draw more", "electronics that draw less"},
	uncertain.ExtrasMass:       {"more wire, strap and hardware", "less wire, strap and hardware"},
	uncertain.RotorModel: {"motors that draw more than their data say",
		"motors that draw less than their data say"},
	uncertain.ThrottleScale: {"ESCs that give less at part throttle", "ESCs that give more at part throttle"},
	uncertain.MotorCurrentLimit: {"motors that take more current than estimated",
		"motors that take less current than estimated"},
	uncertain.MotorsSpeed: {"motors with more kV than their label", "motors with less kV than their label"},
	uncertain.MotorsLoss: {"more friction and iron loss in the motors",
		"less friction and iron loss in the motors"},
	uncertain.MotorsPower: {"motors whose resistance depends less on size",
		"motors whose resistance depends more on size"},
	uncertain.EscResistance: {"more resistance in ESCs or leads", "less resistance in ESCs or leads"},
	uncertain.PartThrottle:  {"ESCs that draw more at part throttle", "ESCs that draw less at part throttle"},
	uncertain.Ripple:        {"more PWM ripple", "less PWM ripple"},
	uncertain.RotorDrag: {"rotors that drag more in forward flight than estimated",
		"rotors that drag less in forward flight than estimated"},
	uncertain.FlyingPower: {"harder flying than the style says", "gentler flying than the style says"},
}

// CauseText says what more, or less, of an uncertain input is at the bench.
func CauseText(input uncertain.Input, more bool) string {
	if more {
		return causes[input][0]
	}
	return causes[input][1]
}
