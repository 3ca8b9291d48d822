package physics

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// load is what a way of flying asks of each rotor, one operating point a segment.
type load struct {
	count    int
	share    [maxSegments]float64
	points   [maxSegments]operating
	duty     [maxSegments]float64 // at mid charge, up to 1
	moving   [maxSegments]bool
	punch    [maxSegments]bool
	unsteady float64
	// hardest is the largest duty of a steady segment at mid charge; over 1 it is the voltage that its motors need
	// over the one that there is.
	hardest float64
}

// load works out the operating points of segments from hover at half charge.
func (c *Craft) load(l *load, segments []Segment, unsteady float64, from *still) {
	l.count, l.hardest, l.unsteady = len(segments), 0, unsteady*c.FlyingFactor
	for i := range segments {
		g := &segments[i]
		l.share[i] = g.Share
		l.punch[i] = g.Kind == Punch
		l.moving[i] = !l.punch[i] && (g.Kind != Hover || g.moves())
		if l.punch[i] {
			l.points[i] = from.standard(c).full
			l.duty[i], _ = from.mid.duty(l.points[i])
			continue
		}
		l.points[i] = from.hover
		if g.moves() || g.LoadFactor > 1 || g.LoadPart > 0 {
			speed, lift := from.standard(c).flown(g, from.weightN)
			l.points[i], _ = c.level(lift, speed)
		}
		need, held := from.mid.duty(l.points[i])
		if l.duty[i] = need; !held {
			need = from.mid.shortOf(l.points[i])
		}
		l.hardest = math.Max(l.hardest, need)
	}
}

// meanA is the pack's mean current over the segments at a state of charge. A segment whose voltage is no longer there
// keeps the motor current that it asks for, at full duty, so that nothing that takes voltage away makes a flight
// longer.
func (c *Craft) meanA(l *load, charge float64) float64 {
	s := c.supply(charge)
	var mean float64
	for i := range l.count {
		d, _ := s.duty(l.points[i])
		current := s.drawnA(d, l.points[i])
		if l.moving[i] {
			current = s.electronicsA + (current-s.electronicsA)*l.unsteady
		}
		mean += l.share[i] * current
	}
	return mean
}

// flight is how a flight ends: its duration, charge and cause.
type flight struct {
	durationS, usedAs, endCharge float64
	ending                       Ending
}

// fly discharges the pack at the mean current of a load until the flight's end.
func (c *Craft) fly(l *load, f *Flying) flight {
	return c.discharge(func(charge float64) float64 { return c.meanA(l, charge) }, c.Reserve(f), c.LandingV(f), f.AtBoard)
}

// discharge empties the pack from full until the reserve is reached or the loaded cell falls to the
// landing voltage at the current, whichever is first. Duration is the integral of
// capacity/current over the charge (Simpson's rule on four intervals).
func (c *Craft) discharge(current func(charge float64) float64, reserve, landingV float64, atBoard bool) flight {
	end, ending := reserve, ReserveLeft
	var endA float64 // at the charge last asked for
	excess := func(charge float64) float64 {
		endA = current(charge)
		cell := c.Pack.cellUnderLoadV(charge, endA)
		if atBoard {
			cell = c.Pack.DisplayCellV(cell, endA)
		}
		return cell - landingV
	}
	if fe := excess(end); fe < 0 {
		ending = CellLanding
		if ff := excess(1); ff <= 0 {
			return flight{endCharge: 1, ending: CellLanding}
		} else {
			end, _ = numeric.Root(excess, numeric.Bracket{Low: end, AtLow: fe, High: 1, AtHigh: ff}, 1e-5)
			endA = current(end)
		}
	}
	capacity := c.Pack.CapacityAs * c.Pack.CapacityFactor
	const intervals = 4
	sum := 1 / endA
	for i, weight := range [intervals]float64{4, 2, 4, 1} {
		charge := end + (1-end)*float64(i+1)/intervals
		sum += weight / current(charge)
	}
	used := capacity * (1 - end)
	return flight{used * sum / (3 * intervals), used, end, ending}
}
