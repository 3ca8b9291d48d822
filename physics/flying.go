package physics

import (
	"errors"
	"math"
	"slices"

	"partsaloft/physics/fault"
	"partsaloft/physics/figure"
)

// Kind is the kind of a flying segment.
type Kind uint8

// The kinds.
const (
	Hover Kind = iota
	Cruise
	Turn
	Punch // at full throttle
)

// String returns the kind's word.
func (k Kind) String() string { return [...]string{"hover", "cruise", "turn", "punch"}[k] }

// Segment is a share of a flight spent in one steady state. Speed and lift are absolute, or parts of what the
// craft's motors, props and cells reach (see Standard), or the sum of both:
//
//	V = |SpeedMS + SpeedPart V_ref|,  lift = max(LoadFactor, 1) W + LoadPart max(T_ref − W, 0)
//
// A punch is the standard's own full throttle.
type Segment struct {
	Kind       Kind
	Share      float64 // of the time, 0 to 1
	SpeedMS    float64
	LoadFactor float64
	SpeedPart  float64 // of the standard's speed
	LoadPart   float64 // of the thrust that the standard has over the weight
}

// moves reports whether a segment is flown at a speed.
func (g *Segment) moves() bool { return g.SpeedMS != 0 || g.SpeedPart > 0 }

// Flying is a way of flying.
type Flying struct {
	SpeedMS  float64 // at which turns and pull-outs are judged
	LandingV float64 // cell voltage under load at which a LiPo or LiHV flight ends; 0 means as usual for the craft
	IonV     float64 // the same for Li-ion
	Reserve  float64 // share of the charge that is left at the latest; 0 means as usual for the craft
	// AtBoard says that the landing voltage is what a board shows, plug and leads taken off.
	AtBoard  bool
	Indoors  bool // flown in a room, where nothing is done in haste (see Outdoors)
	Segments []Segment
}

// Typical ways of flying, as parts of the standard so that one way means the same for a whoop and a 5-inch, but for
// flying indoors, where the room sets the pace. Parts and shares were found on timed flights of weighed crafts, whole
// crafts left out, and agree with logs of racing flights (UZH-FPV: 0.33 to 0.36 of the fastest speed seen); the power
// that they take is held against timed flights by UnsteadyOutdoors and UnsteadyIndoors (fitted by `fit flown`).
var (
	hoverSegments = [...]Segment{{Kind: Hover, Share: 1, LoadFactor: 1}}
	easySegments  = [...]Segment{{Kind: Hover, Share: 0.20, LoadFactor: 1},
		{Kind: Cruise, Share: 0.65, LoadFactor: 1, SpeedPart: 0.25, LoadPart: 0.0075},
		{Kind: Turn, Share: 0.15, LoadFactor: 1, SpeedPart: 0.25, LoadPart: 0.0675}}
	mixedSegments = [...]Segment{{Kind: Hover, Share: 0.20, LoadFactor: 1, SpeedPart: 0.08},
		{Kind: Cruise, Share: 0.45, LoadFactor: 1, SpeedPart: 0.25, LoadPart: 0.015},
		{Kind: Turn, Share: 0.32, LoadFactor: 1, SpeedPart: 0.31, LoadPart: 0.0825},
		{Kind: Punch, Share: 0.03, LoadFactor: 1}}
	hardSegments = [...]Segment{{Kind: Hover, Share: 0.10, LoadFactor: 1, SpeedPart: 0.11},
		{Kind: Cruise, Share: 0.40, LoadFactor: 1, SpeedPart: 0.33, LoadPart: 0.03},
		{Kind: Turn, Share: 0.45, LoadFactor: 1, SpeedPart: 0.36, LoadPart: 0.12},
		{Kind: Punch, Share: 0.05, LoadFactor: 1}}
	indoorSegments = [...]Segment{{Kind: Hover, Share: 0.5, SpeedMS: 1.5, LoadFactor: 1},
		{Kind: Cruise, Share: 0.4, SpeedMS: 3, LoadFactor: 1.2}, {Kind: Turn, Share: 0.1, SpeedMS: 3, LoadFactor: 1.6}}
)

// EasySegments is gentle cruising.
func EasySegments() []Segment { return slices.Clone(easySegments[:]) }

// MixedSegments is freestyle.
func MixedSegments() []Segment { return slices.Clone(mixedSegments[:]) }

// HardSegments is racing.
func HardSegments() []Segment { return slices.Clone(hardSegments[:]) }

// IndoorSegments is slow flight between obstacles.
func IndoorSegments() []Segment { return slices.Clone(indoorSegments[:]) }

func (f *Flying) unsteadiness() float64 {
	if f.Indoors {
		return UnsteadyIndoors
	}
	return UnsteadyOutdoors
}

// typicalFlights are the ways of flying that are timed for every craft.
var typicalFlights = [...]struct {
	quantity figure.Quantity
	segments []Segment
}{{figure.HoverTime, hoverSegments[:]}, {figure.CruiseTime, easySegments[:]}, {figure.HardTime, hardSegments[:]}}

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
		slowest := 0.0
		if g.SpeedPart > 0 {
			slowest = -fastestMS // with the wind
		}
		if !(g.Share > 0 && g.SpeedMS >= slowest && g.SpeedMS <= fastestMS && (g.LoadFactor == 0 || g.LoadFactor >= 1 &&
			g.LoadFactor <= highestLoad)) {
			errs = append(errs, fault.New("segment.range", fault.Values{"n": i + 1, "speed": fastestMS, "load": highestLoad}))
		}
		if !(g.SpeedPart >= 0 && g.SpeedPart <= 1 && g.LoadPart >= 0 && g.LoadPart <= 1) {
			errs = append(errs, fault.New("segment.parts", fault.Values{"n": i + 1}))
		}
	}
	if math.Abs(shares-1) > 1e-6 {
		errs = append(errs, fault.New("flying.shares", fault.Values{"got": fault.Digits(shares*100, 4)}))
	}
	return errors.Join(errs...)
}
