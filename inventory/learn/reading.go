package learn

import (
	"math"
	"partsaloft/physics/uncertain"
)

// Key names a reading as the log and a stand's rows do.
type Key string

// The readings.
const (
	AllUp               Key = "all_up_g"
	HoverThrottle       Key = "hover_throttle_pct"
	HoverCurrent        Key = "hover_current_a"
	HoverSpeed          Key = "hover_rpm"
	FlightMinutes       Key = "flight_minutes"
	UsedCharge          Key = "used_mah"
	FullThrottleCurrent Key = "full_throttle_current_a"
	PunchSpeed          Key = "punch_rpm"
	LoadedCell          Key = "loaded_cell_v"
	PackResistance      Key = "pack_resistance_mohm"
	PowerOverHover      Key = "power_over_hover"
	TopSpeed            Key = "top_speed_mps"
	StandSpeed          Key = "rpm"
	StandCurrent        Key = "current_a"
	StandThrust         Key = "thrust_g"
	// Of a prop with bench points: measured over labelled thrust and torque.
	LabelThrust Key = "label_thrust"
	LabelTorque Key = "label_torque"
)

// instrumentError is how well a reading is known: a standard deviation in its unit, or relative to it.
type instrumentError struct {
	sd       float64
	relative bool
}

// readings states how well each kind of reading is known, in pilots' units. Scale, throttle, time, current,
// loaded cell, top speed, rpm in a punch, where the craft gains speed, resistance in flight and power over hover are
// judgement (common practice, no source), the last as flying times, which differ from flight to flight for the same reason; rpm and current on a stand a little
// over the 1.3 and 3.6 % by which they scatter within one motor of the stand tables that the motor laws were
// fitted to.
var readings = map[Key]instrumentError{
	AllUp:               {0.5, false},
	HoverThrottle:       {2, false},
	HoverCurrent:        {0.05, true},
	HoverSpeed:          {0.02, true},
	FlightMinutes:       {0.10, true},
	UsedCharge:          {0.05, true},
	FullThrottleCurrent: {0.05, true},
	PunchSpeed:          {0.03, true},
	LoadedCell:          {0.05, false},
	TopSpeed:            {0.05, true},
	PackResistance:      {0.10, true},
	PowerOverHover:      {0.10, true},
	StandSpeed:          {0.015, true},
	StandCurrent:        {0.05, true},
	StandThrust:         {0.05, true},
	LabelThrust:         {0, true}, // stated with the reading
	LabelTorque:         {0, true},
}

// heardSD is how well a rotor speed worked out from the sound is known, relative: its lines are sharper than that, but
// four rotors wander (judgement).
const heardSD = 0.01

// Of a flight whose time and mean power both are read: flightSD is by how much the power of one flight differs from
// that of others flown alike, which both tell of; timedSD and powerSD are what is left of each. Together they are what
// the table says of each alone (judgement).
const (
	flightSD = 0.09
	timedSD  = 0.044
	powerSD  = 0.044
)

// Of a pack's volts on a display, for the difference between two of them: the standard deviation of a step of 0.1 V
// that rounding leaves in it, by how much one cell's open-circuit voltage differs between hover and punch of the same
// minute (3 % of the charge), and the error of the display's scale. A display's offset cancels (judgement).
const (
	stepSD      = 0.041
	sameChargeV = 0.02
	scaleSD     = 0.013
)

// Reading is one number that was read.
type Reading struct {
	Key      Key
	Measured float64 // in the key's unit
	SD       float64 // standard deviation in that unit
}

// read is a reading with the standard deviation of the table.
func read(key Key, measured float64) Reading {
	w := readings[key]
	if w.relative {
		return Reading{key, measured, w.sd * measured}
	}
	return Reading{key, measured, w.sd}
}

// scaled brings a value of the reading's kind to the scale on which it is compared: the logarithm
// where the error is relative, else itself.
func (r *Reading) scaled(value float64) float64 {
	if readings[r.Key].relative {
		return math.Log(value)
	}
	return value
}

// unscaled undoes scaled.
func (r *Reading) unscaled(x float64) float64 {
	if readings[r.Key].relative {
		return math.Exp(x)
	}
	return x
}

// interval of a normal distribution on the scale of scaled, in the reading's unit.
func (r *Reading) interval(mean, sd float64) Interval {
	half := uncertain.HalfWidth() * sd
	return Interval{r.unscaled(mean), r.unscaled(mean - half), r.unscaled(mean + half), true}
}

// sd on the scale of scaled.
func (r *Reading) sd() float64 {
	if readings[r.Key].relative {
		return r.SD / r.Measured
	}
	return r.SD
}
