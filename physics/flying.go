package physics

import (
	"errors"
	"math"
	"slices"

	"partsaloft/physics/fault"
	"partsaloft/physics/internal/numeric"
)

// Kind is the kind of a flying segment.
type Kind uint8

// The kinds.
const (
	Hover Kind = iota
	Cruise
	Turn
	Punch // at the throttle cap
)

// String returns the kind's word.
func (k Kind) String() string { return [...]string{"hover", "cruise", "turn", "punch"}[k] }

// Segment is a share of a flight spent in one steady state.
type Segment struct {
	Kind       Kind
	Share      float64 // of the time, 0 to 1
	SpeedMS    float64
	LoadFactor float64
}

// Flying is a way of flying.
type Flying struct {
	SpeedMS  float64 // at which turns and pull-outs are judged
	LandingV float64 // cell voltage under load at which a LiPo or LiHV flight ends; 0 means 3.5 V
	IonV     float64 // the same for Li-ion; 0 means 3.0 V
	Reserve  float64 // share of the charge that is left at the latest; 0 means 0.2
	// AtBoard says that the landing voltage is what a board shows, plug and leads taken off.
	AtBoard  bool
	Segments []Segment
}

// Typical ways of flying. Speeds and shares are judgement; the power that they take is held against timed
// flights by one constant, UnsteadyFactor (fitted by `fit flown`).
var (
	hoverSegments  = [...]Segment{{Hover, 1, 0, 1}}
	easySegments   = [...]Segment{{Hover, 0.20, 0, 1}, {Cruise, 0.65, 9, 1.05}, {Turn, 0.15, 9, 1.5}}
	mixedSegments  = [...]Segment{{Hover, 0.20, 3, 1}, {Cruise, 0.45, 9, 1.1}, {Turn, 0.32, 11, 1.6}, {Punch, 0.03, 0, 1}}
	hardSegments   = [...]Segment{{Hover, 0.10, 4, 1}, {Cruise, 0.40, 12, 1.2}, {Turn, 0.45, 13, 1.9}, {Punch, 0.05, 0, 1}}
	indoorSegments = [...]Segment{{Hover, 0.5, 1.5, 1}, {Cruise, 0.4, 3, 1.2}, {Turn, 0.1, 3, 1.6}}
)

// EasySegments is gentle cruising.
func EasySegments() []Segment { return slices.Clone(easySegments[:]) }

// MixedSegments is freestyle.
func MixedSegments() []Segment { return slices.Clone(mixedSegments[:]) }

// HardSegments is racing.
func HardSegments() []Segment { return slices.Clone(hardSegments[:]) }

// IndoorSegments is slow flight between obstacles.
func IndoorSegments() []Segment { return slices.Clone(indoorSegments[:]) }

const (
	defaultLandingV = 3.5 // common practice, no source
	defaultIonV     = 3.0 // common practice, no source
	defaultReserve  = 0.2 // common practice, no source
)

func (f *Flying) landingV(chemistry Chemistry) float64 {
	landing, fallback := f.LandingV, defaultLandingV
	if chemistry == LiIon {
		landing, fallback = f.IonV, defaultIonV
	}
	if landing == 0 {
		return fallback
	}
	return landing
}

func (f *Flying) reserve() float64 {
	if f.Reserve == 0 {
		return defaultReserve
	}
	return f.Reserve
}

// maxSegments is the largest number of segments of a way of flying.
const maxSegments = 12

// Check reports every fault of a way of flying.
func (f *Flying) Check() error {
	var errs []error
	if !(f.SpeedMS >= 0 && f.SpeedMS <= fastestMS) {
		errs = append(errs, fault.New("flying.speed", fault.Values{"high": fastestMS, "got": f.SpeedMS}))
	}
	if !(f.Reserve >= 0 && f.Reserve < 0.9) {
		errs = append(errs, fault.New("flying.reserve", fault.Values{"high": 90.0, "got": f.Reserve * 100}))
	}
	for _, v := range [...]float64{f.LandingV, f.IonV} {
		if v != 0 && !(v >= 2 && v < 4.2) {
			errs = append(errs, fault.New("flying.landing", fault.Values{"low": 2.0, "high": 4.2, "got": v}))
		}
	}
	if len(f.Segments) == 0 || len(f.Segments) > maxSegments {
		return errors.Join(append(errs, fault.New("flying.segments",
			fault.Values{"high": maxSegments, "got": len(f.Segments)}))...)
	}
	var shares float64
	for i, g := range f.Segments {
		shares += g.Share
		if !(g.Share > 0 && g.SpeedMS >= 0 && g.SpeedMS <= fastestMS && (g.LoadFactor == 0 || g.LoadFactor >= 1 &&
			g.LoadFactor <= highestLoad)) {
			errs = append(errs, fault.New("segment.range", fault.Values{"n": i + 1, "speed": fastestMS, "load": highestLoad}))
		}
	}
	if math.Abs(shares-1) > 1e-6 {
		errs = append(errs, fault.New("flying.shares", fault.Values{"got": fault.Digits(shares*100, 4)}))
	}
	return errors.Join(errs...)
}

