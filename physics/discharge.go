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

// segmentA is what a segment of a load takes from the pack at a duty up to 1.
func (l *load) segmentA(s *supply, i int, duty float64) float64 {
	current := s.drawnA(duty, l.points[i])
	if l.moving[i] {
		current = s.electronicsA + (current-s.electronicsA)*l.unsteady
	}
	return current
}

// meanA is the pack's mean current over the segments at a state of charge. A segment whose voltage is no longer there
// keeps the motor current that it asks for, at full duty, so that nothing that takes voltage away makes a flight
// longer.
func (c *Craft) meanA(l *load, charge float64) float64 {
	s := c.supply(charge)
	var mean float64
	for i := range l.count {
		d, _ := s.duty(l.points[i])
		mean += l.share[i] * l.segmentA(&s, i, d)
	}
	return mean
}

// drain is a load's mean current over the state of charge from a lowest one to full. It hangs on charge by the
// open-circuit voltage E alone, and its inverse is next to a straight line in E, for what motors take is a power: a
// parabola in E through the lowest, half and full charge errs by some 1e-5. A segment that lacks voltage at some of
// these charges and not at others has a kink, and is solved for at each; so is all where E is near to what sag
// allows at most and the parabola bends.
type drain struct {
	load               *load
	middleV            float64
	value, slope, bend float64 // of the inverse, from half charge
	apart              [maxSegments]int
	count              int // of those in apart
}

// bentPart is the part of the inverse current that the parabola's bend may make up.
const bentPart = 0.01

func (c *Craft) drain(l *load, lowest float64) drain {
	s := [3]supply{c.supply(lowest), c.supply(midCharge), c.supply(1)}
	d := drain{load: l, middleV: s[1].openV}
	var sum [3]float64
	for i := range l.count {
		low, heldLow := s[0].duty(l.points[i])
		high, heldHigh := s[2].duty(l.points[i])
		if heldLow != heldHigh {
			d.apart[d.count] = i
			d.count++
			continue
		}
		for k, duty := range [...]float64{low, l.duty[i], high} {
			sum[k] += l.share[i] * l.segmentA(&s[k], i, duty)
		}
	}
	if d.count == l.count {
		return d
	}
	below, above := s[0].openV-d.middleV, s[2].openV-d.middleV
	d.value = 1 / sum[1]
	toLow, toHigh := (1/sum[0]-d.value)/below, (1/sum[2]-d.value)/above
	d.bend = (toHigh - toLow) / (above - below)
	d.slope = toHigh - d.bend*above
	if math.Abs(d.bend*above*below) > bentPart*d.value {
		for i := range l.count {
			d.apart[i] = i
		}
		d.count = l.count
	}
	return d
}

// currentA is the mean current at a state of charge.
func (d *drain) currentA(c *Craft, charge float64) float64 {
	var mean float64
	if d.count < d.load.count {
		x := c.Pack.openV(charge) - d.middleV
		mean = 1 / (d.value + x*(d.slope+x*d.bend))
	}
	if d.count > 0 {
		s := c.supply(charge)
		for _, i := range d.apart[:d.count] {
			duty, _ := s.duty(d.load.points[i])
			mean += d.load.share[i] * d.load.segmentA(&s, i, duty)
		}
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
	reserve := c.Reserve(f)
	d := c.drain(l, reserve)
	return c.discharge(func(charge float64) float64 { return d.currentA(c, charge) }, reserve, c.LandingV(f), f.AtBoard)
}

// chargeTolerance is of the state of charge at a flight's end: flights that end at once last as long as 1e-4 of charge.
const chargeTolerance = 1e-7

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
			end, _ = numeric.Root(excess, numeric.Bracket{Low: end, AtLow: fe, High: 1, AtHigh: ff}, chargeTolerance)
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
