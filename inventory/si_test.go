package inventory

import (
	"math"
	"slices"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

func mustRead(t testing.TB, text string) *Drawer {
	t.Helper()
	d, err := Read("test.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	return d
}

// smallCraft is a craft of invented parts in sizes of common practice: 12 mm motors, 2.5-inch props, 2S.
const smallCraft = `
air: {altitude_m: 0, temperature_c: 15}
motors: [{id: m, count: 4, stator: "1204", kv: 6700, mass_g: 5.3, shaft_mm: 1.5, prop_mount: screws, hole_pattern_mm: 9, cells: [2, 3], max_current_a: 8}]
props: [{id: p, count: 8, size: 2.5x1.9x3, mass_g: 1.17, bore_mm: 1.5, mount: screws, blade: root, directions: {cw: 4, ccw: 4}}]
packs: [{id: k, size: 2S 560 70C, mass_g: 28, connector: XT30, cell_resistance_mohm: 22}]
frames: [{id: f, mass_g: 20, max_prop_in: 3, hole_pattern_mm: 9, stack_mm: 25.5, camera_width_mm: 14, drag_area_cm2: 90}]
boards: [{id: b, esc_current_a: 14, cells: [2, 3], stack_mm: 25.5, mass_g: 6, connector: XT30, power_w: 1}]
extras:
  - {id: cam, role: camera, mass_g: 2, power_w: 0.5, width_mm: 14, use: always}
  - {id: vtx, role: video, mass_g: 2, power_w: 1.5, use: always}
`

// whole is the combination of the first part of each kind with what follows it.
func whole(d *Drawer) Combination {
	c := Combination{Frame: &d.Frames[0], Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0], Board: &d.Boards[0]}
	c.Extras = d.Following(c.Frame, c.Board)
	return c
}

func craftOf(t testing.TB, d *Drawer, c Combination) physics.Craft {
	t.Helper()
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	prop, err := rotor.New(c.Prop.Spec(), air)
	if err != nil {
		t.Fatal(err)
	}
	craft, err := c.Craft(prop)
	if err != nil {
		t.Fatal(err)
	}
	return craft
}

// TestCraftUnits is a published test: conversions by the definitions of inch, ampere-hour and the
// standard acceleration of free fall (SI brochure, 9th edition; ISO 2533).
func TestCraftUnits(t *testing.T) {
	d := mustRead(t, smallCraft)
	craft := craftOf(t, d, whole(d))
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"all-up mass, kg", craft.MassKg(), (4*(5.3+1.17) + 28 + 20 + 6 + 4) / 1000},
		{"diameter, m", craft.Propeller.DiameterM, 0.0635},
		{"pitch, m", craft.Propeller.PitchM, 0.04826},
		{"capacity, A s", craft.Pack.CapacityAs, 2016},
		{"safe current, A", craft.Pack.SafeCurrentA, 39.2},
		{"cells' resistance, ohm", craft.Pack.InternalOhm, 0.044},
		{"drag area, m²", craft.DragAreaM2, 0.009},
		{"electronics, W", craft.ElectronicsW, 3},
		{"ESC burst, A", craft.Board.BurstA, 16.8},
		{"motor limit, A", craft.Motor.MaxCurrentA, 8},
		{"plug for seconds, A", craft.Connector.PeakA, 45},
		{"plug in flight, A", craft.Connector.ContinuousA, 25},
		{"plug by its datasheet, A", craft.Connector.SheetPeakA, 30},
		{"air, kg/m³", craft.Propeller.Map.Air.DensityKgM3, 1.225},
	} {
		if math.Abs(c.got/c.want-1) > 1e-4 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
	// Radius ratio of one spec: 552 g at 18000 rpm.
	b := benchPoint(18000, 552, 1.225)
	if math.Abs(b.SpeedRadS-1884.956) > 1e-3 || math.Abs(b.ThrustN-5.41327) > 1e-5 {
		t.Errorf("18000 rpm and 552 g are %g rad/s and %g N", b.SpeedRadS, b.ThrustN)
	}
}

