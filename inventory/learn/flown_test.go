package learn

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
)

// A drawer of one craft that was weighed, flown and timed by its owner, with what the write-ups do not tell
// from memory: pitch, the split of the weight, the landing voltage.
const (
	whoop = `
motors: [{id: m, stator: "0802", kv: 19000, mass_g: 1.9, cells: [1, 1]}]
props: [{id: p, count: 8, size: 1.22x0.9x3, mass_g: 0.25}]
packs:
  - {id: light, size: 1S 300 40C, chemistry: lihv, mass_g: 7.7, connector: BT 2.0}
  - {id: heavy, size: 1S 450 40C, chemistry: lihv, mass_g: 13.3, connector: BT 2.0}
frames: [{id: f, mass_g: 4, max_prop_in: 1.22, ducted: true}]
boards: [{id: b, esc_current_a: 6, cells: [1, 1], mass_g: 4.4, connector: BT 2.0}]
extras: [{id: cam, role: camera, mass_g: 1.6, use: always}, {id: vtx, role: video, mass_g: 1, use: always}]
`
	forty = `
motors: [{id: m, stator: "1102", kv: 10000, mass_g: 2.8, cells: [2, 2]}]
props: [{id: p, count: 8, size: 1.57x1.2x4, mass_g: 0.5}]
packs: [{id: k, size: 2S 350 75C, mass_g: 20.9, connector: XT30}]
frames: [{id: f, mass_g: 6, max_prop_in: 1.6, ducted: true}]
boards: [{id: b, esc_current_a: 8, cells: [1, 2], mass_g: 5}]
extras: [{id: cam, role: camera, mass_g: 2, use: always}, {id: vtx, role: video, mass_g: 2, use: always}]
`
	small = `
motors: [{id: m, stator: "1103", kv: 8000, mass_g: 3.9, cells: [2, 3]}]
props: [{id: p, count: 8, size: 2.56x1.7x2, mass_g: 0.7}]
packs: [{id: k, size: 2S 350 75C, mass_g: 20.9, connector: XT30}]
frames: [{id: f, mass_g: 25, max_prop_in: 2.56}]
boards: [{id: b, esc_current_a: 13, cells: [2, 3], mass_g: 6}]
extras: [{id: cam, role: camera, mass_g: 6, use: always}, {id: vtx, role: video, mass_g: 6, use: always}]
`
	five = `
motors: [{id: m, stator: "2207", kv: 1750, mass_g: 32, cells: [4, 6]}]
props:
  - {id: p, count: 8, size: 5.1x4.3x3, mass_g: 4, series: s}
  - {id: q, count: 8, size: 5.1x4.7x3, mass_g: 4.2, series: s}
packs: [{id: k, size: 6S 1000 100C, mass_g: 170, connector: XT60}, {id: l, size: 4S 1300 100C, mass_g: 155, connector: XT60}]
frames: [{id: f, mass_g: 110, max_prop_in: 5.1}]
boards: [{id: b, esc_current_a: 45, cells: [3, 6], mass_g: 22}]
extras: [{id: cam, role: camera, mass_g: 12, use: always}, {id: vtx, role: video, mass_g: 25, use: always}]
`
)

// entry is an entry of a log for a timed flight; an all-up weight of 0 is not told.
func entry(prop, pack, flown string, minutes, landingV, allUpG float64) string {
	weighed := ""
	if allUpG > 0 {
		weighed = fmt.Sprintf("all_up_g: %g, ", allUpG)
	}
	return fmt.Sprintf("  - {parts: {motor: m, prop: %s, pack: %s, frame: f, board: b, extras: [cam, vtx]}, "+
		"%sflight_minutes: %g, flown: %s, landing_cell_v: %g}\n", prop, pack, weighed, minutes, flown, landingV)
}

