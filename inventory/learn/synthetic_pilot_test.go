package learn

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// pilotParts is an invented pilot's drawer.
const pilotParts = `
air: {altitude_m: 50, temperature_c: 16}
motors:
  - {id: m08, stator: "0802", kv: 19000, mass_g: 1.9, max_current_a: 5, cells: [1, 1]}
  - {id: m12, stator: "1204", kv: 5900, mass_g: 5.3, max_current_a: 12, cells: [2, 3]}
  - {id: m14, stator: "1404", kv: 3900, mass_g: 9, max_current_a: 18, cells: [3, 4]}
  - {id: m20, stator: "2004", kv: 2950, mass_g: 17, max_current_a: 23, cells: [3, 4]}
  - {id: m22, stator: "2207", kv: 1780, mass_g: 32, max_current_a: 42, cells: [4, 6]}
  - {id: m28, stator: "2810", kv: 900, mass_g: 62, max_current_a: 40, cells: [4, 6]}
props:
  - {id: p1, size: 1.22x0.9x3, mass_g: 0.25}
  - {id: p25, size: 2.5x1.9x3, mass_g: 0.9, series: wing}
  - {id: p3, size: 3x2.4x3, mass_g: 1.3, series: wing}
  - {id: p35, size: 3.5x2.2x3, mass_g: 1.6}
  - {id: p51, size: 5.1x4.3x3, mass_g: 4}
  - {id: p8, size: 8x4x2, mass_g: 9}
packs:
  - {id: k1, size: 1S 300 40C, chemistry: lihv, mass_g: 7.7, connector: BT 2.0}
  - {id: k3, size: 3S 450 75C, mass_g: 40, connector: XT30}
  - {id: k4, size: 4S 650 95C, mass_g: 76, connector: XT30}
  - {id: k4b, size: 4S 850 75C, mass_g: 97, connector: XT30}
  - {id: k4c, size: 4S 1300 75C, mass_g: 150, connector: XT60}
  - {id: k6, size: 6S 1100 100C, mass_g: 190, connector: XT60}
  - {id: k6b, size: 6S 1300 75C, mass_g: 215, connector: XT60}
frames:
  - {id: f1, mass_g: 4, max_prop_in: 1.22, ducted: true}
  - {id: f25, mass_g: 22, max_prop_in: 2.5}
  - {id: f3, mass_g: 36, max_prop_in: 3}
  - {id: f35, mass_g: 48, max_prop_in: 3.5}
  - {id: f35b, mass_g: 52, max_prop_in: 3.5}
  - {id: f5, mass_g: 105, max_prop_in: 5.1}
  - {id: f5b, mass_g: 118, max_prop_in: 5.1}
  - {id: f8, mass_g: 190, max_prop_in: 8}
boards:
  - {id: b6, esc_current_a: 6, cells: [1, 1], mass_g: 4.4, connector: BT 2.0}
  - {id: b15, esc_current_a: 15, cells: [2, 3], mass_g: 6, connector: XT30}
  - {id: b25, esc_current_a: 25, cells: [2, 6], mass_g: 8, connector: XT30}
  - {id: b30, esc_current_a: 30, cells: [2, 6], mass_g: 9, connector: XT30}
  - {id: b45, esc_current_a: 45, cells: [3, 6], mass_g: 22, connector: XT60}
  - {id: b50, esc_current_a: 50, cells: [3, 6], mass_g: 24, connector: XT60}
extras:
  - {id: tiny, role: camera, mass_g: 2.6, use: optional, power_w: 1.5}
  - {id: cam, role: camera, mass_g: 6, use: optional}
  - {id: big, role: camera, mass_g: 34, use: optional}
`

// What an entry of a log holds: a scale; what a pilot types of a flight; what a flight file gives, its means over half a
// minute of hovering known to half a point of throttle and to 1 % of rpm. Minutes need flown to be filled in.
const (
	scaleOnly  = "all_up_g: 100"
	typedEntry = "all_up_g: 100, hover_throttle_pct: 30, throttle_kind: output, flight_minutes: 5, flown: %s, used_mah: %d"
	fileEntry  = "all_up_g: 100, hover_throttle_pct: 30, throttle_kind: output, hover_rpm: 10000, hover_current_a: 4, " +
		"hover_pack_v: %[3]g, punch_current_a: 40, punch_rpm: 30000, punch_pack_v: %[4]g, power_over_hover: 1.5, " +
		"flight_minutes: 5, flown: %[1]s, used_mah: %[2]d, within: {hover_throttle_pct: 0.5, hover_rpm: 100}"
)

// syntheticCraft is a craft of the drawer, how it is flown, and what was read on it.
type syntheticCraft struct {
	what, parts, flown, readings string
}

// syntheticPilot is a drawer with its log as a model, and all that the truth of its crafts hangs on.
type syntheticPilot struct {
	text   string
	list   []syntheticCraft
	g      *evidence
	crafts []*flightObservation // with the rows of all that errs of each
	entry  []int                // observation of each craft, −1 of one that was not read
	before []predict.Result
}

