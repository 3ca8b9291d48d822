package answer

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/objective"
	"partsaloft/search"
)

const gainShelf = `motors: [{id: m, stator: "1404", kv: 3900, mass_g: 9, cells: [3, 4]}]
props: [{id: p, size: 3.5x2.2x3, mass_g: 1.2}]
packs: [{id: k, size: 4S 650 95C, mass_g: 76}]
frames: [{id: f, mass_g: 48, max_prop_in: 3.5}]
boards: [{id: b, esc_current_a: 25, cells: [2, 6], mass_g: 8}]
log:
`

// gained is what a log of one craft brought, each entry as its readings.
func gained(t *testing.T, entries ...string) *Gain {
	t.Helper()
	text := gainShelf
	for _, e := range entries {
		text += "  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, " + e + "}\n"
	}
	var drawers [2]*inventory.Drawer
	for i := range drawers {
		var err error
		if drawers[i], err = inventory.Read("shelf.yaml", strings.NewReader(text)); err != nil {
			t.Fatal(err)
		}
	}
	style, _ := objective.Preset("freestyle")
	ways := learn.Ways{style.Name: style.Flying}
	report, err := learn.Learn(t.Context(), drawers[0], ways)
	if err != nil {
		t.Fatal(err)
	}
	x := Learn(Head{}, drawers[0], &style, report, "")
	if err := x.Gained(t.Context(), drawers[0], drawers[1], &style, ways, search.Options{Draws: 200, Seed: 1, Workers: 1,
		Top: 3}); err != nil {
		t.Fatal(err)
	}
	return x.Gain
}

// doubt is the mean width of the likely ranges of a craft's figures after learning, in ln.
func doubt(g *Gain) float64 {
	sum := 0.0
	for _, f := range g.Crafts[0].Figures {
		sum += math.Log(*f.After.High / *f.After.Low)
	}
	return sum / float64(len(g.Crafts[0].Figures))
}

// Independent: the reading that is said to have taught most is that without which the craft's range is widest, found by
// learning anew without each; and no figure is less sure than before, but as it grows.
func TestGainedTaughtMost(t *testing.T) {
	const weight, rpm, charge = "all_up_g: 178", "all_up_g: 178, hover_rpm: 12000, within: {hover_rpm: 60}",
		"all_up_g: 178, hover_current_a: 9, within: {hover_current_a: 3}"
	all := gained(t, weight, rpm, charge)
	if len(all.Crafts) != 1 || len(all.Crafts[0].Figures) < 3 || all.Taught == nil || len(all.Texts) == 0 {
		t.Fatalf("%+v", all)
	}
	for _, f := range all.Crafts[0].Figures {
		if f.Width > 1.05 {
			t.Errorf("%s: the range grew to %.2f of what it was", f.Key, f.Width)
		}
	}
	if all.Taught.Key != "hover_rpm" || all.Taught.Entry != 2 {
		t.Errorf("taught most: %+v", all.Taught)
	}
	whole, withoutRPM, withoutAmps := doubt(all), doubt(gained(t, weight, weight, charge)), doubt(gained(t, weight, rpm, weight))
	if withoutRPM < 1.05*whole || withoutRPM < withoutAmps {
		t.Errorf("ranges of %.3f, without the rpm %.3f, without the current %.3f", whole, withoutRPM, withoutAmps)
	}
}

// Independent: of the readings worth taking next, the one that is asked for first leaves narrower ranges once it is read
// than the one that is asked for next would alone, and about as much of them as is said, found by learning with each,
// read as predicted.
func TestFirstQuestionNarrowsMost(t *testing.T) {
	const weight = "all_up_g: 178"
	d, err := inventory.Read("shelf.yaml", strings.NewReader(gainShelf+
		"  - {parts: {motor: m, prop: p, pack: k, frame: f, board: b}, "+weight+"}\n"))
	if err != nil {
		t.Fatal(err)
	}
	style, _ := objective.Preset("freestyle")
	list, err := learn.Questions(t.Context(), d, learn.Ways{style.Name: style.Flying}, &d.Log[0].Parts, style.Name)
	if err != nil || len(list) < 3 {
		t.Fatalf("%+v, %v", list, err)
	}
	before := gained(t, weight)
	value := map[string]string{}
	for _, f := range before.Crafts[0].Figures {
		value[f.Key] = strconv.FormatFloat(*f.After.Value, 'f', 2, 64)
	}
	as := map[learn.Key]string{learn.HoverThrottle: "throttle_kind: output, hover_throttle_pct: " + value["shown_throttle_pct"],
		learn.FlightMinutes: "flown: freestyle, used_mah: 520, flight_minutes: " + value["style_minutes"]}
	left := map[learn.Key]float64{}
	for key, reading := range as {
		product := 1.0
		figures := gained(t, weight+", "+reading).Crafts[0].Figures
		for i, f := range figures {
			was := before.Crafts[0].Figures[i].After
			product *= math.Log(*f.After.High / *f.After.Low) / math.Log(*was.High / *was.Low)
		}
		left[key] = math.Pow(product, 1/float64(len(figures)))
	}
	if list[0].Key != learn.HoverThrottle || left[learn.HoverThrottle] > left[learn.FlightMinutes] ||
		math.Abs(left[learn.HoverThrottle]-list[0].Left) > 0.07 {
		t.Errorf("first %+v; learning with each leaves %v of the ranges, as their geometric mean", list[0], left)
	}
}
