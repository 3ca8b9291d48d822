package physics

import "partsaloft/physics/figure"

// Reason says why a quantity is undefined; the zero value means that it is defined.
type Reason uint8

// The reasons.
const (
	Defined Reason = iota
	CannotHover
	NotEnoughThrust
	NoLimitKnown
	NoDescentArrest
	NoStyleSpeed
	NotAsked
	Windmilling
	CellsCollapse
	WindingsBurn
	ReasonEnd // one past the last
)

// Performance is what a craft is predicted to do.
type Performance struct {
	si     [figure.Count]float64
	why    [figure.Count]Reason
	Cap    Limit  // what binds the throttle cap
	Ending Ending // of the style's flight
	// SteadyPackA and SteadyMotorA are the mean currents of the style's segments, punches left out, in the pack and in one
	// motor, at mid charge.
	SteadyPackA, SteadyMotorA float64
	// HardestDuty is the duty of the style's hardest steady segment at mid charge; over 1 it is the voltage that its
	// motors need over the one that there is. 0 if the style's flight is not asked for.
	HardestDuty float64
	// Strained are the flying times with a segment for which there is not enough voltage at half charge: they are those of
	// a craft that takes the current all the same.
	Strained      figure.Set
	FullSpeedRadS float64 // of the rotors at full throttle
	punchRiseK    float64 // what a punch at the cap adds to the windings
	PeakMotorA    float64 // current of one motor at the throttle cap, static, pack full
	PeakPackA     float64 // current of the pack there
}

// Get returns a quantity in SI units and, if it is undefined, the reason; the number is then 0.
func (p *Performance) Get(q figure.Quantity) (float64, Reason) { return p.si[q], p.why[q] }

// Figure returns a quantity in the unit of its figure and, if it is undefined, the reason; the number is then 0.
func (p *Performance) Figure(q figure.Quantity) (float64, Reason) {
	if p.why[q] != Defined {
		return 0, p.why[q]
	}
	return q.FromSI(p.si[q]), Defined
}

// Hovers reports whether the craft hovers at half charge.
func (p *Performance) Hovers() bool { return p.why[figure.HoverCurrent] != CannotHover }

func (p *Performance) set(q figure.Quantity, value float64) { p.si[q], p.why[q] = value, Defined }

func (p *Performance) undefined(why Reason, qs ...figure.Quantity) {
	for _, q := range qs {
		p.si[q], p.why[q] = 0, why
	}
}

// Limit names what holds the throttle cap down.
type Limit uint8

// The limits, in the order in which they are checked.
const (
	NoLimit Limit = iota
	PackLimit
	CellLimit
	BoardLimit
	ConnectorLimit
	MotorLimit
)

// String returns the limit in words.
func (l Limit) String() string {
	return [...]string{"nothing", "pack current", "cell voltage under load", "ESC current", "connector current",
		"motor current"}[l]
}

// Ending says what ends a flight.
type Ending uint8

// The endings.
const (
	ReserveLeft Ending = iota // the reserve of charge is reached first
	CellLanding               // the loaded cell falls to the landing voltage first
)
