package rotor

import (
	"testing"

	"partsaloft/physics/uncertain"
)

// Property: what a spec's doubt is said to be is what the prop made of it has.
func TestDoubtIsThatOfThePropeller(t *testing.T) {
	air, err := StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	label := Spec{DiameterM: 0.0762, PitchM: 0.0533, Blades: 3, Series: true}
	bare, err := New(label, air)
	if err != nil {
		t.Fatal(err)
	}
	thrustN, torqueNm := bare.Loads(2500, Flow{})
	for name, change := range map[string]func(*Spec){
		"the label":       func(*Spec) {},
		"weighed":         func(s *Spec) { s.MassKg = 1.3e-3 },
		"large":           func(s *Spec) { s.DiameterM, s.PitchM, s.Blades = 0.2, 0.1, 2 },
		"chord":           func(s *Spec) { s.Stations = []Measurement{{RadiusM: 0.0286, ChordM: 0.009}} },
		"chord and angle": func(s *Spec) { s.Stations = []Measurement{{RadiusM: 0.0286, ChordM: 0.009, AngleRad: 0.26}} },
		"thrust":          func(s *Spec) { s.Bench = []BenchPoint{{SpeedRadS: 2500, ThrustN: thrustN}} },
		"thrust and torque": func(s *Spec) {
			s.Bench = []BenchPoint{{SpeedRadS: 2500, ThrustN: thrustN,
				TorqueNm: torqueNm}}
		},
		"thrust, chord, no name": func(s *Spec) {
			s.Series = false
			s.Stations = []Measurement{{RadiusM: 0.0286, ChordM: 0.009}}
			s.Bench = []BenchPoint{{SpeedRadS: 2500, ThrustN: thrustN}, {SpeedRadS: 2000, ThrustN: thrustN * 0.64}}
		},
	} {
		spec := label
		change(&spec)
		made, err := New(spec, air)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		got, want := spec.Doubt(), made.Uncertainty
		for _, pair := range [][2]uncertain.Estimate{{got.Thrust, want.Thrust}, {got.Power, want.Power}, {got.ZeroThrust,
			want.ZeroThrust}} {
			if pair[0].LnSD != pair[1].LnSD || pair[0].Basis != pair[1].Basis {
				t.Errorf("%s: %+v, the propeller has %+v", name, pair[0], pair[1])
			}
		}
		if got.Mass != want.Mass || got.Inertia != want.Inertia {
			t.Errorf("%s: mass %+v and inertia %+v, the propeller has %+v and %+v", name, got.Mass, got.Inertia, want.Mass,
				want.Inertia)
		}
		if got.Forms != want.Forms || got.SpeedBasis != want.SpeedBasis {
			t.Errorf("%s: %+v, want %+v", name, got.Forms, want.Forms)
		}
	}
}

// Property: a ruler on the blade of a multirotor prop makes neither its thrust nor its figure of merit less sure.
func TestRulerLosesNothingOfMultirotorProps(t *testing.T) {
	s := Spec{DiameterM: 0.127, PitchM: 0.1016, Blades: 3}
	label := s.spread()
	for name, stations := range map[string][]Measurement{
		"chord":           {{RadiusM: 0.0476, ChordM: 0.012}},
		"chord and angle": {{RadiusM: 0.0476, ChordM: 0.012, AngleRad: 0.26}},
	} {
		measured := s
		measured.Stations = stations
		got := measured.spread()
		for kind := range 2 {
			if got.total(kind) > label.total(kind)*(1+1e-12) {
				t.Errorf("%s: %g becomes %g", name, label.total(kind), got.total(kind))
			}
		}
	}
}