// toldFigures are those that a pilot asks for; the last is the throttle that the display shows.
var toldFigures = [...]string{"hover throttle", "shown throttle", "minutes", "thrust-to-weight"}

func newSyntheticPilot(t testing.TB, list []syntheticCraft) *syntheticPilot {
	t.Helper()
	if testing.Short() {
		t.Skip("draws many truths")
	}
	s := &syntheticPilot{list: list}
	var log strings.Builder
	bare := mustRead(t, pilotParts)
	entries := 0
	for _, c := range list {
		s.entry = append(s.entry, -1)
		if c.readings == "" {
			continue
		}
		readings := c.readings
		if strings.Contains(readings, "%") {
			pack := bare.Pack(partID(c.parts, "pack"))
			args := []any{c.flown, int(0.75 * pack.CapacityMAh), 3.8 * float64(pack.Cells), 3.3 * float64(pack.Cells)}
			if readings == typedEntry {
				args = args[:2]
			}
			readings = fmt.Sprintf(readings, args...)
		}
		fmt.Fprintf(&log, "  - {parts: {%s}, %s}\n", c.parts, readings)
		s.entry[len(s.entry)-1] = entries
		entries++
	}
	s.text = pilotParts + "log:\n" + log.String()
	s.before = s.predict(t, nil)
	s.gather(t)
	return s
}

func partID(parts, kind string) string {
	_, rest, _ := strings.Cut(parts, kind+": ")
	id, _, _ := strings.Cut(rest, ",")
	return id
}

// gather makes the model afresh, and the rows of every craft.
func (s *syntheticPilot) gather(t testing.TB) {
	t.Helper()
	d := mustRead(t, s.text)
	var err error
	if s.g, err = gather(t.Context(), d, pilotWays()); err != nil {
		t.Fatal(err)
	}
	s.crafts = nil
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range s.list {
		k := s.combination(t, d, c.parts)
		prop, err := s.g.propeller(k.Prop, air)
		if err != nil {
			t.Fatal(err)
		}
		f := &flightObservation{frame: k.Frame.ID}
		if f.craft, err = k.Craft(prop); err != nil {
			t.Fatal(err)
		}
		f.all = s.g.rows(&k, &f.craft, c.flown)
		if by, ok := s.g.looseMass[f.frame]; ok {
			f.all[uncertain.FrameMass] = f.all[uncertain.FrameMass].plus(
				row{{s.g.of(kindLoose, f.frame, uncertain.FrameMass), by}})
		}
		s.crafts = append(s.crafts, f)
	}
}