// load is what a way of flying asks of each rotor, one operating point a segment.
type load struct {
	count  int
	share  [maxSegments]float64
	points [maxSegments]operating
	moving [maxSegments]bool
	punch  [maxSegments]bool // fixed duty: the point is that at full charge,
	low    operating         // and this at a fifth of it
	duty   float64
}

// load works out the operating points of segments. It returns false if one takes more than the
// cap at mid charge.
func (c *Craft) load(l *load, segments []Segment, s *supply, duty, weightN float64, hover operating) bool {
	*l = load{count: len(segments), duty: duty}
	fits := true
	for i := range segments {
		g := &segments[i]
		l.share[i] = g.Share
		l.moving[i] = g.Kind != Hover || g.SpeedMS > 0
		if g.Kind == Punch {
			l.punch[i] = true
			full, low := c.supply(1), c.supply(0.2)
			l.points[i] = c.fullThrottle(&full, duty)
			l.low = c.fullThrottle(&low, duty)
			continue
		}
		o, ok := hover, true
		if g.SpeedMS > 0 || g.LoadFactor > 1 {
			o, ok = c.level(weightN, g.SpeedMS, math.Max(g.LoadFactor, 1))
		}
		l.points[i] = o
		if !ok || s.marginV(duty, o) < 0 {
			fits = false
		}
	}
	return fits
}

// meanA is the pack's mean current over the segments at a state of charge; a segment that the
// voltage no longer carries runs at full duty.
func (c *Craft) meanA(l *load, charge float64) float64 {
	s := c.supply(charge)
	var mean float64
	for i := range l.count {
		var current float64
		if l.punch[i] {
			high, low := &l.points[i], &l.low
			t := (1 - charge) / 0.8
			current = s.currentA(l.duty, high.currentA+t*(low.currentA-high.currentA))
		} else {
			d, _ := s.duty(l.points[i])
			current = s.currentA(d, l.points[i].currentA)
		}
		if l.moving[i] {
			current = s.electronicsA + (current-s.electronicsA)*UnsteadyFactor*c.FlyingFactor
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

// fly discharges the pack from full until the reserve is reached or the loaded cell falls to the
// landing voltage at the mean current, whichever is first. Duration is the integral of
// capacity/current over the charge (Simpson's rule on four intervals).
func (c *Craft) fly(l *load, f *Flying) flight {
	landing := f.landingV(c.Pack.Chemistry)
	end, ending := f.reserve(), ReserveLeft
	var endA float64 // at the charge last asked for
	excess := func(charge float64) float64 {
		endA = c.meanA(l, charge)
		cell := c.Pack.cellUnderLoadV(charge, endA)
		if f.AtBoard {
			cell = c.Pack.DisplayCellV(cell, endA)
		}
		return cell - landing
	}
	if fe := excess(end); fe < 0 {
		ending = CellLanding
		if ff := excess(1); ff <= 0 {
			return flight{endCharge: 1, ending: CellLanding}
		} else {
			end, _ = numeric.Root(excess, end, fe, 1, ff, 1e-5)
			endA = c.meanA(l, end)
		}
	}
	capacity := c.Pack.CapacityAs * c.Pack.CapacityFactor
	const intervals = 4
	sum := 1 / endA
	for i, weight := range [intervals]float64{4, 2, 4, 1} {
		charge := end + (1-end)*float64(i+1)/intervals
		sum += weight / c.meanA(l, charge)
	}
	used := capacity * (1 - end)
	return flight{used * sum / (3 * intervals), used, end, ending}
}
