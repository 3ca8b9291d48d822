package catalogue

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// plugged is a craft of invented parts of common sizes on a kind of plug.
func plugged(t *testing.T, plug, parts string) predict.Result {
	t.Helper()
	d, err := inventory.Read("test.yaml", strings.NewReader(fmt.Sprintf(parts, plug, plug)))
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	prop, err := d.Props[0].Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	style, ok := objective.Preset("freestyle")
	if !ok {
		t.Fatal("no such style")
	}
	return predict.Predict(inventory.Combination{Frame: &d.Frames[0], Motor: &d.Motors[0],
		Prop: &d.Props[0], Pack: &d.Packs[0], Board: &d.Boards[0]}, prop, &style)
}

const (
	pluggedWhoop = `
motors: [{id: m, stator: "0802", kv: 25000, mass_g: 2}]
props: [{id: p, size: 31mm x 0.9 x 4, mass_g: 0.25}]
packs: [{id: k, size: 1S 450 120C, mass_g: 12, cell_resistance_mohm: 12, connector: %s}]
frames: [{id: f, mass_g: 3.5, max_prop_in: 1.22, ducted: true}]
boards: [{id: b, esc_current_a: 6, esc_burst_a: 8, cells: 1S, mass_g: 4, connector: %s}]
`
	pluggedFive = `
motors: [{id: m, stator: "2207", kv: 1950, mass_g: 33, max_current_a: 48}]
props: [{id: p, size: 5.1x4.5x3, mass_g: 4.2}]
packs: [{id: k, size: 6S 1300 120C, mass_g: 215, cell_resistance_mohm: 3, connector: %s}]
frames: [{id: f, mass_g: 110, max_prop_in: 5}]
boards: [{id: b, esc_current_a: 60, cells: 6S, mass_g: 20, connector: %s}]
`
)

// TestPlugsLimitByClass: a plug holds a punch back at what pilots draw through it for seconds, and says so with its
// number; what its datasheet says is a caution (common practice, no source, and the datasheets of inventory's table).
func TestPlugsLimitByClass(t *testing.T) {
	for _, c := range []struct {
		plug, parts string
		binds       bool
		seconds     float64
		warns       physics.Caution
	}{
		{"PH 2.0", pluggedWhoop, true, 12, physics.WarmPlug},
		{"BT 2.0", pluggedWhoop, true, 15, physics.CautionEnd},
		{"XT30", pluggedFive, true, 45, physics.OverdrawnPlug},
		{"XT60", pluggedFive, true, 100, physics.OverdrawnPlug},
		{"XT90", pluggedFive, false, 150, physics.OverdrawnPlug},
		{"EC3", pluggedFive, true, 90, physics.CautionEnd},
		{"banana", pluggedFive, false, 0, physics.CautionEnd},
	} {
		r := plugged(t, c.plug, c.parts)
		p := &r.Performance
		full, _ := p.Get(figure.FullThrottleCurrent)
		use, why := p.Get(figure.ConnectorCurrentUse)
		if known := c.seconds > 0; known != (why == physics.Defined) || known && math.Abs(use-full/c.seconds) > 1e-9 {
			t.Errorf("%s: %.3g of its limit (%v), full throttle draws %.3g A", c.plug, use, why, full)
		}
		if got := p.Cap == physics.ConnectorLimit; got != c.binds {
			t.Errorf("%s: %v binds at %.3g A of full throttle, want the plug %v", c.plug, p.Cap, full, c.binds)
		}
		if want := fmt.Sprintf("of the %g A that pilots pull through %s for a few seconds", c.seconds, c.plug); c.binds &&
			!strings.Contains(LimitSentence(&r), want) {
			t.Errorf("%s: %q does not say %q", c.plug, LimitSentence(&r), want)
		}
		warned := physics.CautionEnd
		for _, w := range r.Cautions {
			if w.Caution == physics.OverdrawnPlug || w.Caution == physics.WarmPlug {
				warned = w.Caution
				if w.Caution.Danger() {
					t.Errorf("%s: %v is no danger below what pilots draw", c.plug, w)
				}
				if c.seconds > 0 && w.Caution == physics.OverdrawnPlug && w.Value > c.seconds*(1+1e-6) { // the cap is solved to so much
					t.Errorf("%s: %v draws more than the limit", c.plug, w)
				}
				if w.Caution == c.warns {
					break
				}
			}
		}
		if warned != c.warns {
			t.Errorf("%s: warned of %v, want %v; mean %.3g A", c.plug, warned, c.warns, p.SteadyPackA)
		}
	}
}

// TestWhatBindsIsNamedWithItsNumber: of ESCs and motors too the limit is said in A (regression).
func TestWhatBindsIsNamedWithItsNumber(t *testing.T) {
	for _, c := range []struct {
		was, is string
		limit   physics.Limit
		want    string
	}{
		{"esc_current_a: 60", "esc_current_a: 15", physics.BoardLimit, "of the 18 A that one can take for a few " +
			"seconds"},
		{"max_current_a: 48", "max_current_a: 20", physics.MotorLimit, "of their max current, 20.0 A"},
	} {
		r := plugged(t, "XT90", strings.Replace(pluggedFive, c.was, c.is, 1))
		if r.Performance.Cap != c.limit || !strings.Contains(LimitSentence(&r), c.want) {
			t.Errorf("%s: %v binds, %q", c.is, r.Performance.Cap, LimitSentence(&r))
		}
	}
}
