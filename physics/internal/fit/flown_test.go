package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/physics"
)

func testRows() []flownRow {
	rows := []flownRow{
		{id: "a", motor: "1204", kv: 6700, diameterIn: 2.5, pitchIn: 1.9, blades: 3, cells: 2, capacityAh: 0.56,
			allUpKg: 0.085, style: "mixed"},
		{id: "b", motor: "2207", kv: 1800, diameterIn: 5.1, pitchIn: 4, blades: 3, cells: 6, capacityAh: 1.1, allUpKg: 0.55,
			style: "cruise"},
		{id: "c", motor: "0802", kv: 19000, diameterIn: 1.22, pitchIn: 0.8, blades: 3, cells: 1, capacityAh: 0.3,
			allUpKg: 0.027, style: "indoor"},
		{id: "d", motor: "1404", kv: 3900, diameterIn: 3.5, pitchIn: 2.2, blades: 2, cells: 4, capacityAh: 0.65,
			allUpKg: 0.18, style: "hard"},
	}
	for i := range rows {
		rows[i].quantity, rows[i].bound, rows[i].value = "flight_time", "eq", 4
	}
	return rows
}

func testFlights(t *testing.T) ([]flownRow, []timedFlight) {
	t.Helper()
	rows := testRows()
	b, err := newFlownBuilder(rows)
	if err != nil {
		t.Fatal(err)
	}
	flights, err := timedFlights(rows, b)
	if err != nil || len(flights) != len(rows) {
		t.Fatal(len(flights), err)
	}
	return rows, flights
}

// Property: flights made with a known unsteadiness give it back, also to crafts left out.
func TestFitFindsUnsteadiness(t *testing.T) {
	_, flights := testFlights(t)
	for i := range flights {
		flights[i].row.value = flights[i].minutes(1.3)
	}
	if k := fitUnsteady(flights, ""); math.Abs(k-1.3) > 0.01 {
		t.Errorf("found %.3f, made with 1.3", k)
	}
	logs, says := leaveCrafts(flights)
	for i, l := range logs {
		if math.Abs(l) > 0.02 || !says[i] {
			t.Errorf("%s left out is off by %+.3f", flights[i].row.id, l)
		}
	}
}

// A bound that holds says nothing, one that is broken counts in full, and a range counts by its
// geometric middle.
func TestBoundsCountHonestly(t *testing.T) {
	_, flights := testFlights(t)
	f := &flights[0]
	m := f.minutes(1)
	for _, c := range []struct {
		bound       string
		value, high float64
		want        float64
		says        bool
	}{
		{"le", 2 * m, 0, 0, false}, {"le", m / 2, 0, -math.Ln2, true}, {"ge", m / 2, 0, 0, false}, {"ge", 2 * m, 0,
			math.Ln2, true},
		{"range", m / 2, 2 * m, 0, true}, {"eq", m, 0, 0, true},
	} {
		f.row.bound, f.row.value, f.row.high = c.bound, c.value, c.high
		if l, says := f.ln(1); math.Abs(l-c.want) > 1e-9 || says != c.says {
			t.Errorf("%s %.2f to %.2f for %.2f min: %+.3f, says %v", c.bound, c.value, c.high, m, l, says)
		}
	}
}

// Property: more uncertain flying widens the interval, which holds the nominal time; heavier crafts
// land sooner.
func TestDrawnMinutes(t *testing.T) {
	_, flights := testFlights(t)
	for i := range flights {
		f := &flights[i]
		m := f.minutes(1)
		random := rand.New(rand.NewPCG(1, 1))
		low, high, _ := f.drawnMinutes(1, 0.05, random)
		low2, high2, _ := f.drawnMinutes(1, 0.6, rand.New(rand.NewPCG(1, 1)))
		if !(low < m && m < high) || (f.row.style != "hover" && !(high2/low2 > high/low)) {
			t.Errorf("%s: %.2f min in %.2f to %.2f, wider %.2f to %.2f", f.row.id, m, low, high, low2, high2)
		}
		heavy := *f
		heavy.craft.FrameKg *= 1.3
		if heavy.minutes(1) >= m {
			t.Errorf("%s: heavier flies longer", f.row.id)
		}
	}
}

// The rules of ways of flying.
func TestWayRules(t *testing.T) {
	for style, want := range map[string][]physics.Segment{
		"indoor": physics.IndoorSegments(), "cruise": physics.EasySegments(), "gentle, run very low": physics.EasySegments(),
		"outdoor": physics.MixedSegments(), "standard flight": physics.EasySegments(), "hard": physics.HardSegments(), "sport": physics.HardSegments(), "field": physics.MixedSegments(), "not stated": physics.MixedSegments(),
	} {
		r := flownRow{style: style, cells: 2}
		if got := r.way(); len(got.Segments) != len(want) || got.Segments[1] != want[1] {
			t.Errorf("%s is flown as %v", style, got.Segments)
		}
	}
	low := flownRow{style: "gentle, run very low", cells: 2}
	if w := low.way(); w.Reserve != 0.08 || w.LandingV != 3.2 {
		t.Errorf("run very low ends at %g V with %g left", w.LandingV, w.Reserve)
	}
}

// Mass without pack follows the weighed crafts, and what was guessed is said.
func TestGuessesAreSaid(t *testing.T) {
	rows := testRows()
	rows = append(rows, flownRow{id: "e", motor: "1404", diameterIn: 3, cells: 4, capacityAh: 0.65, style: "mixed",
		quantity: "flight_time", bound: "eq", value: 4})
	b, err := newFlownBuilder(rows)
	if err != nil {
		t.Fatal(err)
	}
	c, guessed, err := b.craft(&rows[4])
	if err != nil || len(guessed) != 4 {
		t.Errorf("guessed %v, %v", guessed, err)
	}
	if m := c.MassKg(); m < 0.1 || m > 0.3 {
		t.Errorf("a 3-inch craft of unknown mass weighs %.0f g", m*1000)
	}
	if _, guessed, err := b.craft(&rows[1]); err != nil || len(guessed) != 0 {
		t.Errorf("nothing is left to guess, got %v, %v", guessed, err)
	}
}
