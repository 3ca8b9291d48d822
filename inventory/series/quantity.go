package series

// Quantity is what a column holds.
type Quantity string

// The quantities. Those of which a file may have several columns are averaged, currents of ESCs added.
const (
	Time     Quantity = "time"
	Volts    Quantity = "volts"      // of the pack
	CellV    Quantity = "cell_volts" // of one cell or of each
	Amps     Quantity = "amps"       // of the pack
	ESCAmps  Quantity = "esc_amps"   // of each ESC
	Throttle Quantity = "throttle"   // as commanded
	Outputs  Quantity = "outputs"    // to each motor
	RPM      Quantity = "rpm"
	ERPM     Quantity = "erpm" // electrical; needs the number of magnets
	Speed    Quantity = "speed"
	Height   Quantity = "height"
	Tilt     Quantity = "tilt"
	Roll     Quantity = "roll"
	Pitch    Quantity = "pitch"
	Used     Quantity = "used"
)

// Quantities lists all quantities that a column may be named as, in the order in which they are told.
func Quantities() []Quantity {
	return []Quantity{Time, Volts, CellV, Amps, ESCAmps, Throttle, Outputs, RPM, ERPM, Speed, Height, Tilt, Roll, Pitch,
		Used}
}

// several are the quantities that may have several columns.
func (q Quantity) several() bool {
	return q == CellV || q == ESCAmps || q == Outputs || q == RPM || q == ERPM
}

// si is the unit that a quantity is kept in.
func (q Quantity) si() string {
	switch q {
	case Time:
		return "s"
	case Volts, CellV:
		return "V"
	case Amps, ESCAmps:
		return "A"
	case Throttle, Outputs:
		return "%"
	case RPM, ERPM:
		return "rpm"
	case Speed:
		return "m/s"
	case Height:
		return "m"
	case Tilt, Roll, Pitch:
		return "°"
	case Used:
		return "mAh"
	}
	return ""
}

// unit is a unit as headings write it: what a value in it is times in the quantity's own unit.
type unit struct {
	name string
	of   []Quantity
	by   float64
}

var (
	ofTime   = []Quantity{Time}
	ofVolts  = []Quantity{Volts, CellV}
	ofAmps   = []Quantity{Amps, ESCAmps}
	ofShare  = []Quantity{Throttle, Outputs}
	ofTurns  = []Quantity{RPM, ERPM}
	ofAngles = []Quantity{Tilt, Roll, Pitch}
)

// units by the words for them, in lower case.
var units = []unit{
	{"s", ofTime, 1}, {"sec", ofTime, 1}, {"secs", ofTime, 1}, {"second", ofTime, 1}, {"seconds", ofTime, 1},
	{"ms", ofTime, 1e-3}, {"msec", ofTime, 1e-3}, {"millis", ofTime, 1e-3}, {"milliseconds", ofTime, 1e-3},
	{"us", ofTime, 1e-6}, {"µs", ofTime, 1e-6}, {"usec", ofTime, 1e-6}, {"micros", ofTime, 1e-6},
	{"microseconds", ofTime, 1e-6}, {"ns", ofTime, 1e-9}, {"min", ofTime, 60}, {"minutes", ofTime, 60},
	{"v", ofVolts, 1}, {"volt", ofVolts, 1}, {"volts", ofVolts, 1}, {"dv", ofVolts, 0.1}, {"cv", ofVolts, 0.01},
	{"mv", ofVolts, 1e-3}, {"millivolt", ofVolts, 1e-3}, {"millivolts", ofVolts, 1e-3},
	{"a", ofAmps, 1}, {"amp", ofAmps, 1}, {"amps", ofAmps, 1}, {"ampere", ofAmps, 1}, {"da", ofAmps, 0.1},
	{"ca", ofAmps, 0.01}, {"ma", ofAmps, 1e-3}, {"milliamps", ofAmps, 1e-3},
	{"%", ofShare, 1}, {"pct", ofShare, 1}, {"percent", ofShare, 1},
	{"rpm", ofTurns, 1}, {"erpm", ofTurns, 1}, {"1/min", ofTurns, 1}, {"u/min", ofTurns, 1}, {"krpm", ofTurns, 1e3},
	{"hz", ofTurns, 60}, {"rad/s", ofTurns, 9.549296585513721},
	{"m/s", []Quantity{Speed}, 1}, {"ms", []Quantity{Speed}, 1}, {"mps", []Quantity{Speed}, 1},
	{"km/h", []Quantity{Speed}, 1 / 3.6}, {"kmh", []Quantity{Speed}, 1 / 3.6}, {"kph", []Quantity{Speed}, 1 / 3.6},
	{"mph", []Quantity{Speed}, 0.44704}, {"kn", []Quantity{Speed}, 0.514444}, {"kt", []Quantity{Speed}, 0.514444},
	{"kts", []Quantity{Speed}, 0.514444}, {"knots", []Quantity{Speed}, 0.514444}, {"cm/s", []Quantity{Speed}, 0.01},
	{"cms", []Quantity{Speed}, 0.01}, {"ft/s", []Quantity{Speed}, 0.3048},
	{"m", []Quantity{Height}, 1}, {"cm", []Quantity{Height}, 0.01}, {"mm", []Quantity{Height}, 1e-3},
	{"ft", []Quantity{Height}, 0.3048}, {"feet", []Quantity{Height}, 0.3048},
	{"°", ofAngles, 1}, {"deg", ofAngles, 1}, {"degrees", ofAngles, 1}, {"grad", ofAngles, 1}, {"ddeg", ofAngles, 0.1},
	{"cdeg", ofAngles, 0.01}, {"rad", ofAngles, 57.29577951308232},
	{"mah", []Quantity{Used}, 1}, {"ah", []Quantity{Used}, 1000},
}

// unitOf finds what a word for a unit is worth in a quantity's own.
func unitOf(word string, q Quantity) (float64, bool) {
	for i := range units {
		u := &units[i]
		if u.name != word {
			continue
		}
		for _, of := range u.of {
			if of == q {
				return u.by, true
			}
		}
	}
	return 0, false
}

// unitNames write units as they are usually written where headings in lower case do not.
var unitNames = map[string]string{"v": "V", "volt": "V", "volts": "V", "mv": "mV", "millivolt": "mV", "millivolts": "mV",
	"cv": "cV", "dv": "dV", "a": "A", "amp": "A", "amps": "A", "ampere": "A", "ma": "mA", "milliamps": "mA", "ca": "cA",
	"da": "dA", "mah": "mAh", "ah": "Ah", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "us": "µs", "usec": "µs",
	"micros": "µs", "microseconds": "µs", "msec": "ms", "millis": "ms", "milliseconds": "ms", "pct": "%", "percent": "%",
	"deg": "°", "degrees": "°", "grad": "°", "hz": "Hz"}

// unitName is a unit as it is shown.
func unitName(written string) string {
	if name, ok := unitNames[written]; ok {
		return name
	}
	return written
}

// isUnit reports whether a word is one for a unit of any quantity.
func isUnit(word string) bool {
	for i := range units {
		if units[i].name == word {
			return true
		}
	}
	return false
}
