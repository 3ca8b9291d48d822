package learn

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// flightObservation is a craft with its readings, in its own air.
type flightObservation struct {
	craft    physics.Craft
	frame    string
	rows     rows // of the inputs that its readings tell of
	all      rows // of all inputs
	readings []Reading
	flight   *flight // nil if none was timed and its power not read
	throttle physics.ThrottleKind
	// Voltages at the board at which the readings in hover and in a punch were taken; 0 is at half charge, and from a
	// full pack.
	hoverV, punchV float64
}

// flight is how a flight went.
type flight struct {
	flying   physics.Flying // how it was flown
	landingV float64        // 0 if not read
	usedAs   float64        // 0 if not read
	fromUsed bool           // its time counts to the charge used, else to the landing voltage
	assumed  bool           // it ends as flights of its class usually do, which flying says
}

func (f *flightObservation) touched() []int { return f.rows.touched() }

func (f *flightObservation) read() []Reading { return f.readings }

// predict works out every reading with the craft that the latent numbers make, in the readings'
// units. It returns false where the craft cannot do what was read: hover, above all.
func (f *flightObservation) predict(z []float64, into []float64) bool {
	d := f.rows.deviation(z)
	c := f.craft.Deviate(&d)
	return f.values(&c, math.Exp(d[uncertain.ThrottleScale]), into)
}

// values are the readings of a craft whose display shows a factor on the throttle that one of its kind does.
func (f *flightObservation) values(c *physics.Craft, throttleFactor float64, into []float64) bool {
	style := physics.Flying{Segments: hovering()}
	p := c.Evaluate(&style)
	ok := true
	get := func(q figure.Quantity) float64 {
		x, why := p.Get(q)
		ok = ok && why == physics.Defined && x > 0
		return x
	}
	hoverDuty, hoverA, hovers := 0.0, 0.0, false
	if f.hoverV > 0 {
		hoverDuty, hoverA, hovers = c.HoverAt(f.hoverV)
	}
	punchRadS, punchA := p.FullSpeedRadS, 0.0
	if f.punchV > 0 {
		punchRadS, punchA = c.FullThrottleAt(f.punchV)
	}
	for i := range f.readings {
		var x float64
		switch f.readings[i].Key {
		case AllUp:
			x = c.MassKg() * 1e3
		case HoverThrottle:
			if f.hoverV == 0 {
				hoverDuty, hovers = get(figure.HoverThrottle), p.Hovers()
			}
			ok = ok && hovers
			x = 100 * math.Min(f.throttle.Shown(hoverDuty)*throttleFactor, 1)
		case HoverCurrent:
			if x = hoverA; f.hoverV == 0 {
				x, hovers = get(figure.HoverCurrent), true
			}
			ok = ok && hovers
		case HoverSpeed:
			speedRadS, _, turns := c.Propeller.SpeedFor(c.MassKg()*physics.GravityMS2/float64(c.Rotors), rotor.Flow{})
			ok = ok && turns
			x = speedRadS * 60 / (2 * math.Pi)
		case FullThrottleCurrent:
			if x = punchA; f.punchV == 0 {
				x = get(figure.FullThrottleCurrent)
			}
		case PunchSpeed:
			x = punchRadS * 60 / (2 * math.Pi)
		case PackResistance:
			x = (c.Pack.InternalOhm + c.Pack.LeadOhm) * 1e3
		case PowerOverHover:
			ratio, why := c.PowerOverHover(&f.flight.flying)
			ok = ok && why == physics.Defined
			x = ratio
		case LoadedCell:
			x = c.Pack.DisplayCellV(get(figure.LoadedCell), get(figure.FullThrottleCurrent))
		case TopSpeed:
			x = get(figure.TopSpeed)
		case FlightMinutes, UsedCharge:
			flight, flies := f.flight.fly(c, f.readings[i].Key == FlightMinutes && f.flight.fromUsed)
			ok = ok && flies
			x = flight.DurationS / 60
			if f.readings[i].Key == UsedCharge {
				x = flight.UsedAs / 3.6
			}
		}
		into[i] = x
	}
	return ok
}

// lowestReserve is the share of charge under which no flight is followed.
const lowestReserve = 0.01

// fly is the flight of a craft until its landing voltage, or until the charge used is gone.
func (t *flight) fly(c *physics.Craft, fromUsed bool) (physics.Flight, bool) {
	f := t.flying
	switch {
	case t.assumed:
	case fromUsed:
		f.LandingV, f.IonV = 2, 2
		f.Reserve = math.Max(1-t.usedAs/(c.Pack.CapacityAs*c.Pack.CapacityFactor), lowestReserve)
	default:
		f.LandingV, f.IonV, f.Reserve, f.AtBoard = t.landingV, t.landingV, lowestReserve, true
	}
	r, why := c.Fly(&f)
	return r, why == physics.Defined
}

func hovering() []physics.Segment {
	return []physics.Segment{{Kind: physics.Hover, Share: 1, LoadFactor: 1}}
}

// prune leaves out the inputs that none of the readings tells of.
func (f *flightObservation) prune() {
	f.rows = f.all
	var moves, discharges, throttle bool
	for _, r := range f.readings {
		switch r.Key {
		case TopSpeed:
			moves = true
		case FlightMinutes, UsedCharge, PowerOverHover:
			discharges = discharges || r.Key != PowerOverHover
			for _, g := range f.flight.flying.Segments {
				moves = moves || g.Kind != physics.Hover || g.SpeedMS > 0 || g.SpeedPart > 0
			}
		case HoverThrottle:
			throttle = true
		}
	}
	if !moves {
		f.rows[uncertain.PropZeroThrust], f.rows[uncertain.DragArea], f.rows[uncertain.RotorDrag] = nil, nil, nil
	}
	if !discharges {
		f.rows[uncertain.PackCapacity] = nil
	}
	if !throttle {
		f.rows[uncertain.ThrottleScale] = nil
	}
}
