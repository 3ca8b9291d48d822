package strict

import (
	"fmt"
	"maps"
	"math"
	"slices"
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
		if got, err := strconv.ParseFloat(help.Write, 64); err != nil || math.Abs(got-c.want) > c.within {
			t.Errorf("%s under a key in %s: %+v, want %g", c.written, c.unit, help, c.want)
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
					dropped := help.Write == "7"
					if own, ok := unitNamed(word, unit); dropped && (!ok || own.factor != 1 || own.offset != 0) {
						t.Errorf("7 %s (%s) under a key in %s: %+v", word, other, unit, help)
					}
				}
			}
		}
	}
}

// Regression: what is out of range and would be inside in another unit says so, and is not mended.
func TestRangesNameTheLikelyUnit(t *testing.T) {
	// What mW mean is not plain: radio power, mostly.
	if help := numberHelp("25mW", rule{unit: "W"}, false); help.Write != "" {
		t.Errorf("%+v would be mended without a question", help)
	}
	for _, c := range []struct {
		x    float64
		r    rule
		path string
		want string
	}{
		{86, rule{unit: "°C", low: -40, high: 60}, "air.temperature_c", "write.if_in as=30 unit=°F"},
		{0.3, rule{unit: "%", low: 1, high: 100}, "log[0].hover_throttle_pct", "write.if_share as=30 unit=share"},
		{14.8, rule{unit: "V", low: 2, high: 4.4}, "log[0].landing_cell_v", "divide_by_cells"},
		{76, rule{unit: "in", low: 0.8, high: 20}, "frames[0].max_prop_in", "write.if_in as=2.992 unit=mm"},
		{1e6, rule{unit: "g", low: 1, high: 5000}, "frames[0].mass_g", "check.digits_unit"},
	} {
		help := rangeHelp(c.x, c.r, c.path)
		got := string(help.Way)
		for _, name := range slices.Sorted(maps.Keys(help.Values)) {
			got += fmt.Sprintf(" %s=%v", name, help.Values[name])
		}
		if got != c.want {
			t.Errorf("%g at %s: %q, want %q", c.x, c.path, got, c.want)
		}
		if help.Write != "" {
			t.Errorf("%+v would be mended without a question", help)
		}
	}
}
