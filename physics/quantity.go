package physics

// Quantity names one predicted number of a craft, in SI units.
type Quantity uint8

// The quantities that Evaluate predicts. Full-throttle ones are static, on a full pack, sag
// included, without a throttle cap unless said.
const (
	AllUpMass           Quantity = iota // kg
	FullThrottleThrust                  // N, all rotors
	ThrustToWeight                      // static thrust at the throttle cap over weight
	TurnLoadFactor                      // largest level-turn load factor at the style's speed, at the cap
	TipMach                             // tip speed at full throttle over the speed of sound
	HoverThrottle                       // duty, mid charge
	TurnThrottle                        // duty of a level turn of load factor 2 at the style's speed, mid charge
	ThrottleCap                         // largest duty inside all limits
	PackCurrentUse                      // full-throttle pack current over the safe one
	BoardCurrentUse                     // full-throttle current of one ESC over its limit
	MotorCurrentUse                     // full-throttle motor current over the motor's limit
	ConnectorCurrentUse                 // full-throttle pack current over the connector's peak
	ThrustStep                          // thrust over weight for a duty of 1, at hover
	HoverCurrent                        // A, pack, mid charge
	FullThrottleCurrent                 // A, pack
	PackSafeCurrent                     // A
	MeanCurrent                         // A, pack, over the style's flight
	HoverPower                          // W, from the pack
	MotorHeat                           // W, heat in one motor in the style's hardest steady segment
	LoadedCell                          // V, at full throttle
	HoverTime                           // s
	CruiseTime                          // s, easy segments
	HardTime                            // s, hard segments
	StyleTime                           // s, the style's segments
	UsedCharge                          // A s, over the style's flight
	Range                               // m, at best range speed
	TopSpeed                            // m/s, level, at the cap, mid charge
	BestEnduranceSpeed                  // m/s
	BestRangeSpeed                      // m/s
	ForwardAcceleration                 // m/s², left in level flight at the style's speed
	PullOut                             // m
	Response                            // s, time constant of thrust about hover
	Rise                                // s, from load factor 1 to 2
	DiscLoading                         // N/m²
	MotorTemperature                    // K, winding, in the style's mean flight
	QuantityCount
)

// Quantities is a set of quantities.
type Quantities uint64

// AllQuantities is the set of all.
const AllQuantities Quantities = 1<<QuantityCount - 1

// SetOf returns the set of some quantities.
func SetOf(qs ...Quantity) Quantities {
	var set Quantities
	for _, q := range qs {
		set |= 1 << q
	}
	return set
}

// Has says whether any of some quantities is in the set.
func (set Quantities) Has(any Quantities) bool { return set&any != 0 }

// Reason says why a quantity is undefined; the zero value means that it is defined.
type Reason uint8

// The reasons.
const (
	Defined Reason = iota
	CannotHover
	NotEnoughThrust
	NoLimitKnown
	NoDescentArrest
	SegmentTooHard
	NoStyleSpeed
	NotAsked
	Windmilling
)

// String returns the reason in words.
func (r Reason) String() string {
	return [...]string{
		"defined",
		"it cannot hover on this pack",
		"it has too little thrust for that",
		"no limit is known",
		"full throttle does not stop the sink",
		"a segment of this way of flying takes more than the throttle cap",
		"the style names no speed",
		"it was not asked for",
		"the prop windmills at this airspeed",
	}[r]
}

// Performance is what a craft is predicted to do.
type Performance struct {
	si     [QuantityCount]float64
	why    [QuantityCount]Reason
	Cap    Limit  // what binds the throttle cap
	Ending Ending // of the style's flight
	// HardestPackA and HardestMotorA are the mean currents of the style's hardest steady segment,
	// in the pack and in one motor, at mid charge.
	HardestPackA, HardestMotorA float64
	FullSpeedRadS               float64 // of the rotors at full throttle
	PeakMotorW                  float64 // electrical power into one motor at the throttle cap, pack full
}

// Get returns a quantity in SI units and, if it is undefined, the reason; the number is then 0.
func (p *Performance) Get(q Quantity) (float64, Reason) { return p.si[q], p.why[q] }

func (p *Performance) set(q Quantity, value float64) { p.si[q], p.why[q] = value, Defined }

func (p *Performance) undefined(why Reason, qs ...Quantity) {
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
	return [...]string{"nothing", "pack current", "loaded cell voltage", "ESC current", "connector current", "motor current"}[l]
}

// Ending says what ends a flight.
type Ending uint8

// The endings.
const (
	ReserveLeft Ending = iota // the reserve of charge is reached first
	CellLanding               // the loaded cell falls to the landing voltage first
)
