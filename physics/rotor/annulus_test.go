package rotor

import (
	"math"
	"testing"
)

// coldRoot is the first change of sign of the residual found by a fine scan, without any start.
func coldRoot(a *annulus) (float64, bool) {
	const step = 0.002
	for x := leastInflowRad; x < mostInflowRad; x += step {
		if a.residual(math.Min(x+step, mostInflowRad)) > 0 {
			low, high := x, math.Min(x+step, mostInflowRad)
			for range 50 {
				if mid := (low + high) / 2; a.residual(mid) > 0 {
					high = mid
				} else {
					low = mid
				}
			}
			return high, true
		}
	}
	return 0, false
}

// Property: whatever angle the solver starts from, it ends at the first root from small phi.
func FuzzAnnulusFindsFirstRoot(f *testing.F) {
	f.Add(0.35, 0.2, 0.75, 0.1, 1.0, 0.2, 3e4, uint8(3))
	f.Add(1.1, 0.35, 0.2, 0.0, 1.0, 0.9, 8e3, uint8(4))
	f.Add(0.9, 0.3, 0.25, 0.3, 25.0, 0.05, 5e4, uint8(2))
	f.Add(0.2, 0.05, 0.97, 0.5, 1.0, 1.2, 2e5, uint8(6))
	polar := LabelPolar()
	f.Fuzz(func(t *testing.T, pitch, chord, radius, axial, massFlow, start, reynolds float64, blades uint8) {
		in := func(x, low, high float64) float64 {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return low
			}
			return low + math.Mod(math.Abs(x), high-low)
		}
		st := station{radius: in(radius, 0.16, 0.99), width: 0.05, chord: in(chord, 0.02, 0.5), pitchRad: in(pitch, 0.05,
			1.3)}
		blade := Blade{Blades: 1 + int(blades%8), RadiusM: 0.06, stations: []station{st}}
		r := elements{blade: &blade, polar: &polar}
		a := r.annulus(&st, 1, polar.section(in(reynolds, 1e3, 5e5), polar.zeroLift(3e4)))
		a.axial, a.massFlow = in(axial, 0, 1.5), in(massFlow, 1, 30)
		want, ok := coldRoot(&a)
		for _, s := range []inflowStart{{}, {in(start, 1e-3, 1.4), 1}, {want, 0.5}} {
			got := a.solve(&s)
			if a.residual(leastInflowRad) > 0 {
				return // lifts nothing: refused, as the scan's first step cannot
			}
			if got != ok || ok && math.Abs(s.phi-want) > 2e-5 && !hidden(&a, want) {
				t.Errorf("started at %g: angle %.7g (%v), first root %.7g (%v) of %+v chord %.3f", s.phi, s.phi, got, want, ok,
					st, st.chord)
			}
		}
	})
}

// hidden reports whether the residual is under 0 again less than a step of the solver's scan after
// a root: a pair that the scan may step over.
func hidden(a *annulus, root float64) bool {
	for i := range 200 {
		if a.residual(root+float64(i+1)/200*a.scanStep()) < 0 {
			return true
		}
	}
	return false
}

// Independent: Prandtl's factor by the library's arc cosine.
func TestPrandtl(t *testing.T) {
	for x := 1e-6; x < 40; x *= 1.1 {
		if want := 2 / math.Pi * math.Acos(math.Exp(-x)); math.Abs(prandtl(x)-want) > 1e-7 {
			t.Errorf("F(%g) is %.9f, want %.9f", x, prandtl(x), want)
		}
	}
}

// Property: lift and drag have no jumps, drag is over 0, and lift grows up to stall.
func TestPolarIsSmooth(t *testing.T) {
	polar := LabelPolar()
	for _, reynolds := range []float64{2e3, 1e4, 3e4, 1e5, 5e5} {
		sec := polar.section(reynolds, polar.zeroLift(reynolds))
		at := func(alpha float64) (float64, float64) { return sec.at(alpha, math.Sin(alpha), math.Cos(alpha)) }
		const step = 1e-4
		cl, cd := at(-1.5)
		for alpha := -1.5 + step; alpha < 1.5; alpha += step {
			l, d := at(alpha)
			if !(d > 0) || math.Abs(l-cl) > 20*step || math.Abs(d-cd) > 20*step {
				t.Fatalf("Re %g, alpha %.4f: lift %.5f after %.5f, drag %.5f after %.5f", reynolds, alpha, l, cl, d, cd)
			}
			if alpha > -0.05 && alpha < 0.2 && l <= cl {
				t.Fatalf("Re %g, alpha %.4f: lift falls before stall", reynolds, alpha)
			}
			cl, cd = l, d
		}
	}
}

// Property: a map is the same bits whenever it is made.
func TestMapIsDeterministic(t *testing.T) {
	a, b := testPropeller(t, 5.1, 4.6, 3).Map, testPropeller(t, 5.1, 4.6, 3).Map
	for i := range a.thrusts {
		if a.thrusts[i] != b.thrusts[i] || a.torques[i] != b.torques[i] {
			t.Fatalf("node %d: %g %g and %g %g", i, a.thrusts[i], a.torques[i], b.thrusts[i], b.torques[i])
		}
	}
}

// Property: a solver that goes on from its last solution says what a fresh one says.
func TestSolverForgetsItsStart(t *testing.T) {
	air := seaLevel(t)
	law, polar := LabelBlade(), LabelPolar()
	blade, err := law.Blade(0.0762, 0.0762, 3)
	if err != nil {
		t.Fatal(err)
	}
	used, err := NewSolver(blade, polar, air)
	if err != nil {
		t.Fatal(err)
	}
	for _, speed := range []float64{800, 3200, 1500, 4000, 900} {
		for _, axial := range []float64{0, 12, 3, 20, 0} {
			fresh, err := NewSolver(blade, polar, air)
			if err != nil {
				t.Fatal(err)
			}
			t1, q1, ok1 := used.Loads(speed, axial)
			t2, q2, ok2 := fresh.Loads(speed, axial)
			if ok1 != ok2 || ok1 && (math.Abs(t1-t2) > 1e-5*math.Abs(t2)+1e-9 || math.Abs(q1-q2) > 1e-5*math.Abs(q2)+1e-12) {
				t.Errorf("%g rad/s, %g m/s: %g %g (%v) and fresh %g %g (%v)", speed, axial, t1, q1, ok1, t2, q2, ok2)
			}
		}
	}
}
