package objective

import (
	"math"
	"slices"
	"strings"
	"testing"

	"partsaloft/physics"
)

func TestParseWeights(t *testing.T) {
	for _, c := range []struct {
		text string
		want Weights
		err  string
	}{
		{"grip=4,endurance=1", Weights{0.8, 0.2, 0, 0}, ""},
		{"top_speed=0.5", Weights{0, 0, 0, 1}, ""},
		{"grip=1, endurance=1,smoothness=1,top_speed=1", Weights{0.25, 0.25, 0.25, 0.25}, ""},
		{"grip=0,endurance=0", Weights{}, "weight.none"},
		{"grip=-1", Weights{}, "weight.number"},
		{"grip=NaN", Weights{}, "weight.number"},
		{"grip=inf", Weights{}, "weight.number"},
		{"speed=1", Weights{}, `weight.axis axes=grip, endurance, smoothness, top_speed got="speed"`},
		{"grip", Weights{}, "weight.form"},
		{"", Weights{}, "weight.form"},
		{"grip=1,grip=2", Weights{}, "weight.twice axis=grip"},
		{"grip=x,speed=1", Weights{}, "weight.axis"},
	} {
		got, err := ParseWeights(c.text)
		if c.err != "" {
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%q: got error %v, want %q", c.text, err, c.err)
			}
			continue
		}
		if err != nil || got != c.want {
			t.Errorf("%q: got %v, %v", c.text, got, err)
		}
	}
}

func TestParseLimit(t *testing.T) {
	for _, c := range []struct{ text, want, err string }{
		{"all_up_g=..250", "all_up_g=..250", ""},
		{"thrust_to_weight=3..", "thrust_to_weight=3..", ""},
		{" style_minutes = 2 .. 4.5 ", "style_minutes=2..4.5", ""},
		{"motor_temperature_c=-10..90", "motor_temperature_c=-10..90", ""},
		{"all_up_g=250", "", "range.form"},
		{"all_up_g=..", "", "range.empty"},
		{"all_up_g=4..2", "", "range.swapped"},
		{"all_up_g=..nan", "", `range.end got="nan"`},
		{"all_up_g=..1e999", "", "range.end"},
		{"all_up=..250", "", `limit.figure got="all_up" near=all_up_g; id.near`},
		{"=..250", "", `limit.figure got=""; figure.such`},
		{"all_up_g", "", "limit.form"},
	} {
		got, err := ParseLimit(c.text)
		if c.err != "" {
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%q: got error %v, want %q", c.text, err, c.err)
			}
			continue
		}
		if err != nil || got.String() != c.want {
			t.Errorf("%q: got %v, %v", c.text, got, err)
		}
	}
}

func TestPresets(t *testing.T) {
	if got := PresetNames(); !slices.Equal(got, []string{"cruise", "freestyle", "race", "indoor", "hall"}) {
		t.Errorf("presets are %v", got)
	}
	for _, name := range PresetNames() {
		s, ok := Preset(name)
		if !ok || s.Check() != nil {
			t.Errorf("%s: %v", name, s.Check())
		}
	}
	if s, _ := Preset("cruise"); !slices.Equal(s.Flying.Segments, physics.EasySegments()) || s.Weights[Endurance] != 0.5 {
		t.Errorf("cruise is %+v", s)
	}
}

func TestWrittenStyle(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	w := Written{
		Name: "mine", Weights: map[string]float64{"grip": 3, "endurance": 1},
		Limits:        map[string]string{"style_minutes": "3..", "all_up_g": "..250"},
		RequiredRoles: []string{"camera"},
		Flying: &WrittenFlying{SpeedMps: num(10), LandingCellV: num(3.4), ReservePct: num(15), Segments: []WrittenSegment{
			{Kind: "hover", SharePct: 33.3}, {Kind: "cruise", SharePct: 33.3}, {Kind: "turn", SharePct: 30.4,
				LoadFactor: num(2)}, {Kind: "punch", SharePct: 3},
		}},
	}
	s, faults := w.Style()
	if len(faults) > 0 || s.Check() != nil {
		t.Fatalf("%v %v", faults, s.Check())
	}
	if s.Weights != (Weights{0.75, 0.25}) || len(s.Limits) != 2 || s.Limits[0].String() != "all_up_g=..250" {
		t.Errorf("got %+v", s)
	}
	if g := s.Flying.Segments; g[1].SpeedMS != 10 || g[0].SpeedMS != 0 || g[2].LoadFactor != 2 ||
		s.Flying.Reserve != 0.15 || s.Flying.LandingV != 3.4 {
		t.Errorf("got %+v", s.Flying)
	}

	bad := Written{
		Weights: map[string]float64{"grip": -1, "pace": 1},
		Limits:  map[string]string{"all_up_g": "250", "weight": "..250"},
		Flying: &WrittenFlying{Segments: []WrittenSegment{{Kind: "glide", SharePct: 50},
			{Kind: "punch", SharePct: 40, SpeedMps: num(3)}, {Kind: "cruise", SharePct: 1, SpeedMps: num(3), SpeedPct: num(3)},
			{Kind: "turn", SharePct: 1, LoadFactor: num(2), LoadPct: num(3)}}},
	}
	_, faults = bad.Style()
	var paths []string
	for _, f := range faults {
		paths = append(paths, f.Path)
	}
	want := []string{"weights.grip", "weights.pace", "limits.all_up_g", "limits.weight", "flying.segments[0].kind",
		"flying.segments[1]", "flying.segments[2]", "flying.segments[3]", "flying.segments"}
	if !slices.Equal(paths, want) {
		t.Errorf("faults at %v, want %v", paths, want)
	}
	zero := Written{Weights: map[string]float64{"grip": 0}}
	if _, faults := zero.Style(); len(faults) != 1 || faults[0].Code != "weight.none" {
		t.Errorf("all weights 0: %v", faults)
	}
	var empty Written
	if s, faults := empty.Style(); len(faults) > 0 || s.Check() != nil || s.Weights[TopSpeed] != 0.25 {
		t.Errorf("an empty style: %+v %v", s, faults)
	}
}

