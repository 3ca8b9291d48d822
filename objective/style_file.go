package objective

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/fault"
)

// Written is a style as a pilot writes it; numbers stay in the pilot's units. Read it with a
// strict decoder, then turn it into a Style.
type Written struct {
	Name          string             `yaml:"name" check:"len=64"`
	Weights       map[string]float64 `yaml:"weights"`
	Limits        map[string]string  `yaml:"limits"`
	RequiredRoles []string           `yaml:"required_roles"`
	Flying        *WrittenFlying     `yaml:"flying"`
}

// WrittenFlying is a way of flying as a pilot writes it.
type WrittenFlying struct {
	SpeedMps     *float64         `yaml:"speed_mps" check:"min=0,max=100,unit=m/s"`
	LandingCellV *float64         `yaml:"landing_cell_v" check:"min=2,max=4,unit=V"`
	ReservePct   *float64         `yaml:"reserve_pct" check:"min=1,max=80,unit=%"`
	Segments     []WrittenSegment `yaml:"segments" check:"items=1..12"`
}

// WrittenSegment is one part of a flight as a pilot writes it.
type WrittenSegment struct {
	Kind       string   `yaml:"kind" check:"required,oneof=hover|cruise|turn|punch"`
	SharePct   float64  `yaml:"share_pct" check:"required,over=0,max=100,unit=%"`
	SpeedMps   *float64 `yaml:"speed_mps" check:"min=0,max=100,unit=m/s"`
	LoadFactor *float64 `yaml:"load_factor" check:"min=1,max=20"`
	SpeedPct   *float64 `yaml:"speed_pct" check:"min=0,max=100,unit=%"`
	LoadPct    *float64 `yaml:"load_pct" check:"min=0,max=100,unit=%"`
}

// Fault is one thing wrong with a written style.
type Fault struct {
	Path string // weights.grip, flying.segments[2]
	strict.Problem
}

// faults are those found so far.
type faults []Fault

func (f *faults) add(path string, p *strict.Problem) { *f = append(*f, Fault{path, *p}) }

// flyingProblems are physics' faults of a way of flying, by their codes and values.
func flyingProblems(err error) []*strict.Problem {
	var list []*strict.Problem
	for _, f := range fault.In(err) {
		list = append(list, problem(strict.Code(f.Code), strict.Values(f.Values)))
	}
	return list
}

// What a style that leaves something out is read as.
const (
	defaultSpeedMS = 12.0 // freestyle's
	defaultTurn    = 1.6  // load factor of a turn: freestyle's
)

// Style turns what is written into a Style, with every fault. What is left out: equal weights, no
// limits, no roles, freestyle's way of flying. A segment without a speed is flown at the style's,
// a hover at none; speed_pct and load_pct are parts of what motors, props and cells reach (physics.Standard).
func (w *Written) Style() (Style, []Fault) {
	s := Style{Name: w.Name, RequiredRoles: slices.Clone(w.RequiredRoles)}
	var list faults
	s.Weights = w.weights(&list)
	for _, key := range slices.Sorted(maps.Keys(w.Limits)) {
		l, err := ParseLimit(key + "=" + w.Limits[key])
		var p *strict.Problem
		if errors.As(err, &p) {
			list.add("limits."+key, p)
			continue
		}
		s = s.With(l)
	}
	w.flying(&s.Flying, &list)
	return s, list
}

func (w *Written) weights(list *faults) Weights {
	if w.Weights == nil {
		return Weights{0.25, 0.25, 0.25, 0.25}
	}
	var given Weights
	bad := false
	for _, key := range slices.Sorted(maps.Keys(w.Weights)) {
		x := w.Weights[key]
		axis, ok := AxisByKey(key)
		switch {
		case !ok:
			list.add("weights."+key, unknownAxis(key))
			bad = true
		case !(x >= 0 && x <= highestWeight):
			list.add("weights."+key, problem("number.range", strict.Values{
				"allowed": strict.Bounds{High: highestWeight}, "got": strict.Number(x)}))
			bad = true
		default:
			given[axis] = x
		}
	}
	if bad {
		return given
	}
	normalised, err := given.Normalised()
	var p *strict.Problem
	if errors.As(err, &p) {
		list.add("weights", p)
	}
	return normalised
}

func (w *Written) flying(f *physics.Flying, list *faults) {
	*f = physics.Flying{SpeedMS: defaultSpeedMS, Segments: physics.MixedSegments()}
	if w.Flying == nil {
		return
	}
	if v := w.Flying.SpeedMps; v != nil {
		f.SpeedMS = *v
	}
	if v := w.Flying.LandingCellV; v != nil {
		f.LandingV = *v
	}
	if v := w.Flying.ReservePct; v != nil {
		f.Reserve = *v / 100
	}
	if len(w.Flying.Segments) == 0 {
		return
	}
	defer func() { f.Indoors = !physics.Outdoors(f.Segments) }()
	f.Segments = nil
	var sum float64
	for i := range w.Flying.Segments {
		g, path := &w.Flying.Segments[i], fmt.Sprintf("flying.segments[%d]", i)
		segment, ok := g.segment(f.SpeedMS, path, list)
		sum += g.SharePct
		if ok {
			f.Segments = append(f.Segments, segment)
		}
	}
	if math.Abs(sum-100) > 0.05 {
		list.add("flying.segments", problem("segments.sum",
			strict.Values{"sum": strict.Digits(sum, 4), "by": strict.Digits(100-sum, 4)}))
		return
	}
	// The last rounding of shares such as 33.3 is taken out.
	for i := range f.Segments {
		f.Segments[i].Share *= 100 / sum
	}
	if len(f.Segments) == len(w.Flying.Segments) && len(f.Segments) > 0 {
		for _, p := range flyingProblems(f.Check()) {
			list.add("flying", p)
		}
	}
}

func (g *WrittenSegment) segment(styleMS float64, path string, list *faults) (physics.Segment, bool) {
	s := physics.Segment{Share: g.SharePct / 100, SpeedMS: styleMS, LoadFactor: 1}
	switch g.Kind {
	case "hover":
		s.Kind, s.SpeedMS = physics.Hover, 0
	case "cruise":
		s.Kind = physics.Cruise
	case "turn":
		s.Kind, s.LoadFactor = physics.Turn, defaultTurn
	case "punch":
		s.Kind, s.SpeedMS = physics.Punch, 0
		if g.SpeedMps != nil || g.LoadFactor != nil || g.SpeedPct != nil || g.LoadPct != nil {
			list.add(path, problem("segment.punch", nil))
			return s, false
		}
	default:
		list.add(path+".kind", problem("segment.kind", strict.Values{"got": strict.Quoted(g.Kind)}))
		return s, false
	}
	switch {
	case g.SpeedMps != nil && g.SpeedPct != nil:
		list.add(path, problem("segment.either", strict.Values{"one": "speed_mps", "other": "speed_pct"}))
		return s, false
	case g.LoadFactor != nil && g.LoadPct != nil:
		list.add(path, problem("segment.either", strict.Values{"one": "load_factor", "other": "load_pct"}))
		return s, false
	}
	if g.SpeedMps != nil {
		s.SpeedMS = *g.SpeedMps
	}
	if g.SpeedPct != nil {
		s.SpeedMS, s.SpeedPart = 0, *g.SpeedPct/100
	}
	if g.LoadFactor != nil {
		s.LoadFactor = *g.LoadFactor
	}
	if g.LoadPct != nil {
		s.LoadFactor, s.LoadPart = 1, *g.LoadPct/100
	}
	return s, true
}
