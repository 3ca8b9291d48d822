package strict

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Published: conversions of the units that pilots write (SI brochure 2019, table 8; ISO 2533 for the
// pressure of the standard atmosphere in inches of mercury; ISO 80000-5 for degrees Fahrenheit).
func TestUnitsConvert(t *testing.T) {
	for _, c := range []struct {
		written, unit string
		want, within  float64
	}{
		{"68 F", "°C", 20, 1e-9},
		{"-40°F", "°C", -40, 1e-9},
		{"293.15 K", "°C", 20, 1e-9},
		{"450 ft", "m", 137.16, 1e-9},
		{"29.92 inHg", "hPa", 1013.25, 0.2},
		{"760 mmHg", "hPa", 1013.25, 0.1},
		{"120 km/h", "m/s", 33.333, 1e-3},
		{"100 mph", "m/s", 44.704, 1e-9},
		{"0.138 ohm", "milliohm", 138, 1e-9},
		{"1 lb", "g", 453.59, 0.01},
		{"90 s", "min", 1.5, 1e-9},
		{"0.009 m2", "cm²", 90, 1e-9},
	} {
		help := numberHelp(c.written, rule{unit: c.unit, low: math.Inf(-1), high: math.Inf(1)}, false)
		number, _, _ := strings.Cut(strings.TrimPrefix(help, "write "), " (")
		if got, err := strconv.ParseFloat(number, 64); err != nil || math.Abs(got-c.want) > c.within {
			t.Errorf("%s under a key in %s: %s, want %g", c.written, c.unit, help, c.want)
		}
	}
}

// Property: a unit that is not the key's is never dropped as if it were, whatever the key.
func TestForeignUnitsAreNotDropped(t *testing.T) {
	for unit := range pilotUnits {
		for other, units := range pilotUnits {
			for i := range units {
				for word := range strings.FieldsSeq(units[i].words) {
					help := numberHelp("7 "+word, rule{unit: unit, low: math.Inf(-1), high: math.Inf(1)}, false)
					dropped := strings.HasPrefix(help, "write 7,") || help == "write 7"
					if own, ok := unitNamed(word, unit); dropped && (!ok || own.factor != 1 || own.offset != 0) {
						t.Errorf("7 %s (%s) under a key in %s: %s", word, other, unit, help)
					}
				}
			}
		}
	}
}

// Regression: what is out of range and would be inside in another unit says so, and is not mended.
func TestRangesNameTheLikelyUnit(t *testing.T) {
	// What mW mean is not plain: radio power, mostly.
	if help := numberHelp("25mW", rule{unit: "W"}, false); wayOut.MatchString("must be, got 25mW; " + help) {
		t.Errorf("%q would be mended without a question", help)
	}
	for _, c := range []struct {
		x    float64
		r    rule
		path string
		want string
	}{
		{86, rule{unit: "°C", low: -40, high: 60}, "air.temperature_c", "write 30 if that is in °F"},
		{0.3, rule{unit: "%", low: 1, high: 100}, "log[0].hover_throttle_pct", "write 30 if that is a share of 1"},
		{14.8, rule{unit: "V", low: 2, high: 4.4}, "log[0].landing_cell_v", "divide by the number of cells if it is the whole pack's"},
		{76, rule{unit: "in", low: 0.8, high: 20}, "frames[0].max_prop_in", "write 2.992 if that is in mm"},
		{1e6, rule{unit: "g", low: 1, high: 5000}, "frames[0].mass_g", ""},
	} {
		got := rangeHelp(c.x, c.r, c.path)
		if got != c.want {
			t.Errorf("%g at %s: %q, want %q", c.x, c.path, got, c.want)
		}
		if got != "" && wayOut.MatchString("must be, got 1; "+got) {
			t.Errorf("%q would be mended without a question", got)
		}
	}
}