// Regression: the built-in styles are a contract: what each weighs, in parts, what it limits, how fast turns and
// pull-outs are judged; when a flight ends is left to the craft. Common practice, no source: cruising wants minutes
// first, a whoop with a thrust-to-weight of 3 is raced and flown in figures, a home lets nothing in that hits hard,
// a hall nothing heavy.
func TestPresetsAreAContract(t *testing.T) {
	for _, c := range []struct {
		name, limits string
		parts        [AxisCount]float64
		speedMS      float64
	}{
		{"cruise", "hover_throttle_pct=..65", [...]float64{1, 5, 3, 1}, 9},
		{"freestyle", "thrust_to_weight=2..", [...]float64{4, 2, 3, 1}, 12},
		{"race", "thrust_to_weight=2.. style_minutes=1.5..", [...]float64{4, 1, 1, 4}, 16},
		{"indoor", "kinetic_energy_j=..0.25 kinetic_energy_j=..0.4", [...]float64{3, 3, 4, 0}, 3},
		{"hall", "all_up_g=..100", [...]float64{3, 3, 4, 0}, 3},
	} {
		s, _ := Preset(c.name)
		var limits []string
		for _, l := range slices.Concat(s.Limits, s.DuctedLimits) {
			limits = append(limits, l.String())
		}
		if got := strings.Join(limits, " "); got != c.limits || s.Flying.SpeedMS != c.speedMS ||
			s.Flying.LandingV != 0 || s.Flying.Reserve != 0 || s.Flying.Indoors != (c.name == "indoor" || c.name == "hall") {
			t.Errorf("%s: limits %s, flown as %+v", c.name, got, s.Flying)
		}
		for a, w := range s.Weights {
			if math.Abs(w-c.parts[a]/10) > 1e-12 {
				t.Errorf("%s: %s weighs %g, want %g", c.name, Axis(a), w, c.parts[a]/10)
			}
		}
	}
}

// A segment in parts of what a build reaches carries these alone, and is flown outdoors; slow absolute ones are
// flown in a room.
func TestWrittenParts(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	w := Written{Flying: &WrittenFlying{Segments: []WrittenSegment{{Kind: "turn", SharePct: 60, SpeedPct: num(31),
		LoadPct: num(8)}, {Kind: "cruise", SharePct: 40, SpeedMps: num(2)}}}}
	s, faults := w.Style()
	want := []physics.Segment{{Kind: physics.Turn, Share: 0.6, LoadFactor: 1, SpeedPart: 0.31, LoadPart: 0.08},
		{Kind: physics.Cruise, Share: 0.4, SpeedMS: 2, LoadFactor: 1}}
	if len(faults) > 0 || !slices.Equal(s.Flying.Segments, want) || s.Flying.Indoors {
		t.Errorf("%v, flown as %+v", faults, s.Flying)
	}
	w.Flying.Segments[0] = WrittenSegment{Kind: "turn", SharePct: 60, SpeedMps: num(3)}
	if s, _ := w.Style(); !s.Flying.Indoors {
		t.Errorf("%+v is not flown in a room", s.Flying)
	}
}

// Regression: a written style that leaves out speeds and loads is flown as freestyle is: turns at 12 m/s and a load
// factor of 1.6; shares that were rounded add up to one.
func TestWrittenStyleFallsBackToFreestyle(t *testing.T) {
	w := Written{Flying: &WrittenFlying{Segments: []WrittenSegment{{Kind: "turn", SharePct: 33.34},
		{Kind: "cruise", SharePct: 66.69}}}}
	s, faults := w.Style()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	g := s.Flying.Segments
	if g[0].SpeedMS != 12 || g[0].LoadFactor != 1.6 || g[1].LoadFactor != 1 ||
		math.Abs(g[0].Share+g[1].Share-1) > 1e-12 || math.Abs(g[0].Share/g[1].Share-33.34/66.69) > 1e-12 {
		t.Errorf("flown as %+v", s.Flying)
	}
}
