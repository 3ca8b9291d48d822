package learn

import (
	"math"

	"partsaloft/physics"
)

// landingCellSD is how well the landing voltage of a flight is known, in V; it widens the flight's
// time and charge by what it changes them.
const landingCellSD = 0.05

// How well a landing that was not read is known that is taken to be as usual for the craft's class: pilots of one class
// land some earlier, some later, in cell voltage under load and in charge left alike (common practice, no source).
const (
	usualCellSD    = 0.10
	usualReserveSD = 0.06
)

// assume lets a flight of which neither landing voltage nor charge was read end as usual for the craft.
func (t *flight) assume(c *physics.Craft) {
	any := physics.Flying{}
	t.assumed = true
	t.flying.LandingV, t.flying.IonV, t.flying.Reserve = c.LandingV(&any), c.LandingV(&any), c.Reserve(&any)
}

// ending is the flight ended later by some standard deviations of how well its end is known.
func (t *flight) ending(later, landingSD float64) flight {
	u := *t
	if t.assumed {
		u.flying.LandingV -= later * usualCellSD
		u.flying.IonV = u.flying.LandingV
		u.flying.Reserve = math.Max(u.flying.Reserve-later*usualReserveSD, lowestReserve)
	} else {
		u.landingV -= later * landingSD
	}
	return u
}

// addLandingDoubt adds to the doubt of time and charge what the doubt of the flight's end makes of them at the craft's
// nominal figures; landingSD is that of a landing voltage that was read, in V.
func (f *flightObservation) addLandingDoubt(landingSD float64) {
	if f.flight == nil || f.flight.landingV == 0 && !f.flight.assumed {
		return
	}
	low, high := f.flight.ending(1, landingSD), f.flight.ending(-1, landingSD)
	longer, okLong := low.fly(&f.craft, false)
	shorter, okShort := high.fly(&f.craft, false)
	if !okLong || !okShort || !(shorter.DurationS > 0) {
		return
	}
	for i := range f.readings {
		r := &f.readings[i]
		switch {
		case r.Key == FlightMinutes && !f.flight.fromUsed:
			r.SD = math.Hypot(r.SD, r.Measured*math.Log(longer.DurationS/shorter.DurationS)/2)
		case r.Key == UsedCharge:
			r.SD = math.Hypot(r.SD, r.Measured*math.Log(longer.UsedAs/shorter.UsedAs)/2)
		}
	}
}
