package rotor

import (
	"math"
	"testing"

	"partsaloft/physics/internal/residual"
)

// Published: props of which the whole label is known, weighed by the uploaders of a public database of
// thrust tests (in the fit; a 1.9x3 of 1.09 g, steeper than any other, is left out: it has 1.7 times
// the law's): the level within 10 %, each within 20 %.
func TestPublishedPropMass(t *testing.T) {
	var logs []float64
	for _, p := range []struct{ diameterIn, pitchIn, grams float64 }{
		{5, 4.3, 3.81}, {5, 4.5, 4.19}, {5, 5, 4.48}, {5.19, 3.6, 4.2}, {3, 3, 1.48}, {3.543, 3, 2.3}, {3.011, 1.6,
			1.18}, {5.1, 4.5, 4.3},
	} {
		e := math.Log(p.grams / 1000 / EstimateMass(p.diameterIn*metresPerInch, p.pitchIn*metresPerInch, 3).Value)
		logs = append(logs, e)
		if math.Abs(e) > 0.20 {
			t.Errorf("%gx%gx3 weighs %g g, ln over the law's %+.2f", p.diameterIn, p.pitchIn, p.grams, e)
		}
	}
	if m := residual.Median(logs); math.Abs(m) > 0.1 {
		t.Errorf("ln of weighed over predicted is %+.2f at the median", m)
	}
}

// Independent: the plastic of a prop from the chord measured along a blade (UIUC vol. 2, 5x4.3, two
// blades, chord over radius at 0.15 … 1), a section of 0.7 of chord times thickness, 12 % thick at the
// root and half as thick at the tip, of polycarbonate (1200 kg/m³), on a hub of 13 mm by 6.5 mm with a
// hole of 5 mm. Mass within a third of the law's, moment of inertia over m R² within a fifth.
func TestPropOfMeasuredChords(t *testing.T) {
	const density, radius = 1200.0, 2.5 * metresPerInch
	chords := [][2]float64{{0.15, 0.2436}, {0.2, 0.2485}, {0.25, 0.25}, {0.3, 0.2518}, {0.35, 0.2537}, {0.4, 0.2544},
		{0.45, 0.2541}, {0.5, 0.2525}, {0.55, 0.2491}, {0.6, 0.2432}, {0.65, 0.234}, {0.7, 0.2228}, {0.75, 0.2099}, {0.8,
			0.1953}, {0.85, 0.179}, {0.9, 0.161}, {0.95, 0.1324}, {1.0, 0.0176}}
	for blades := 2; blades <= 3; blades++ {
		hubKg := density * math.Pi / 4 * (0.013*0.013 - 0.005*0.005) * 0.0065
		hubInertia := hubKg * (0.013*0.013 + 0.005*0.005) / 8
		mass, inertia := hubKg, hubInertia
		for i := 1; i < len(chords); i++ {
			x := (chords[i][0] + chords[i-1][0]) / 2
			chord := (chords[i][1] + chords[i-1][1]) / 2 * radius
			thick := chord * 0.12 * (1 - 0.5*(x-0.15)/0.85)
			kg := float64(blades) * density * 0.7 * chord * thick * (chords[i][0] - chords[i-1][0]) * radius
			mass += kg
			inertia += kg * x * x * radius * radius
		}
		law := EstimateMass(2*radius, 4.3*metresPerInch, blades)
		got := EstimateInertia(mass, 2*radius, MassEven).Value / (mass * radius * radius)
		want := inertia / (mass * radius * radius)
		if r := mass / law.Value; r < 0.67 || r > 1.33 {
			t.Errorf("%d blades: plastic for %.2f g, the law has %.2f g", blades, mass*1e3, law.Value*1e3)
		}
		if r := got / want; r < 0.8 || r > 1.2 {
			t.Errorf("%d blades: the law's moment of inertia is %.3f m R², the drawn prop's %.3f", blades, got, want)
		}
	}
}