// Published: crafts of build write-ups and public threads, weighed and timed by their owners (common
// practice; a row a craft), with two readings or more. Each flight is
// predicted from the craft's others. Ranges count by their middle, "at most" as it stands, outdoors
// and "mixed" as freestyle, "gentle" as cruise.
//
// The whoop is the hard one: on the light pack it flew longer than predicted, on the heavy one
// shorter, so that the one teaches the wrong thing about the other.
func TestFlownCraftsTeachTheirOtherFlights(t *testing.T) {
	var before, after float64
	crafts, n := 0, 0
	for _, c := range []struct{ name, drawer, log string }{
		{"whoop on two packs, 28 and 33 g", whoop,
			entry("p", "light", "indoor", 4.28, 3.3, 27.7) + entry("p", "light", "indoor", 5.08, 3.3, 27.7) +
				entry("p", "light", "freestyle", 4.0, 3.3, 27.7) + entry("p", "light", "freestyle", 4.25, 3.3, 27.7) +
				entry("p", "heavy", "indoor", 5.27, 3.3, 33.3) + entry("p", "heavy", "indoor", 4.4, 3.3, 33.3) +
				entry("p", "heavy", "freestyle", 2.75, 3.3, 33.3) + entry("p", "heavy", "freestyle", 3.75, 3.3, 33.3)},
		{"40 mm on 2S", forty, entry("p", "k", "freestyle", 4.0, 3.5, 0) + entry("p", "k", "hard", 3.25, 3.5, 0)},
		{"2.5 inch on 2S", small, entry("p", "k", "freestyle", 3.0, 3.5, 84) + entry("p", "k", "cruise", 4.0, 3.2, 84)},
		{"5 inch on 4S and 6S", five, entry("p", "l", "cruise", 6, 3.5, 0) + entry("p", "k", "freestyle", 4.25, 3.5,
			0) + entry("q", "k", "cruise", 6, 3.5, 0)},
	} {
		r := learn(t, mustRead(t, c.drawer+"log:\n"+c.log))
		if r.CrossCheck.After > r.CrossCheck.Before*(1+1e-6) {
			t.Errorf("%s: learning makes left-out flights worse, %.3f against %.3f", c.name, r.CrossCheck.After,
				r.CrossCheck.Before)
		}
		var was, is float64
		flights := 0
		for _, e := range r.Entries {
			for _, x := range e.Readings {
				if x.Key == FlightMinutes {
					was += math.Abs(math.Log(x.Measured / x.Before.Value))
					is += math.Abs(math.Log(x.Measured / x.LeftOut.Value))
					flights++
				}
			}
		}
		t.Logf("%s: %d flights, mean error %.0f %% by the figures, %.0f %% by the others; doubt of readings times %g",
			c.name, flights, 100*was/float64(flights), 100*is/float64(flights), r.Inflation)
		before += was
		after += is
		crafts, n = crafts+1, n+flights
	}
	t.Logf("%d crafts, %d flights: mean error %.0f %% by the figures, %.0f %% by the others", crafts, n,
		100*before/float64(n), 100*after/float64(n))
	if after >= before {
		t.Errorf("mean error of the logarithm %.3f by the figures, %.3f by the craft's other flights", before/float64(n),
			after/float64(n))
	}
}

// stands are two motors with one prop of 2 inch and four blades, its pitch from memory.
const stands = `
motors:
  - {id: big, stator: "1108", kv: 5200, bench: [{prop: p, volts: 10.91, throttle_pct: 100, rpm: 43057, thrust_g: 146, current_a: 6.29}]}
  - {id: little, stator: "1105", kv: 6000}
props: [{id: p, count: 8, size: 2x1.6x4}]
`

// Published: what one motor at full throttle shows of a 2-inch four-blade (public student thrust-stand
// runs of 2020; 1108 of 5200 rpm/V) brings the currents nearer that were read at part throttle on it and
// on another motor (1105 of 6000 rpm/V), at the rpm read there.
func TestStandTellsOfAnotherMotor(t *testing.T) {
	bare := mustRead(t, strings.Replace(stands,
		", bench: [{prop: p, volts: 10.91, throttle_pct: 100, rpm: 43057, thrust_g: 146, current_a: 6.29}]", "", 1))
	taught := mustRead(t, stands)
	if err := again(t, learn(t, taught).Learned).Apply(taught, "", someWays()); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		source, motor                    string
		voltageV, rpm, thrustG, currentA float64
	}{
		{"part throttle, 1108", "big", 11.58, 25610, 46.6, 2.45},
		{"part throttle, 1105", "little", 7.56, 25594, 48.5, 2.67},
	} {
		before, after := atRPM(t, bare, row.motor, row.voltageV, row.rpm), atRPM(t, taught, row.motor, row.voltageV, row.rpm)
		off := func(x, read float64) float64 { return math.Abs(math.Log(x / read)) }
		g := func(thrustN float64) float64 { return thrustN / physics.GravityMS2 * 1e3 }
		t.Logf("%s, %s: read %.1f g and %.2f A; labels %.1f g and %.2f A, learned %.1f g and %.2f A", row.source, row.motor,
			row.thrustG, row.currentA,
			g(before.ThrustN), before.CurrentA, g(after.ThrustN), after.CurrentA)
		if off(after.CurrentA, row.currentA) >= off(before.CurrentA, row.currentA) {
			t.Errorf("%s: current %.2f A by the labels, %.2f learned, read %.2f", row.source, before.CurrentA, after.CurrentA,
				row.currentA)
		}
		if off(g(after.ThrustN), row.thrustG) > 0.12 {
			t.Errorf("%s: thrust %.1f g learned, read %.1f", row.source, g(after.ThrustN), row.thrustG)
		}
	}
}

// atRPM is a stand's point at the throttle that gives a speed.
func atRPM(t *testing.T, d *inventory.Drawer, motor string, voltageV, rpm float64) physics.StandPoint {
	t.Helper()
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.Prop("p").Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	si := d.Motor(motor).SI()
	craft := inventory.Assemble(1, p, &si, &inventory.PackSI{}, &inventory.BodySI{}, physics.Connector{})
	s := physics.Stand{Propeller: craft.Propeller, Motor: craft.Motor, ThrottleExponent: 1}
	low, high := 0.01, 1.0
	var at physics.StandPoint
	for range 40 {
		if at, err = s.Point(voltageV, (low+high)/2); err != nil {
			t.Fatal(err)
		}
		if at.SpeedRadS*60/(2*math.Pi) < rpm {
			low = at.Throttle
		} else {
			high = at.Throttle
		}
	}
	return at
}
