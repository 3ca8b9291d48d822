package inventory

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// patience is far more than reading or flying anything takes, even on a machine that is busy.
const patience = 20 * time.Second

// FuzzFlies is a property test: parts with any figures in range, and any of the optional readings, end in
// words or in a craft whose figures are finite or undefined for a reason, in bounded time.
func FuzzFlies(f *testing.F) {
	f.Add(3900.0, 9.1, 3.5, 2.3, uint8(3), uint8(3), 560.0, 70.0, 31.0, 20.0, 140.0, 12.0, uint32(0))
	f.Add(1950.0, 33.0, 5.1, 4.8, uint8(3), uint8(6), 1300.0, 120.0, 120.0, 45.0, 0.0, 30.0, uint32(0xffffffff))
	f.Add(28000.0, 1.7, 1.2, 1.0, uint8(2), uint8(1), 300.0, 30.0, 3.0, 5.0, 9000.0, -40.0, uint32(0x5555))
	f.Add(60000.0, 0.3, 20.0, 40.0, uint8(8), uint8(14), 50000.0, 300.0, 1.0, 1.0, -500.0, 60.0, uint32(0xaaaa))
	f.Fuzz(func(t *testing.T, kv, motorG, diameterIn, pitchIn float64, blades, cells uint8, mAh, labelC, frameG, escA,
		altitudeM, temperatureC float64, optional uint32) {
		in := func(x, low, high float64) float64 {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return low
			}
			return low + math.Mod(math.Abs(x-low), high-low)
		}
		diameter := in(diameterIn, 0.8, 20)
		pitch := in(pitchIn, 0.2, min(20, 2*diameter))
		bit := 0
		some := func(format string, args ...any) string {
			bit++
			if optional>>(bit-1)&1 == 0 {
				return ""
			}
			return ", " + fmt.Sprintf(format, args...)
		}
		n := 1 + int(cells%14)
		var text strings.Builder
		fmt.Fprintf(&text, "motors: [{id: m, stator: %02d%02d, kv: %g%s%s%s%s%s}]\n", 4+int(blades)%57, 1+int(blades/8)%40,
			in(kv, 50, 60000),
			some("mass_g: %g", in(motorG, 0.3, 1000)), some("resistance_mohm: %g",
				in(kv, 2, 20000)), some("no_load_a: %g, no_load_v: %g", in(escA, 0.01, 20), in(labelC, 0.5, 60)),
			some("max_current_a: %g",
				in(escA, 0.3, 300)), some("bench: [{prop: p, volts: %g, throttle_pct: %g, rpm: %g, thrust_g: %g, current_a: %g}]", in(labelC, 1, 60), in(frameG, 1, 100), in(kv, 100, 120000), in(motorG, 0.1, 20000), in(escA, 0.01, 300)))
		fmt.Fprintf(&text, "props: [{id: p, diameter_in: %g, pitch_in: %g, blades: %d%s%s%s%s%s%s}]\n", diameter, pitch,
			2+int(blades)%7,
			some("mass_g: %g", in(motorG, 0.05,
				200)), some("blade: tip"), some("flex: soft"), some("made_for: conventional"), some("bench: [{rpm: %g, thrust_g: "+
				"%g, torque_mnm: %g}]", in(kv, 100, 120000), in(frameG, 0.1, 20000), in(motorG, 0.01, 5000)),
			some("blade_stations: [{radius_mm: %g, chord_mm: %g, angle_deg: %g}]", 0.75*diameter*MmPerInch/2,
				in(motorG, 0.5, 100), in(labelC, 1, 75)))
		fmt.Fprintf(&text, "packs: [{id: k, cells: %d, capacity_mah: %g, discharge_c: %g%s%s%s%s%s}]\n", n,
			in(mAh, 50, 50000), in(labelC, 0.5, 300),
			some("mass_g: %g", in(mAh, 1, 5000)), some("cell_resistance_mohm: %g", in(motorG, 0.2, 500)), some("cycles: %d",
				int(in(mAh, 0, 2000))), some("chemistry: liion"), some("connector: XT30"))
		fmt.Fprintf(&text, "frames: [{id: f, mass_g: %g, max_prop_in: 20, rotors: %d%s%s}]\n", in(frameG, 1, 5000),
			3+int(blades)%10, some("drag_area_cm2: %g", in(frameG, 2, 5000)), some("ducted: true"))
		fmt.Fprintf(&text, "boards: [{id: b, esc_current_a: %g, cells: [1, 14]%s%s}]\n", in(escA, 1, 200),
			some("mass_g: %g", in(escA, 0.5, 500)), some("power_w: %g", in(labelC, 0, 50)))
		fmt.Fprintf(&text, "air: {altitude_m: %g, temperature_c: %g}\n", in(altitudeM, -500, 9000), in(temperatureC, -40, 60))
		began := time.Now()
		d, err := Read("flies.yaml", strings.NewReader(text.String()))
		if err != nil {
			return // beyond what a drawer takes, in words; FuzzRead looks at those
		}
		c := Combination{Motor: &d.Motors[0], Prop: &d.Props[0], Pack: &d.Packs[0], Frame: &d.Frames[0], Board: &d.Boards[0]}
		air, err := d.Air.SI()
		if err != nil {
			t.Fatalf("the air was read and is none: %v", err)
		}
		prop, err := c.Prop.Propeller(air)
		if err == nil {
			var craft physics.Craft
			if craft, err = c.Craft(prop); err == nil {
				flies(t, text.String(), &craft)
			}
		}
		if err != nil && strings.TrimSpace(err.Error()) == "" {
			t.Errorf("no words\n%s", &text)
		}
		if took := time.Since(began); took > patience {
			t.Errorf("took %v\n%s", took, &text)
		}
	})
}

func flies(t *testing.T, text string, craft *physics.Craft) {
	t.Helper()
	for _, way := range []physics.Flying{{SpeedMS: 12, Segments: physics.HardSegments()},
		{SpeedMS: 40, Segments: physics.EasySegments()}} {
		p := craft.Evaluate(&way)
		for q := range figure.Count {
			if x, why := p.Get(q); why == physics.Defined && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("quantity %d is %g\n%s", q, x, text)
			}
		}
	}
	for input, sd := range craft.Uncertainty.LnSD {
		if !(sd >= 0 && sd < 10) {
			t.Errorf("input %d is known to %g\n%s", input, sd, text)
		}
	}
}
