package learn

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// oneCraft is a drawer with one craft whose entry of the log is to be filled in.
const oneCraft = `
motors: [{id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}]
props: [{id: p, size: 3.5x2.2x3, mass_g: 1.2}]
packs: [{id: k, size: 4S 650 95C, mass_g: 76}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}]
log:
  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, %s}
`

func learnEntry(t *testing.T, readings string) *Report {
	t.Helper()
	return learn(t, mustRead(t, fmt.Sprintf(oneCraft, readings)))
}

// Property: keys that mean the same teach the same.
func TestAliasesTeachTheSame(t *testing.T) {
	for _, pair := range [...][2]string{
		{"punch_current_a: 45", "full_throttle_current_a: 45"}, {"punch_pack_v: 13.6", "loaded_cell_v: 3.4"},
		{"flight_minutes: 5, flown: cruise, end_pack_v: 14", "flight_minutes: 5, flown: cruise, landing_cell_v: 3.5"},
		{"punch_pack_v: 13.6, within: {punch_pack_v: 0.8}", "loaded_cell_v: 3.4, within: {loaded_cell_v: 0.2}"},
		{"flight_minutes: 5, flown: cruise, end_pack_v: 14, within: {end_pack_v: 0.4}",
			"flight_minutes: 5, flown: cruise, landing_cell_v: 3.5, within: {landing_cell_v: 0.1}"},
		{"punch_current_a: 45, full_throttle_current_a: 45", "full_throttle_current_a: 45"},
	} {
		a, b := learnEntry(t, pair[0]).Learned, learnEntry(t, pair[1]).Learned
		if string(a.YAML()) != string(b.YAML()) {
			t.Errorf("%s and %s teach\n%s\n%s", pair[0], pair[1], a.YAML(), b.YAML())
		}
	}
}

// sdOf is what is left of the doubt of an input, over what there was.
func sdOf(r *Report, kind inventory.Kind, id string, input uncertain.Input) float64 {
	c, ok := changeOf(r.Learned, kind, id, input)
	if !ok {
		return 1
	}
	return c.LnSDAfter / c.LnSDBefore
}

// Independent: two voltages under two currents give the resistance by Ohm's law, drop over rise, whatever the charge at
// which they were read; the pack's own is what plug and leads leave of it.
func TestTwoVoltagesUnderTwoCurrentsGiveTheResistance(t *testing.T) {
	d := mustRead(t, fmt.Sprintf(oneCraft, "all_up_g: 180"))
	g, err := gather(t.Context(), d, someWays())
	if err != nil {
		t.Fatal(err)
	}
	pack := &g.observations[0].(*flightObservation).craft.Pack
	const worn = 1.3 // times the resistance that the law says
	ohm := worn*pack.InternalOhm + pack.LeadOhm
	for _, restV := range []float64{15.0, 15.9} {
		r := learnEntry(t, fmt.Sprintf("hover_current_a: 4.5, hover_pack_v: %.3f, punch_current_a: 44.5, punch_pack_v: %.3f",
			restV-4.5*ohm, restV-44.5*ohm))
		c, ok := changeOf(r.Learned, inventory.KindPack, "k", uncertain.PackResistance)
		if !ok || math.Abs(c.LnFactor-math.Log(worn)) > 0.06 || c.LnSDAfter > 0.5*c.LnSDBefore {
			t.Errorf("resting at %.1f V: ln %.3f ± %.3f (before ± %.3f), want %.3f", restV, c.LnFactor, c.LnSDAfter,
				c.LnSDBefore, math.Log(worn))
		}
		given := learnEntry(t, fmt.Sprintf("pack_resistance_mohm: %.2f", 1e3*ohm))
		if c, ok := changeOf(given.Learned, inventory.KindPack, "k", uncertain.PackResistance); !ok ||
			math.Abs(c.LnFactor-math.Log(worn)) > 0.06 {
			t.Errorf("read as such: ln %.3f, want %.3f", c.LnFactor, math.Log(worn))
		}
	}
	// A voltage alone, or two voltages under one current, say less.
	if left := sdOf(learnEntry(t, "hover_pack_v: 14.8, hover_current_a: 4.5"), inventory.KindPack, "k",
		uncertain.PackResistance); left < 0.97 {
		t.Errorf("one voltage leaves %.2f of the doubt of the resistance", left)
	}
}

