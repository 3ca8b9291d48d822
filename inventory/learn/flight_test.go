package learn

import (
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// cruiser is a craft with its readings, as the log's line tells of it.
func cruiser(t *testing.T, line string) *flightObservation {
	t.Helper()
	g, err := gather(t.Context(), mustRead(t, `
motors: [{id: m, stator: "1507", kv: 2700, mass_g: 14, cells: [4, 6]}]
props: [{id: p, size: 4x2.5x3}]
packs: [{id: k, size: 4S 900 80C, mass_g: 102}]
frames: [{id: f, mass_g: 58, max_prop_in: 4}]
boards: [{id: b, esc_current_a: 35, cells: [3, 6], mass_g: 11}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, `+line+`}
`), someWays())
	if err != nil {
		t.Fatal(err)
	}
	return g.observations[0].(*flightObservation)
}

// Independent: a flight with its charge noted lasts until that charge is gone, whatever the voltage; one with its
// landing voltage until a display, which plug and leads are taken off, shows that voltage, though it use nearly all.
func TestFlightsEndAsTheyWereNoted(t *testing.T) {
	f := cruiser(t, "flight_minutes: 6, flown: cruise, used_mah: 882")
	flight, ok := f.flight.fly(&f.craft, true)
	if !ok || math.Abs(flight.UsedAs/3.6-882) > 0.5 {
		t.Errorf("%.1f of 882 mAh used", flight.UsedAs/3.6)
	}
	f = cruiser(t, "flight_minutes: 6, flown: cruise, landing_cell_v: 3.4")
	flight, ok = f.flight.fly(&f.craft, false)
	if !ok || math.Abs(f.craft.Pack.DisplayCellV(flight.LoadedCellV, flight.EndA)-3.4) > 0.005 {
		t.Errorf("a display shows %.3f V at the end, noted as 3.4",
			f.craft.Pack.DisplayCellV(flight.LoadedCellV, flight.EndA))
	}
	f = cruiser(t, "flight_minutes: 6, flown: hover, landing_cell_v: 2.6")
	if flight, ok = f.flight.fly(&f.craft, false); !ok || flight.UsedAs < 0.9*f.craft.Pack.CapacityAs {
		t.Errorf("down to 2.6 V %.0f of %.0f As are used", flight.UsedAs, f.craft.Pack.CapacityAs)
	}
}

// Independent: the doubt of a flight's time and charge is that of the table and what half a tenth of a volt at
// landing makes of them, worked out by flying to both voltages.
func TestLandingVoltageWidensTheDoubt(t *testing.T) {
	f := cruiser(t, "flight_minutes: 6, flown: cruise, landing_cell_v: 3.5, used_mah: 720")
	fly := func(landingV float64) physics.Flight {
		way := someWays()["cruise"]
		way.LandingV, way.Reserve, way.AtBoard = landingV, 0.01, true
		flight, why := f.craft.Fly(&way)
		if why != physics.Defined {
			t.Fatal(why)
		}
		return flight
	}
	long, short := fly(3.45), fly(3.55)
	usedDoubt := 720 * math.Log(long.UsedAs/short.UsedAs) / 2
	for _, r := range f.readings {
		var want float64
		switch r.Key {
		case UsedCharge:
			want = math.Hypot(0.05*720, usedDoubt)
		case FlightMinutes: // it counts to the charge used
			want = 0.6
		}
		if math.Abs(r.SD-want) > 1e-3*want {
			t.Errorf("%s is known to %.4f, want %.4f", r.Key, r.SD, want)
		}
	}
	f = cruiser(t, "flight_minutes: 6, flown: cruise, landing_cell_v: 3.5")
	timeDoubt := 6 * math.Log(long.DurationS/short.DurationS) / 2
	if want := math.Hypot(0.6, timeDoubt); math.Abs(f.readings[0].SD-want) > 1e-3*want || timeDoubt < 0.02 {
		t.Errorf("flying time is known to %.4f, want %.4f", f.readings[0].SD, want)
	}
}

// Independent: a display shows what its kind does, times the factor of its board.
func TestThrottleIsThatOfTheDisplay(t *testing.T) {
	f := cruiser(t, "hover_throttle_pct: 30")
	into := make([]float64, 1)
	for _, factor := range []float64{1, 0.8, 1.3} {
		if !f.values(&f.craft, factor, into) {
			t.Fatal("it does not hover")
		}
		way := physics.Flying{Segments: hovering()}
		p := f.craft.Evaluate(&way)
		duty, _ := p.Get(figure.HoverThrottle)
		if want := 100 * factor * physics.UnknownThrottle.Shown(duty); math.Abs(into[0]-want) > 1e-9 {
			t.Errorf("factor %g: the display shows %.2f %% for a duty of %.4f, want %.2f", factor, into[0], duty, want)
		}
	}
}

// Property: two readings of crafts of the same parts clash from four standard deviations of both on, beyond what is
// predicted to differ; ones that are named as misfits already do not.
func TestClashIsFourStandardDeviations(t *testing.T) {
	for _, c := range []struct {
		apart   float64 // in standard deviations of both
		fits    bool
		clashes int
	}{{2, true, 0}, {3.5, true, 0}, {4.5, true, 1}, {9, true, 1}, {9, false, 0}} {
		at := func(x float64) Compared {
			return Compared{Reading: Reading{AllUp, x, 0.5}, After: Interval{Value: 100, Known: true}, Fits: c.fits}
		}
		g := &evidence{entries: []source{{log: 0}, {log: 1}}}
		parts := inventory.Parts{Motor: "m", Prop: "p", Pack: "k", Frame: "f", Board: "b"}
		r := &Report{Entries: []Entry{{Number: 1, Parts: parts, Readings: []Compared{at(100)}},
			{Number: 2, Parts: parts, Readings: []Compared{at(100 + c.apart*math.Hypot(0.5, 0.5))}}}}
		g.conflicts(r)
		if len(r.Conflicts) != c.clashes {
			t.Errorf("%g standard deviations apart, fitting %v: %d clashes", c.apart, c.fits, len(r.Conflicts))
		}
	}
}

// Property: more charge than a pack can hold, a fifth of scatter and age allowed for, is a fault.
func TestChargeUsedIsBoundedByThePack(t *testing.T) {
	for used, want := range map[string]bool{"1070": true, "1090": false} {
		_, err := gather(t.Context(), mustRead(t, `
motors: [{id: m, stator: "1507", kv: 2700, mass_g: 14, cells: [4, 6]}]
props: [{id: p, size: 4x2.5x3}]
packs: [{id: k, size: 4S 900 80C, mass_g: 102}]
frames: [{id: f, mass_g: 58, max_prop_in: 4}]
boards: [{id: b, esc_current_a: 35, cells: [3, 6], mass_g: 11}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, flight_minutes: 6, flown: cruise, used_mah: `+used+`}
`), someWays())
		if (err == nil) != want {
			t.Errorf("%s of 900 mAh: %v", used, err)
		}
	}
}

// Independent: a bench's row is predicted in a stand's units: revolutions a minute, grams by standard gravity, amperes.
func TestBenchIsPredictedInItsUnits(t *testing.T) {
	d := mustRead(t, strings.Replace(readOnStand, "rpm: 22000, ", "", 1))
	g, err := gather(t.Context(), d, Ways{})
	if err != nil {
		t.Fatal(err)
	}
	b := g.observations[0].(*benchObservation)
	b.readings = append(b.readings, Reading{Key: StandSpeed, Measured: 22000, SD: 1})
	into := make([]float64, len(b.readings))
	if !b.predict(make([]float64, len(g.list)), into) {
		t.Fatal("nothing is predicted")
	}
	point, err := b.stand.Point(16, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range b.readings {
		want := map[Key]float64{
			StandSpeed: point.SpeedRadS * 9.549296586, StandThrust: point.ThrustN * 101.9716213, StandCurrent: point.CurrentA,
		}[r.Key]
		if math.Abs(into[i]-want) > 1e-6*want || want == 0 {
			t.Errorf("%s is predicted as %.4f, want %.4f", r.Key, into[i], want)
		}
	}
	if len(b.readings) != 3 {
		t.Errorf("%d readings", len(b.readings))
	}
}
