package figure

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

// unitOfSuffix are the units that the ends of keys stand for; keys without one are plain numbers.
var unitOfSuffix = map[string]string{
	"g": "g", "j": "J", "pct": "%", "a": "A", "w": "W", "v": "V", "minutes": "min", "mah": "mAh", "km": "km", "mps": "m/s", "mps2": "m/s²", "m": "m",
	"ms": "ms", "c": "°C", "rpm": "rpm",
}

// Property: every row is whole, has a key and a name of its own, a key that ends in its unit, and converts there and
// back; every group has figures, every level of prominence too.
func TestEveryRowIsWhole(t *testing.T) {
	key := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)+$`)
	keys, names := map[string]bool{}, map[string]bool{}
	var groups [GroupCount]int
	var levels [Listed + 1]int
	for i, f := range All() {
		if int(f.Quantity) != i || !key.MatchString(f.Key) || keys[f.Key] || f.Name == "" || names[f.Name] || !(f.PerSI > 0) {
			t.Errorf("figure %d: %+v", i, f)
		}
		keys[f.Key], names[f.Name] = true, true
		groups[f.Group]++
		levels[f.Shown]++
		unit := unitOfSuffix[f.Key[strings.LastIndex(f.Key, "_")+1:]]
		if strings.HasSuffix(f.Key, "_n_m2") {
			unit = "N/m²"
		}
		if f.Unit != unit {
			t.Errorf("%s is in %q, its key says %q", f.Key, f.Unit, unit)
		}
		for what, text := range map[string]string{"meaning": f.Meaning, "method": f.Method, "trust": f.Trust} {
			if !strings.HasSuffix(text, ".") {
				t.Errorf("%s: the %s %q is no sentence", f.Key, what, text)
			}
		}
		if got := f.ToSI(f.FromSI(123)); math.Abs(got-123) > 1e-9 {
			t.Errorf("%s: 123 comes back as %g", f.Key, got)
		}
		if g, ok := ByKey(f.Key); !ok || g != f {
			t.Errorf("%s is not found by its key", f.Key)
		}
	}
	for g := range GroupCount {
		if groups[g] == 0 || g.String() == "" {
			t.Errorf("group %d %q has %d figures", g, g, groups[g])
		}
	}
	for l, n := range levels {
		if n == 0 {
			t.Errorf("no figure has prominence %d", l)
		}
	}
	if _, ok := ByKey("all_up_kg"); ok {
		t.Error("a key that there is not is found")
	}
}

// Published: conversions of units (SI brochure, 9th edition; standard gravity by the 3rd CGPM, 1901). Thrust step is
// per cent of weight for each per cent of throttle, so that it stands as it is.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		key      string
		si, want float64
	}{
		{"all_up_g", 0.25, 250}, {"full_throttle_thrust_g", 9.80665, 1000}, {"thrust_to_weight", 4,
			4}, {"hover_throttle_pct", 0.3, 30},
		{"throttle_cap_pct", 1, 100}, {"thrust_step_pct", 6, 6}, {"hover_current_a", 5, 5}, {"hover_minutes", 90,
			1.5}, {"style_minutes", 240, 4},
		{"used_mah", 3600, 1000}, {"range_km", 1500, 1.5}, {"response_ms", 0.03, 30}, {"rise_ms", 0.1,
			100}, {"motor_temperature_c", 293.15, 20},
		{"top_speed_mps", 20, 20}, {"loaded_cell_v", 3.5, 3.5}, {"pack_current_use_pct", 0.8, 80}, {"disc_loading_n_m2", 100,
			100},
	} {
		f, ok := ByKey(c.key)
		if got := f.FromSI(c.si); !ok || math.Abs(got-c.want) > 1e-9 || f.Quantity.FromSI(c.si) != got ||
			f.Quantity.Key() != c.key {
			t.Errorf("%s: %g in SI is %g, want %g", c.key, c.si, got, c.want)
		}
	}
}

// Property: sets hold what they are made of.
func TestSets(t *testing.T) {
	s := SetOf(AllUpMass, TipMach)
	for q := range Count {
		if got, want := s.Has(SetOf(q)), q == AllUpMass || q == TipMach; got != want {
			t.Errorf("%s in the set: %v", q.Key(), got)
		}
		if !Every.Has(SetOf(q)) {
			t.Errorf("%s is not in the set of all", q.Key())
		}
	}
}