// Property: the throttle and the current of a hover are held against the voltage at which they were read: the same
// throttle on fewer volts says that the craft needs less.
func TestHoverIsReadAtItsVoltage(t *testing.T) {
	predicted := func(readings string) []float64 {
		r := learnEntry(t, readings)
		var x []float64
		for _, c := range r.Entries[0].Readings {
			x = append(x, c.Before.Value)
		}
		return x
	}
	high := predicted("hover_throttle_pct: 30, hover_current_a: 4.5, hover_pack_v: 16.4")
	low := predicted("hover_throttle_pct: 30, hover_current_a: 4.5, hover_pack_v: 13.6")
	if !(low[0] > 1.15*high[0] && low[1] > 1.1*high[1] && low[1] < 1.25*high[1]) {
		t.Errorf("predicted at 13.6 V %v, at 16.4 V %v", low, high)
	}
	none := predicted("hover_throttle_pct: 30, hover_current_a: 4.5")
	if !(none[0] < low[0] && none[0] > high[0]) {
		t.Errorf("at half charge %v, between %v and %v", none, low, high)
	}
}

// Property: a rotor speed from the sound is taken as twice as sure as one typed in.
func TestHeardIsSurer(t *testing.T) {
	typed := learnEntry(t, "all_up_g: 180, hover_rpm: 13000").Entries[0].Readings[1].SD
	heard := learnEntry(t, "all_up_g: 180, hover_rpm: 13000, hover_rpm_from: heard").Entries[0].Readings[1].SD
	stated := learnEntry(t, "all_up_g: 180, hover_rpm: 13000, hover_rpm_from: heard, within: {hover_rpm: 500}").
		Entries[0].Readings[1].SD
	if typed != 260 || heard != 130 || stated != 500 {
		t.Errorf("typed ± %g, heard ± %g, as stated ± %g", typed, heard, stated)
	}
}

// Property: a time alone is worth less than one with its landing voltage, but something, and its landing is the one
// that physics takes for the class.
func TestTimeAloneTeaches(t *testing.T) {
	flying := func(readings string) float64 {
		return sdOf(learnEntry(t, readings), KindFlying, "cruise", uncertain.FlyingPower)
	}
	alone, landed := flying("flight_minutes: 7, flown: cruise"), flying("flight_minutes: 7, flown: cruise, end_pack_v: 14")
	if !(landed < alone && alone < 0.93) {
		t.Errorf("a time alone leaves %.3f of the doubt of the way of flying, with its landing %.3f", alone, landed)
	}
	if sd, with := learnEntry(t, "flight_minutes: 7, flown: cruise").Entries[0].Readings[0].SD,
		learnEntry(t, "flight_minutes: 7, flown: cruise, end_pack_v: 14").Entries[0].Readings[0].SD; !(sd > 1.1*with) {
		t.Errorf("time alone ± %.3f min, with its landing ± %.3f", sd, with)
	}
}

// Property: mean power over that of hover teaches the way of flying; time and power of one flight together say little
// more than one of them, for what that flight took beyond others is in both.
func TestPowerOverHoverTeachesFlying(t *testing.T) {
	flying := func(readings string) (shift, left float64) {
		r := learnEntry(t, readings)
		c, _ := changeOf(r.Learned, KindFlying, "cruise", uncertain.FlyingPower)
		return c.LnFactor, sdOf(r, KindFlying, "cruise", uncertain.FlyingPower)
	}
	more, left := flying("power_over_hover: 2.2, flown: cruise")
	less, _ := flying("power_over_hover: 1.1, flown: cruise")
	if !(more > 0.05 && less < -0.05 && left < 0.85) {
		t.Errorf("2.2 moves flying by ln %.3f, 1.1 by %.3f; %.2f of the doubt is left", more, less, left)
	}
	_, both := flying("power_over_hover: 1.5, flight_minutes: 6, flown: cruise, end_pack_v: 14")
	if !(both <= left+0.01 && both > 0.9*left) {
		t.Errorf("power leaves %.3f of the doubt, power and time of one flight %.3f", left, both)
	}
}

// Property: readings that no craft gives are faults that say why.
func TestPairsThatContradict(t *testing.T) {
	for readings, want := range map[string]string{
		"hover_pack_v: 3.8, hover_current_a: 4":                    "hover_pack_v: learn.pack_volts cells=4 full=16.8 got=3.8 low=6",
		"flight_minutes: 5, flown: cruise, end_pack_v: 17":         "end_pack_v: learn.pack_volts cells=4 full=16.8 got=17 low=6",
		"hover_pack_v: 14, punch_pack_v: 14.4, punch_current_a: 9": "hover_pack_v: learn.no_sag hover=14 punch=14.4",
		"hover_current_a: 9, punch_current_a: 8":                   "hover_current_a: learn.hover_over_full full=8 hover=9",
	} {
		_, err := Learn(t.Context(), mustRead(t, fmt.Sprintf(oneCraft, readings)), someWays())
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", readings, err, want)
		}
	}
}
