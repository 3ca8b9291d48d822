package rotor

import (
	"errors"
	"math"

	"partsaloft/physics/fault"
)

// MassPlace says where a blade has its mass.
type MassPlace uint8

// The places.
const (
	MassEven MassPlace = iota
	MassRoot
	MassTip
)

// Flex says how stiff a blade is.
type Flex uint8

// The classes of stiffness.
const (
	FlexUnknown Flex = iota
	FlexStiff
	FlexMedium
	FlexSoft
)

// BenchPoint is one measurement of a prop: thrust and torque at a speed. TorqueNm of zero means
// that only thrust was measured.
type BenchPoint struct {
	SpeedRadS, ThrustN, TorqueNm float64
	AxialMS                      float64 // airspeed along the axis, 0 on a static stand
	DensityKgM3                  float64 // 0: that of the air of New
}

// Spec is what is known of a prop. Zero fields but the label's three are unknown.
type Spec struct {
	DiameterM, PitchM float64
	PitchLnSD         float64 // of the pitch's logarithm where no label gives it; 0 for one on the label
	Blades            int
	MassKg            float64
	MassPlace         MassPlace
	Flex              Flex
	MadeFor           MadeFor       // counts where blades and diameter leave the class open, see Spec.MultirotorShare
	Series            bool          // the prop belongs to a named series, whose props err together
	Stations          []Measurement // from root to tip
	Bench             []BenchPoint
}

// New makes a prop from what is known of it, for one state of air: the blade from its
// label, bent to measured stations, its loads brought to bench points, each figure with its
// uncertainty. Errors name every fault of the spec.
func New(spec Spec, air Air) (*Propeller, error) {
	law := DefaultLaw()
	return law.New(spec, air)
}

// New is the package's New under another law, as the fit needs it.
func (l *Law) New(spec Spec, air Air) (*Propeller, error) { return l.with(spec, air, NewMap) }

// with makes a prop whose map another function gives.
func (l *Law) with(spec Spec, air Air, newMap func(Blade, Polar, Air) (*Map, error)) (*Propeller, error) {
	if err := spec.check(); err != nil {
		return nil, err
	}
	class := l.Class(&spec)
	blade, err := class.Blade.Blade(spec.DiameterM, spec.PitchM, spec.Blades)
	if err != nil {
		return nil, err
	}
	many := spec.angles() >= manyStations
	if blade, err = blade.ruled(spec.Stations, many); err != nil {
		return nil, err
	}
	blade.SoftTwist = spec.Flex.softTwist()
	polar := class.Polar
	p := &Propeller{DiameterM: spec.DiameterM, PitchM: spec.PitchM, Blades: spec.Blades, ThrustFactor: 1, PowerFactor: 1,
		AdvanceFactor: class.Advance}
	p.ThrustFactor, p.PowerFactor = class.Factors(spec.DiameterM, spec.PitchM, spec.Blades)
	if many { // half of the way to a blade of which nothing is left to the label
		p.ThrustFactor, p.PowerFactor = math.Sqrt(p.ThrustFactor), math.Sqrt(p.PowerFactor)
	}
	spread := spec.spread()
	if len(spec.Bench) > 0 {
		bench, err := l.matchBench(&spec, &class, blade, air, p)
		if err != nil {
			return nil, err
		}
		blade, polar = bench.blade, bench.polar
		p.ThrustFactor, p.PowerFactor, p.AdvanceFactor = bench.thrust, bench.power, bench.advance
	}
	if p.Map, err = newMap(blade, polar, air); err != nil {
		return nil, err
	}
	p.ReferenceRadS = spread.referenceRadS
	p.Uncertainty = spec.uncertainty(&spread, p.ThrustFactor, p.PowerFactor, p.AdvanceFactor)
	p.MassKg, p.InertiaKgM2 = p.Uncertainty.Mass.Value, p.Uncertainty.Inertia.Value
	return p, nil
}

func (s *Spec) check() error {
	errs := []error{checkLabel(s.DiameterM, s.PitchM, s.Blades)}
	add := func(code string, values fault.Values) { errs = append(errs, fault.New(code, values)) }
	if math.IsNaN(s.MassKg) || s.MassKg < 0 || s.MassKg > 0.5 {
		add("prop.mass", fault.Values{"high": 500.0, "got": s.MassKg * 1e3})
	}
	if s.MassPlace > MassTip || s.Flex > FlexSoft || s.MadeFor > MadeForConventional {
		add("prop.class", fault.Values{"place": s.MassPlace, "flex": s.Flex, "made_for": s.MadeFor})
	}
	for i, b := range s.Bench {
		tip := b.SpeedRadS * s.DiameterM / 2
		switch {
		case !(tip >= mapLowTipMS && tip <= mapHighTipMS):
			add("bench.tip", fault.Values{"n": i + 1, "rpm": fault.Digits(b.SpeedRadS*60/(2*math.Pi), 4),
				"tip": fault.Digits(tip, 3), "low": mapLowTipMS, "high": mapHighTipMS})
		case !(b.ThrustN > 0) || math.IsInf(b.ThrustN, 0):
			add("bench.thrust", fault.Values{"n": i + 1, "got": b.ThrustN})
		case !(b.TorqueNm >= 0) || math.IsInf(b.TorqueNm, 0):
			add("bench.torque", fault.Values{"n": i + 1, "got": b.TorqueNm})
		case !(b.AxialMS >= 0 && b.AxialMS <= 0.5*tip):
			add("bench.airspeed", fault.Values{"n": i + 1, "tip": fault.Digits(tip, 3), "got": b.AxialMS})
		case b.DensityKgM3 != 0 && !(b.DensityKgM3 > 0.3 && b.DensityKgM3 < 1.6):
			add("bench.density", fault.Values{"n": i + 1, "low": 0.3, "high": 1.6, "got": b.DensityKgM3})
		}
	}
	return errors.Join(errs...)
}
