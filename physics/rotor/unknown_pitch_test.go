package rotor

import (
	"math"
	"testing"

	"partsaloft/physics/uncertain"
)

// TestUnknownPitch is a property test: a pitch that no label gives widens what is known of a prop by about what the
// law of the blade does with it, and no more than what is left open once a blade or a thrust was measured.
func TestUnknownPitch(t *testing.T) {
	air, err := StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	const diameterM, pitchM = 0.031, UnknownPitchRatio * 0.031
	made := func(change func(*Spec)) *Propeller {
		t.Helper()
		s := Spec{DiameterM: diameterM, PitchM: pitchM, Blades: 4, Series: true}
		if change != nil {
			change(&s)
		}
		p, err := New(s, air)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	unknown := func(s *Spec) { s.PitchLnSD = UnknownPitchLnSD }
	label, guess := made(nil), made(unknown)
	// What the law does over one standard deviation either way, at a tip speed of 80 m/s.
	speedRadS := 80 / (diameterM / 2)
	low := made(func(s *Spec) { s.PitchM *= math.Exp(-UnknownPitchLnSD) })
	high := made(func(s *Spec) { s.PitchM *= math.Exp(UnknownPitchLnSD) })
	thrustLow, torqueLow := low.Loads(speedRadS, Flow{})
	thrustHigh, torqueHigh := high.Loads(speedRadS, Flow{})
	added := func(with, without uncertain.Estimate) float64 {
		return math.Sqrt(with.LnSD*with.LnSD - without.LnSD*without.LnSD)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"thrust", added(guess.Uncertainty.Thrust, label.Uncertainty.Thrust), math.Log(thrustHigh/thrustLow) / 2},
		{"torque", added(guess.Uncertainty.Power, label.Uncertainty.Power), math.Log(torqueHigh/torqueLow) / 2},
	} {
		if c.got < 0.6*c.want || c.got > 1.5*c.want {
			t.Errorf("%s: the unknown pitch adds %.3f, the law moves it by %.3f", c.name, c.got, c.want)
		}
	}
	u, v := guess.Uncertainty, label.Uncertainty
	inCommon := func(u *Uncertainty) float64 { return u.Forms.Covariance(&u.Forms, 0, 0, true) }
	if !(u.Forms.Correlation(0, 1) > v.Forms.Correlation(0, 1)) || inCommon(&u) != inCommon(&v) ||
		u.Thrust.Basis != uncertain.Estimated || u.Thrust.Value != v.Thrust.Value {
		t.Errorf("with an unknown pitch %+v, on the label %+v", u, v)
	}
	spec := Spec{DiameterM: diameterM, PitchM: pitchM, Blades: 4, Series: true, PitchLnSD: UnknownPitchLnSD}
	if d := spec.Doubt(); math.Abs(d.Thrust.LnSD-u.Thrust.LnSD) > 1e-12 || d.Forms != u.Forms {
		t.Errorf("Doubt says %+v, New %+v", d, u)
	}
	thrust, _ := label.Loads(speedRadS, Flow{})
	bench := func(s *Spec) { s.Bench = []BenchPoint{{SpeedRadS: speedRadS, ThrustN: thrust}} }
	read, readGuess := made(bench), made(func(s *Spec) { bench(s); unknown(s) })
	if a, b := read.Uncertainty, readGuess.Uncertainty; a.Thrust != b.Thrust || a.Power != b.Power ||
		!(b.ZeroThrust.LnSD > a.ZeroThrust.LnSD) {
		t.Errorf("with a thrust that was read: %+v, on the label %+v", b, a)
	}
	ruler := func(s *Spec) { s.Stations = []Measurement{{RadiusM: 0.0116, ChordM: 0.005, AngleRad: 0.26}} }
	if a, b := made(ruler).Uncertainty, made(func(s *Spec) { ruler(s); unknown(s) }).Uncertainty; a != b {
		t.Errorf("with an angle by ruler: %+v, on the label %+v", b, a)
	}
}
