package answer

import (
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/predict"
)

// FlightReading is one thing to read on the first flight, and what a deviation points to.
type FlightReading struct {
	Reading string   `json:"reading"`
	Where   string   `json:"where"`
	What    string   `json:"what"`
	Unit    string   `json:"unit"`
	Figure  Figure   `json:"figure"`
	Higher  []string `json:"higher"`
	Lower   []string `json:"lower"`

	Expect, Between string `json:"-"` // as a card has them
}

// readingForm says where a reading is read, what it is, and in which unit: perSI times its SI value.
type readingForm struct {
	where, what, unit string
	perSI             float64
}

// throttleReadings say what a display shows of the throttle, by its kind.
var throttleReadings = map[inventory.ThrottleKind]string{
	"":                       "throttle in hover, pack half empty; what a display shows differs, so log throttle_kind with it",
	inventory.OutputThrottle: "motor output in hover, pack half empty",
	inventory.ThrustThrottle: "thrust command in hover, pack half empty",
	inventory.SignalThrottle: "ESC signal in hover, pack half empty",
}

func formOf(kind predict.ReadingKind, capped string, throttle inventory.ThrottleKind) readingForm {
	perSI := func(q figure.Quantity) float64 { return figure.Of(q).PerSI }
	switch kind {
	case predict.ReadMass:
		return readingForm{"scale", "all-up weight, pack on board", "g", perSI(figure.AllUpMass)}
	case predict.ReadHoverThrottle:
		return readingForm{"display", throttleReadings[throttle], "%", perSI(figure.HoverThrottle)}
	case predict.ReadHoverCurrent:
		return readingForm{"display", "current in hover, pack half empty", "A", 1}
	case predict.ReadPunchCell:
		return readingForm{"display", "cell voltage in a short punch" + capped +
			", pack full; plug and leads take their share", "V", 1}
	case predict.ReadFlightTime:
		return readingForm{"stopwatch", "full pack to landing, flown as the style says", "min", perSI(figure.StyleTime)}
	}
	return readingForm{"alarm to set", "cell voltage on the display at which to land", "V", 1}
}

func (e *explaining) firstFlight() []FlightReading {
	capped := ""
	if e.Result.Performance.Cap != physics.NoLimit {
		f := catalogue.ShownOf(e.Result, figure.ThrottleCap)
		capped = " at the cap of " + f.String()
	}
	list := []FlightReading{}
	for _, reading := range e.readings {
		form := formOf(reading.Kind, capped, e.Result.Combination.Board.Throttle)
		v := reading.Value
		value, low, high := form.perSI*v.Value, form.perSI*v.Low, form.perSI*v.High
		one := FlightReading{
			Reading: reading.Kind.Key(), Where: form.where, What: form.what, Unit: form.unit,
			Figure: Known(value, low, high, v.Basis.String()), Higher: []string{}, Lower: []string{},
			Expect:  catalogue.WithUnit(catalogue.Number(value, low, high), form.unit),
			Between: catalogue.Interval(value, low, high),
		}
		if cells := float64(e.Result.Combination.Pack.Cells); reading.Kind == predict.ReadAlarmCell && cells > 1 {
			one.What += fmt.Sprintf(" (%s V for the pack)", catalogue.Fixed(cells*value, 1))
		}
		for _, cause := range reading.Causes {
			one.Higher = append(one.Higher, causeWords(cause.Input, cause.Change > 0))
			one.Lower = append(one.Lower, causeWords(cause.Input, cause.Change <= 0))
		}
		list = append(list, one)
	}
	return list
}

// causes say of each uncertain input what more and less of it is at the bench.
var causes = [uncertain.InputCount][2]string{
	uncertain.PropThrust: {"props that pull more than their label", "props that pull less than their label"},
	uncertain.PropPower: {"props that take more torque than estimated",
		"props that take less torque than estimated"},
	uncertain.PropZeroThrust:  {"props steeper than their label", "props shallower than their label"},
	uncertain.PropMass:        {"heavier props", "lighter props"},
	uncertain.PropInertia:     {"props with their mass further out", "props with their mass further in"},
	uncertain.MotorSpeed:      {"motors of more kV than their label", "motors of less kV than their label"},
	uncertain.MotorResistance: {"more resistance in motors, ESCs or leads", "less resistance in motors, ESCs or leads"},
	uncertain.MotorLoss: {"more friction and iron loss in the motors",
		"less friction and iron loss in the motors"},
	uncertain.MotorMass:        {"heavier motors", "lighter motors"},
	uncertain.MotorInertia:     {"heavier bells", "lighter bells"},
	uncertain.PackResistance:   {"a pack of more resistance (worn, cold)", "a pack of less resistance"},
	uncertain.PackCapacity:     {"more capacity than on the label", "less capacity than on the label"},
	uncertain.PackMass:         {"a heavier pack", "a lighter pack"},
	uncertain.FrameMass:        {"a heavier frame", "a lighter frame"},
	uncertain.DragArea:         {"more drag", "less drag"},
	uncertain.BoardMass:        {"a heavier board", "a lighter board"},
	uncertain.ElectronicsPower: {"electronics that draw more", "electronics that draw less"},
	uncertain.ExtrasMass:       {"more wire, strap and hardware", "less wire, strap and hardware"},
	uncertain.RotorModel: {"motors that draw more than their data explain",
		"motors that draw less than their data explain"},
	uncertain.ThrottleScale: {"ESCs that give less at part throttle", "ESCs that give more at part throttle"},
	uncertain.MotorCurrentLimit: {"motors that bear more current than estimated",
		"motors that bear less current than estimated"},
	uncertain.MotorsSpeed: {"motors of more kV than their label", "motors of less kV than their label"},
	uncertain.MotorsLoss: {"more friction and iron loss in the motors",
		"less friction and iron loss in the motors"},
	uncertain.MotorsPower:   {"motors whose resistance goes less with size", "motors whose resistance goes more with size"},
	uncertain.EscResistance: {"more resistance in ESCs or leads", "less resistance in ESCs or leads"},
	uncertain.PartThrottle:  {"ESCs that draw more at part throttle", "ESCs that draw less at part throttle"},
	uncertain.Ripple:        {"more PWM ripple", "less PWM ripple"},
	uncertain.RotorDrag: {"rotors that drag more in forward flight than estimated",
		"rotors that drag less in forward flight than estimated"},
	uncertain.FlyingPower: {"harder flying than the style says", "gentler flying than the style says"},
}

func causeWords(input uncertain.Input, more bool) string {
	if more {
		return causes[input][0]
	}
	return causes[input][1]
}