// TestEveryInputHasSpread is a property test: each uncertain input of a craft carries a spread and
// a basis, and what the pilot gives is never wider than what is estimated.
func TestEveryInputHasSpread(t *testing.T) {
	given := mustRead(t, strings.Replace(smallCraft, "max_current_a: 8",
		"max_current_a: 8, resistance_mohm: 100, no_load_a: 0.5, no_load_v: 7.4", 1))
	bare := mustRead(t, `
motors: [{id: m, stator: 1204, kv: 6700}]
props: [{id: p, size: 2.5x1.9x3}]
packs: [{id: k, size: 2S 560 70C}]
frames: [{id: f, mass_g: 20, max_prop_in: 3}]
boards: [{id: b, esc_current_a: 14, cells: [2, 3]}]
extras: [{id: cam, role: camera, mass_g: 2, use: always}, {id: vtx, role: video, mass_g: 2, use: always}]
`)
	a, b := craftOf(t, given, whole(given)), craftOf(t, bare, whole(bare))
	for i := range uncertain.InputCount {
		if i == uncertain.MotorCurrentLimit && a.Uncertainty.LnSD[i] == 0 {
			continue // a printed limit is taken as it stands
		}
		if !(a.Uncertainty.LnSD[i] > 0 && a.Uncertainty.LnSD[i] < 1) || !(b.Uncertainty.LnSD[i] > 0 &&
			b.Uncertainty.LnSD[i] < 1) {
			t.Errorf("%v: spreads %g given and %g estimated", i, a.Uncertainty.LnSD[i], b.Uncertainty.LnSD[i])
		}
		if a.Uncertainty.LnSD[i] > b.Uncertainty.LnSD[i]+1e-12 || a.Uncertainty.Basis[i] > b.Uncertainty.Basis[i] {
			t.Errorf("%v: given is %g (%v), estimated %g (%v)", i, a.Uncertainty.LnSD[i], a.Uncertainty.Basis[i],
				b.Uncertainty.LnSD[i], b.Uncertainty.Basis[i])
		}
	}
	for _, i := range []uncertain.Input{uncertain.MotorMass, uncertain.PropMass, uncertain.PackMass, uncertain.BoardMass,
		uncertain.DragArea, uncertain.PackResistance, uncertain.ElectronicsPower} {
		if b.Uncertainty.Basis[i] != uncertain.Estimated || a.Uncertainty.Basis[i] == uncertain.Estimated {
			t.Errorf("%v: basis %v given, %v not given", i, a.Uncertainty.Basis[i], b.Uncertainty.Basis[i])
		}
	}
}

// TestCautiousReadings: of ratings that contradict each other the lower counts, and it is said.
func TestCautiousReadings(t *testing.T) {
	d := mustRead(t, smallCraft+`
# none of these follow
`)
	c := whole(d)
	low := 9.0
	board, pack := *c.Board, *c.Pack
	board.EscBurstA = &low
	board.Connector = "PH 2.0"
	burst := 20.0
	pack.BurstC = &burst
	c.Board, c.Pack = &board, &pack
	craft := craftOf(t, d, c)
	if craft.Board.ContinuousA != 9 || craft.Board.BurstA != 9 {
		t.Errorf("board rated %g and %g A, want 9 and 9", craft.Board.ContinuousA, craft.Board.BurstA)
	}
	if math.Abs(craft.Pack.SafeCurrentA-11.2) > 1e-9 {
		t.Errorf("pack rated %g A, want 0.56 Ah times 20C", craft.Pack.SafeCurrentA)
	}
	if k := craft.Connector; k != (physics.Connector{ContinuousA: 8, PeakA: 12, SheetContinuousA: 2, SheetPeakA: 30}) {
		t.Errorf("the weaker plug is PH 2.0, got %+v", k)
	}
	if both := physics.PlugResistance("XT30") +
		physics.PlugResistance("PH 2.0"); math.Abs(craft.Pack.LeadOhm-both) > 1e-12 {
		t.Errorf("XT30 and PH 2.0 have %g ohm, want %g", craft.Pack.LeadOhm, both)
	}
}

