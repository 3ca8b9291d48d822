package rotor

import (
	"math"
	"slices"
	"testing"

	"partsaloft/physics/fault"
	"partsaloft/physics/uncertain"
)

func seaLevel(t testing.TB) Air {
	t.Helper()
	air, err := StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	return air
}

func fiveInch() Spec {
	return Spec{DiameterM: 5 * metresPerInch, PitchM: 4.3 * metresPerInch, Blades: 3}
}

// Property: what a bench point says comes back, and the more is known the narrower the spread.
func TestBenchPointComesBack(t *testing.T) {
	air := seaLevel(t)
	label, err := New(fiveInch(), air)
	if err != nil {
		t.Fatal(err)
	}
	speed := 15000 * rpm
	thrust, torque := label.Loads(speed, Flow{})
	for _, factor := range []float64{0.7, 1, 1.3} {
		spec := fiveInch()
		spec.Bench = []BenchPoint{{SpeedRadS: speed, ThrustN: factor * thrust, TorqueNm: math.Pow(factor, 1.2) * torque}}
		p, err := New(spec, air)
		if err != nil {
			t.Fatal(err)
		}
		gotT, gotQ := p.Loads(speed, Flow{})
		if math.Abs(gotT/spec.Bench[0].ThrustN-1) > 0.005 || math.Abs(gotQ/spec.Bench[0].TorqueNm-1) > 0.01 {
			t.Errorf("factor %g: thrust %.4g torque %.4g, bench says %.4g %.4g", factor, gotT, gotQ, spec.Bench[0].ThrustN,
				spec.Bench[0].TorqueNm)
		}
		if u, l := p.Uncertainty, label.Uncertainty; !(u.Thrust.LnSD < l.Thrust.LnSD/3 && u.Power.LnSD < l.Power.LnSD/3) ||
			u.Thrust.Basis != uncertain.Measured {
			t.Errorf("bench leaves %+v of %+v", u, l)
		}
		spec.Bench[0].TorqueNm = 0
		if p, err = New(spec, air); err != nil {
			t.Fatal(err)
		}
		gotT, onlyQ := p.Loads(speed, Flow{})
		if math.Abs(gotT/spec.Bench[0].ThrustN-1) > 0.005 || (factor > 1) != (onlyQ > torque) && factor != 1 {
			t.Errorf("thrust only, factor %g: thrust %.4g torque %.4g; label %.4g %.4g", factor, gotT, onlyQ, thrust, torque)
		}
		if u := p.Uncertainty.Power; !(u.LnSD > 0.06) || u.Basis != uncertain.Label {
			t.Errorf("thrust only leaves power %+v", u)
		}
	}
}

// Property: every fault of a spec is named, with what it is about.
func TestNewRefuses(t *testing.T) {
	air := seaLevel(t)
	point := BenchPoint{SpeedRadS: 15000 * rpm, ThrustN: 4, TorqueNm: 0.05}
	for name, c := range map[string]struct {
		change func(*Spec)
		codes  []string
	}{
		"label": {func(s *Spec) { s.DiameterM, s.Blades = 0, 9 }, []string{"prop.diameter", "prop.pitch", "prop.blades"}},
		"rpm":   {func(s *Spec) { b := point; b.SpeedRadS = 15; s.Bench = []BenchPoint{b} }, []string{"bench.tip"}},
		"thrust": {func(s *Spec) { b := point; b.ThrustN = 40; b.TorqueNm = 0; s.Bench = []BenchPoint{b} },
			[]string{"bench.thrust_far"}},
		"torque":    {func(s *Spec) { b := point; b.TorqueNm = 50; s.Bench = []BenchPoint{b} }, []string{"bench.torque_far"}},
		"efficient": {func(s *Spec) { b := point; b.TorqueNm = 0.025; s.Bench = []BenchPoint{b} }, []string{"bench.ideal"}},
		"contradict": {func(s *Spec) {
			b := point
			b.ThrustN *= 0.6
			s.Bench = []BenchPoint{point, b}
		}, []string{"bench.contradict"}},
		"NaN": {func(s *Spec) { b := point; b.ThrustN = math.NaN(); s.Bench = []BenchPoint{b} },
			[]string{"bench.thrust"}},
		"station": {func(s *Spec) { s.Stations = []Measurement{{RadiusM: 0.1, ChordM: 0.01}} }, []string{"station.radius"}},
		"mass":    {func(s *Spec) { s.MassKg = 4 }, []string{"prop.mass"}},
		"windmill": {func(s *Spec) {
			b := point
			b.AxialMS = 40
			s.Bench = []BenchPoint{b}
		}, []string{"bench.no_thrust"}},
	} {
		spec := fiveInch()
		c.change(&spec)
		_, err := New(spec, air)
		var codes []string
		for _, f := range fault.In(err) {
			codes = append(codes, f.Code)
		}
		if !slices.Equal(codes, c.codes) {
			t.Errorf("%s: faults %v, want %v", name, codes, c.codes)
		}
	}
}

// Property: a soft blade gives less thrust coefficient the faster it turns, a stiff one does not,
// and slowly turned they agree.
func TestSoftBladeLosesThrust(t *testing.T) {
	air := seaLevel(t)
	ct := map[Flex][]float64{}
	for _, f := range []Flex{FlexStiff, FlexMedium, FlexSoft} {
		spec := fiveInch()
		spec.Flex = f
		p, err := New(spec, air)
		if err != nil {
			t.Fatal(err)
		}
		for _, speed := range []float64{3000 * rpm, 15000 * rpm, 25000 * rpm} {
			thrust, torque := p.Loads(speed, Flow{})
			c, _ := propCoefficients(thrust, torque, speed, spec.DiameterM, air.DensityKgM3)
			ct[f] = append(ct[f], c)
		}
	}
	if r := ct[FlexSoft][0] / ct[FlexStiff][0]; math.Abs(r-1) > 0.01 {
		t.Errorf("at 3000 rpm a soft blade gives %.3f of a stiff one's thrust", r)
	}
	for i := 1; i < 3; i++ {
		if !(ct[FlexSoft][i] < ct[FlexMedium][i] && ct[FlexMedium][i] < ct[FlexStiff][i]) {
			t.Errorf("CT stiff %.4f medium %.4f soft %.4f must fall", ct[FlexStiff][i], ct[FlexMedium][i], ct[FlexSoft][i])
		}
	}
	if r := ct[FlexSoft][2] / ct[FlexStiff][2]; r < 0.75 || r > 0.95 {
		t.Errorf("at 25000 rpm a soft blade gives %.3f of a stiff one's thrust", r)
	}
}