func (s *syntheticPilot) combination(t testing.TB, d *inventory.Drawer, parts string) inventory.Combination {
	t.Helper()
	p := inventory.Parts{Motor: partID(parts, "motor"), Prop: partID(parts, "prop"), Pack: partID(parts, "pack"),
		Frame: partID(parts, "frame"), Board: partID(parts, "board")}
	_, extras, _ := strings.Cut(parts, "extras: [")
	p.Extras = []string{strings.TrimSuffix(extras, "]")}
	k, err := compat.Build(d, &p)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func pilotWays() Ways {
	w := Ways{}
	for _, name := range objective.PresetNames() {
		style, _ := objective.Preset(name)
		w[name] = style.Flying
	}
	return w
}

// predict is what every command says of the crafts, with what was learned.
func (s *syntheticPilot) predict(t testing.TB, l *Learned) []predict.Result {
	t.Helper()
	results := make([]predict.Result, len(s.list))
	byWay := map[string][]int{}
	for i, c := range s.list {
		byWay[c.flown] = append(byWay[c.flown], i)
	}
	for way, which := range byWay {
		d := mustRead(t, s.text)
		d.NoteThrottleKinds()
		style, _ := objective.Preset(way)
		if l != nil {
			if err := l.Apply(d, way, pilotWays()); err != nil {
				t.Fatal(err)
			}
		}
		air, err := d.Air.SI()
		if err != nil {
			t.Fatal(err)
		}
		var list []inventory.Combination
		for _, i := range which {
			list = append(list, s.combination(t, d, s.list[i].parts))
		}
		r, err := predict.Assess(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, list,
			predict.Sampling{Draws: 400, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		for k, i := range which {
			results[i] = r[k]
		}
	}
	return results
}

// draw fills the log with what crafts of a hidden truth show, read with the errors of their instruments, and returns
// the figures of the truth by craft; false where a craft of this truth cannot do what the log says.
func (s *syntheticPilot) draw(rng *rand.Rand) ([][len(toldFigures)]float64, bool) {
	truth := make([]float64, len(s.g.list))
	for i := range truth {
		truth[i] = rng.NormFloat64()
	}
	s.g.priorOnly = nil
	usual := append([]float64{}, truth...) // without the luck of single flights
	for i, l := range s.g.list {
		if l.kind == kindFlight {
			usual[i] = 0
		}
	}
	figures := make([][len(toldFigures)]float64, len(s.list))
	for i, f := range s.crafts {
		d := f.all.deviation(usual)
		c := f.craft.Deviate(&d)
		style, _ := objective.Preset(s.list[i].flown)
		p := c.Evaluate(&style.Flying)
		duty, why := p.Get(figure.HoverThrottle)
		minutes, whyNot := p.Get(figure.StyleTime)
		thrust, _ := p.Get(figure.ThrustToWeight)
		if why != physics.Defined || whyNot != physics.Defined {
			return nil, false
		}
		shown := math.Min(s.before[i].Combination.Board.Throttle.SI().Shown(duty)*math.Exp(d[uncertain.ThrottleScale]), 1)
		figures[i] = [...]float64{duty, shown, minutes, thrust}
		if at := s.entry[i]; at >= 0 && !s.g.observations[at].(*flightObservation).readTrue(&c, truth, rng) {
			return nil, false
		}
	}
	return figures, true
}

// readTrue sets the readings of an entry to what a craft of the truth shows, with their errors, and the voltages at
// which they were read.
func (f *flightObservation) readTrue(c *physics.Craft, truth []float64, rng *rand.Rand) bool {
	if f.hoverV > 0 {
		p := c.Evaluate(&physics.Flying{Segments: hovering()})
		hoverA, _ := p.Get(figure.HoverCurrent)
		hoverW, _ := p.Get(figure.HoverPower)
		fullA, _ := p.Get(figure.FullThrottleCurrent)
		cellV, why := p.Get(figure.LoadedCell)
		if why != physics.Defined || !(hoverA > 0) {
			return false
		}
		// One display errs alike in both, and the punch came at 4.1 V a cell.
		display := 1 + scaleSD*rng.NormFloat64()
		f.hoverV = hoverW / hoverA * display
		f.punchV = (c.Pack.DisplayCellV(cellV, fullA) - 0.1) * float64(c.Pack.Cells) * display
	}
	shows, ok := predictions(f, truth)
	if !ok {
		return false
	}
	for i := range f.readings {
		r := &f.readings[i]
		scale := r.sd()
		x := r.unscaled(shows[i] + scale*rng.NormFloat64())
		if readings[r.Key].relative {
			r.SD = scale * x
		}
		r.Measured = x
	}
	return true
}

// values are the told figures of a result, with its intervals.
func values(r *predict.Result) [len(toldFigures)]predict.Value {
	return [...]predict.Value{r.Figures[figure.HoverThrottle], r.Shown, r.Figures[figure.StyleTime],
		r.Figures[figure.ThrustToWeight]}
}

// tally counts intervals by craft and figure.
type tally struct {
	runs                   int
	inside, labels, widths [][len(toldFigures)]float64
}

func (s *syntheticPilot) newTally() *tally {
	n := len(s.list)
	return &tally{inside: make([][len(toldFigures)]float64, n), labels: make([][len(toldFigures)]float64, n),
		widths: make([][len(toldFigures)]float64, n)}
}

// add counts one truth with what was learned of it.
func (s *syntheticPilot) add(y *tally, truth [][len(toldFigures)]float64, after []predict.Result) {
	y.runs++
	for i := range s.list {
		was, is := values(&s.before[i]), values(&after[i])
		for k, x := range truth[i] {
			if x >= is[k].Low && x <= is[k].High {
				y.inside[i][k]++
			}
			if x >= was[k].Low && x <= was[k].High {
				y.labels[i][k]++
			}
			y.widths[i][k] += (is[k].High - is[k].Low) / (was[k].High - was[k].Low)
		}
	}
}

// of is the mean width, over that from labels, and the shares inside of the crafts that a filter takes.
func (y *tally) of(list []syntheticCraft, take func(c *syntheticCraft) bool, k int) (width, inside, labels float64, n int) {
	for i := range list {
		if take(&list[i]) {
			n += y.runs
			width, inside, labels = width+y.widths[i][k], inside+y.inside[i][k], labels+y.labels[i][k]
		}
	}
	return width / float64(n), inside / float64(n), labels / float64(n), n
}

// log prints a row for every kind of craft.
func (y *tally) log(t testing.TB, list []syntheticCraft) {
	t.Helper()
	seen := map[string]bool{}
	for i := range list {
		what := list[i].what
		if seen[what] {
			continue
		}
		seen[what] = true
		line := ""
		for k, name := range toldFigures {
			width, inside, labels, _ := y.of(list, func(c *syntheticCraft) bool { return c.what == what }, k)
			line += fmt.Sprintf("; %s %.2f wide, holds %.0f %% (labels %.0f)", name, width, 100*inside, 100*labels)
		}
		t.Logf("%s%s", what, line)
	}
}