// TestStandReadingsSharpenTheProp: a thrust read with a motor counts for its prop, unless it
// contradicts the rest.
func TestStandReadingsSharpenTheProp(t *testing.T) {
	text := func(thrustG string) string {
		return strings.Replace(smallCraft, "max_current_a: 8",
			"max_current_a: 8, bench: [{prop: p, volts: 7.4, throttle_pct: 100, rpm: 39000, thrust_g: "+thrustG+"}]", 1)
	}
	bare := craftOf(t, mustRead(t, smallCraft), whole(mustRead(t, smallCraft)))
	thrust, _ := bare.Propeller.Loads(39000*radSPerRPM, rotor.Flow{})
	expectedG := thrust / physics.GravityMS2 * 1000
	d := mustRead(t, text(number(round(expectedG*1.2))))
	read := craftOf(t, d, whole(d))
	got, _ := read.Propeller.Loads(39000*radSPerRPM, rotor.Flow{})
	if math.Abs(got/thrust-1.2) > 0.02 {
		t.Errorf("thrust with the reading is %.3g times the label's, read was 1.2", got/thrust)
	}
	if u, v := read.Propeller.Uncertainty.Thrust, bare.Propeller.Uncertainty.Thrust; !(u.LnSD < v.LnSD/2) ||
		u.Basis != uncertain.Measured {
		t.Errorf("with the reading CT is %v to %g, without to %g", u.Basis, u.LnSD, v.LnSD)
	}
	d = mustRead(t, text(number(round(expectedG*5))))
	if n := d.Remarks(); len(n) != 1 || n[0].Code != "check.benches_unused" {
		t.Errorf("a thrust five times too large gives %v", n)
	}
	wild := craftOf(t, d, whole(d))
	if u, v := wild.Propeller.Uncertainty.Thrust, bare.Propeller.Uncertainty.Thrust; u != v {
		t.Errorf("a reading that is not used changed CT from %v to %v", v, u)
	}
}

// TestColdPack: colder air makes the pack weaker, never stronger (property).
func TestColdPack(t *testing.T) {
	d := mustRead(t, smallCraft)
	p := &d.Packs[0]
	warm, cold := p.SI(rotor.CelsiusToKelvin(25)), p.SI(rotor.CelsiusToKelvin(-5))
	if !(cold.InternalOhm > warm.InternalOhm && cold.CapacityFactor < warm.CapacityFactor) || warm.CapacityFactor != 1 {
		t.Errorf("cold %g ohm and %g, warm %g ohm and %g", cold.InternalOhm, cold.CapacityFactor, warm.InternalOhm,
			warm.CapacityFactor)
	}
}

func BenchmarkAssemble(b *testing.B) {
	d := mustRead(b, smallCraft)
	c := whole(d)
	air, _ := d.Air.SI()
	prop, err := rotor.New(c.Prop.Spec(), air)
	if err != nil {
		b.Fatal(err)
	}
	motor, pack, body, plug := c.Motor.SI(), c.Pack.SI(air.TemperatureK), c.Body(), c.Connector()
	b.ReportAllocs()
	for b.Loop() {
		Assemble(4, prop, &motor, &pack, &body, plug)
	}
}

// A board is read as the last entry says that tells what its display shows; entries that do not say are as their
// board's.
func TestThrottleKindsAreNoted(t *testing.T) {
	d := mustRead(t, `
motors: [{id: m, stator: "1404", kv: 3800}]
props: [{id: p, size: 3x2x3}]
packs: [{id: k, size: 3S 450 75C}]
frames: [{id: f, mass_g: 40, max_prop_in: 3}]
boards: [{id: a, esc_current_a: 20, cells: [2, 4]}, {id: b, esc_current_a: 20, cells: [2, 4]}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: a}, hover_throttle_pct: 30}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: a}, hover_throttle_pct: 30, throttle_kind: signal}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: a}, hover_throttle_pct: 30, throttle_kind: thrust}
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, hover_throttle_pct: 30}
`)
	d.NoteThrottleKinds()
	var kinds []ThrottleKind
	for i := range d.Log {
		kinds = append(kinds, d.Log[i].ThrottleKind)
	}
	if want := []ThrottleKind{ThrustThrottle, SignalThrottle, ThrustThrottle, ""}; !slices.Equal(kinds, want) ||
		d.Boards[0].Throttle != ThrustThrottle || d.Boards[1].Throttle != "" {
		t.Errorf("entries %q, boards %q and %q", kinds, d.Boards[0].Throttle, d.Boards[1].Throttle)
	}
}
