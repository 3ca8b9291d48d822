package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/rotor"
)

// Property: thinning keeps the upper three quarters of the speeds, both ends included.
func TestThinned(t *testing.T) {
	var ps []props.Point
	for i := range 20 {
		ps = append(ps, props.Point{RPM: float64(1000 * (20 - i)), CT: 0.1})
	}
	got := props.Thinned(ps, 3)
	if len(got) != 3 || got[0].RPM != 6000 || got[2].RPM != 20000 || got[1].RPM != 13000 {
		t.Errorf("thinned to %v", got)
	}
	if ps[0].RPM != 20000 {
		t.Error("thinning sorted its argument")
	}
	if got := props.Thinned(ps[:2], 3); len(got) != 2 {
		t.Errorf("two points thinned to %v", got)
	}
}

// Property: sweeps take the two fastest settings, nearly equal speeds being one setting.
func TestSweepsAndZeroAdvance(t *testing.T) {
	var ps []props.Point
	for _, speed := range []float64{4000, 6000, 8000} {
		for i := range 9 {
			j := 0.1 * float64(i)
			ps = append(ps, props.Point{RPM: speed * (1 + 0.005*float64(i%3)), Advance: j, CT: 0.12 * (1 - j/0.85), CP: 0.05})
		}
	}
	got := props.Sweeps(ps, 5)
	if len(got) != 10 || got[0].RPM > 6200 || got[5].RPM < 7900 || got[0].Advance != 0 || got[9].Advance != 0.8 {
		t.Errorf("sweeps are %v", got)
	}
	// One speed alone, so that the last two points of the sweep belong together.
	line := ps[18:]
	for i := range line {
		line[i].RPM = 8000
	}
	if zero, ok := zeroAdvance(line); !ok || math.Abs(zero-0.85) > 1e-9 {
		t.Errorf("thrust ends at %g (%v), want 0.85", zero, ok)
	}
	if _, ok := zeroAdvance(line[:5]); ok {
		t.Error("a sweep that ends at half its thrust says nothing of its end")
	}
}

// Property: stand readings turn into coefficients: 1 N at 100 rev/s on 0.1 m in 1.2 kg/m³ is a CT of 1/1.2.
func TestCoefficient(t *testing.T) {
	pt := props.Coefficient(rotor.Spec{DiameterM: 0.1}, 6000, 1, 0.1/(2*math.Pi), 1.2)
	if math.Abs(pt.CT-1/1.2) > 1e-12 || math.Abs(pt.CP-1/1.2) > 1e-12 {
		t.Errorf("CT %g, CP %g, want %g both", pt.CT, pt.CP, 1/1.2)
	}
}

// Property: one station is the one nearest to 75 % of the radius, without its angle where only the
// chord is known.
func TestKnownStations(t *testing.T) {
	p := props.Prop{Spec: props.Label(4, 3, 2)}
	r := p.Spec.DiameterM / 2
	for _, x := range []float64{0.3, 0.74, 0.9} {
		p.Spec.Stations = append(p.Spec.Stations, rotor.Measurement{RadiusM: x * r, ChordM: 0.2 * r, AngleRad: 0.3})
	}
	for k, want := range map[props.Knowledge]int{props.FromLabel: 0, props.FromChord: 1, props.FromStation: 1,
		props.FromStations: 3} {
		s := p.Known(k)
		if len(s.Stations) != want {
			t.Errorf("%v knows %d stations, want %d", k, len(s.Stations), want)
		}
		if want == 1 && (s.Stations[0].RadiusM != 0.74*r || (s.Stations[0].AngleRad > 0) != (k == props.FromStation)) {
			t.Errorf("%v knows %+v", k, s.Stations[0])
		}
	}
}

// Independent: the joint fit, given figures made by another law, predicts them.
func TestPropFitRecoversALaw(t *testing.T) {
	air, err := props.Laboratory()
	if err != nil {
		t.Fatal(err)
	}
	truth := firstLaw().Conventional
	truth.Polar.ZeroLiftRad, truth.Polar.Drag, truth.Blade.Chord, truth.Blade.PitchScale = -0.035, 0.036, -1.75, 0.76
	var ps []props.Prop
	for i, l := range []struct {
		d, p   float64
		blades int
	}{{3, 2, 2}, {4, 4, 3}, {5, 3, 2}, {5, 4.5, 3}, {6, 6, 2}, {7, 4, 2}, {8, 6, 2}, {9, 9, 2}, {2, 1.5, 4}, {5, 5, 3}} {
		p := props.Prop{ID: fmt.Sprint(i), Family: fmt.Sprint("f", i/2), Spec: props.Label(l.d, l.p, l.blades)}
		for _, tip := range []float64{40, 60, 80} {
			p.Static = append(p.Static, props.Point{RPM: tip / (p.Spec.DiameterM / 2) / props.RPM})
		}
		for i := range 6 {
			p.Moving = append(p.Moving, props.Point{RPM: p.Static[2].RPM, Advance: 0.12 * float64(i) * l.p / l.d})
		}
		b := props.NewBench(&p, props.FromLabel, append(append([]props.Point{}, p.Static...), p.Moving...))
		ct, cp := make([]float64, 9), make([]float64, 9)
		b.Predict(&truth, air, ct, cp)
		for j := range b.Points {
			if j < 3 {
				p.Static[j].CT, p.Static[j].CP = ct[j], cp[j]
			} else {
				p.Moving[j-3].CT, p.Moving[j-3].CP = ct[j], cp[j]
			}
		}
		ps = append(ps, p)
	}
	error := func(law *rotor.ClassLaw) (worst float64) {
		for i := range ps {
			b := props.NewBench(&ps[i], props.FromLabel, ps[i].Static)
			ct, cp := make([]float64, 3), make([]float64, 3)
			b.Predict(law, air, ct, cp)
			for j, pt := range ps[i].Static {
				worst = math.Max(worst, math.Max(math.Abs(math.Log(pt.CT/ct[j])), math.Abs(math.Log(pt.CP/cp[j]))))
			}
		}
		return worst
	}
	first := firstLaw().Conventional
	law, _, err := newConventionalFit(ps, air).solve(nil)
	if err != nil {
		t.Fatal(err)
	}
	if before, after := error(&first), error(&law); after > 0.03 || before < 3*after {
		t.Errorf("worst error in ln CT or CP %.3f before the fit, %.3f after it", before, after)
	}
}

// Property: the tunnel's three tables join by prop, the tip station is left out, and a prop is
// small or large by its diameter.
func TestLoadTunnel(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{
		"uiuc_static.csv":   "prop_id,diameter_in,pitch_in,blades,rpm,ct,cp\nfam_5x3,5,3,2,5000,0.1,0.05\nfam_9x6,9,6,2,4000,0.11,0.05\nfam_5x3,5,3,2,6000,0.1,0.05\n",
		"uiuc_advance.csv":  "prop_id,rpm,J,ct,cp\nfam_5x3,6000,0.3,0.07,0.04\nother,6000,0.3,0.07,0.04\n",
		"uiuc_geometry.csv": "prop_id,r_R,c_R,beta_deg\nfam_5x3,0.75,0.2,15\nfam_5x3,1,0.05,9\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	ps, err := props.LoadTunnel(folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) != 2 || ps[0].Family != "fam" || ps[0].Class != props.Small || ps[1].Class != props.Large ||
		len(ps[0].Static) != 2 || len(ps[0].Moving) != 1 || len(ps[0].Spec.Stations) != 1 {
		t.Errorf("loaded %+v", ps)
	}
}
