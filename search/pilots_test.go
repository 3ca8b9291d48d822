package search

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Common practice, no source: drawers of eight classes, half of them without ratings. What comes first in a style is
// nothing that a pilot refuses to plug in, and what he would choose himself is not refused.
func TestWhatPilotsPlugIn(t *testing.T) {
	for _, c := range []struct {
		drawer string
		// first are the motors and packs that may come first by style, several of either parted by "|"; a style that is
		// not named is not looked at, and of one with "-" nothing in the drawer is light enough.
		first map[string]string
		// choices are what a pilot chooses, motor, prop, pack, frame, board, with the styles that he flies them in.
		choices map[string]string
	}{
		{"whoop", map[string]string{"cruise": "m0802-19k|m1002-20k k1-450|k1-530",
			"freestyle": "m1002-20k|m0802-25k k1-300|k1-450|k1-530", "race": "m1002-20k|m0802-25k k1-300|k1-450|k1-530",
			"indoor": "m0802-19k|m1002-20k|m0802-25k k1-300|k1-450|k1-530",
			"hall":   "m0802-19k|m1002-20k|m0802-25k k1-450|k1-530"},
			map[string]string{"m0802-19k p31-3 k1-300 f65 b5a": "cruise freestyle race indoor hall",
				"m0802-25k p31-3 k1-300 f65 b5a": "freestyle race indoor",
				"m1002-20k p40-3 k1-450 f75 b5a": "freestyle race indoor"}},
		{"two_inch", map[string]string{"cruise": "m1106-6k k3-450", "freestyle": "m1106-6k|m1103-8k k3-450",
			"race": "m1106-6k|m1103-8k k3-450", "indoor": "m1103-8k|m1103-11k k2-300"},
			map[string]string{"m1103-11k p2-2b k2-300 f2 b12": "cruise freestyle race",
				"m1103-8k p2-3b k2-450 f2 b12": "cruise freestyle race",
				"m1106-6k p2-3b k3-450 f2 b12": "cruise freestyle race hall"}},
		{"cine", map[string]string{"cruise": "m1507-28 k6-1050|k4-850", "freestyle": "m1507-28 k6-1050|k6-650|k4-850",
			"indoor": "-"},
			map[string]string{"m1507-36 p3-5b k4-850 cine3 aio35": "cruise freestyle",
				"m1507-28 p3-5b k6-1050 cine3 aio35": "cruise freestyle"}},
		{"light_four_inch", map[string]string{"cruise": "m1404-27 ion4-3000|ion3-3000", "race": "m1404-27|m1404-38 k4-850"},
			map[string]string{"m1404-27 p4-2b ion4-3000 f4 b20": "cruise", "m1404-38 p4-2b k4-850 f4 b20": "freestyle"}},
		{"five_inch", map[string]string{"cruise": "m2207-19|m2205-23 k4-1500|k6-1300",
			"freestyle": "m2207-19 k6-1300|k6-1100",
			"race":      "m2207-19 k6-1300|k6-1100", "hall": "-"},
			map[string]string{"m2207-19 p51-43-3 k6-1300 f5 b45": "freestyle race",
				"m2306-24 p5-48-3 k4-1500 f5 b45": "freestyle race"}},
		{"racer", map[string]string{"freestyle": "m2207-18|m2207-21 k6-1300|k6-1100",
			"race": "m2207-18|m2207-21 k6-1300|k6-1100"},
			map[string]string{"m2207-18 p51-46 k6-1300 f5r b55": "freestyle race", "m2207-21 p5-43 k6-1100 f5r b55": "race",
				"m2306-26 p51-46 k4-1550 f5r b55": "freestyle race"}},
		{"seven_inch", map[string]string{"cruise": "m2806-13 ion6-8000|ion6-4000", "freestyle": "m2806-13 k6-3000|k6-1800"},
			map[string]string{"m2806-13 p7-35-3 ion6-4000 f7 b50": "cruise", "m2807-17 p7-4-2 k6-1800 f7 b50": "freestyle"}},
		{"shoebox", map[string]string{"freestyle": "m2207-17|m1404-46 k6-1300|k4-1300|k4-850",
			"race":   "m2207-17 k6-1300|k4-1300",
			"indoor": "m0802-19k|m1103-11k|m1104-75 k1-450|k2-450"},
			map[string]string{"m1404-46 p3-3 k4-850 f3 aio25": "freestyle race",
				"m2207-17 p5-3 k6-1300 f5 st45":   "freestyle race",
				"m0802-19k p31-4 k1-450 f65 aio5": "indoor", "m1103-11k p65-3 k2-450 f25 aio12": "cruise freestyle"}},
	} {
		text, err := os.ReadFile(filepath.Join("testdata", "pilots", c.drawer+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		d, err := inventory.Read(c.drawer, strings.NewReader(string(text)))
		if err != nil {
			t.Fatal(err)
		}
		for _, style := range objective.PresetNames() {
			air, s := synthetic.AirAndStyle(t, d, style)
			p := space.Problem{Drawer: d, Air: air, Style: s}
			if want := c.first[style]; want != "" {
				r, err := Search(context.Background(), p, Options{Top: 1, Draws: 2, Workers: 2})
				if err != nil {
					t.Fatal(err)
				}
				comesFirst(t, c.drawer+", "+style, r, want)
			}
			for choice, styles := range c.choices {
				if slices.Contains(strings.Fields(styles), style) {
					isNotRefused(t, p, choice)
				}
			}
		}
	}
}

// comesFirst checks the first of a ranking: its motor and pack are of those wanted, or "-" is, and nothing of it is
// hot.
func comesFirst(t *testing.T, name string, r *Ranking, want string) {
	t.Helper()
	if want == "-" || len(r.Best) == 0 {
		if want != "-" || len(r.Best) > 0 {
			t.Errorf("%s: %d are feasible, want %s", name, len(r.Best), want)
		}
		return
	}
	best := &r.Best[0]
	motors, packs, _ := strings.Cut(want, " ")
	if !slices.Contains(strings.Split(motors, "|"), best.Combination.Motor.ID) ||
		!slices.Contains(strings.Split(packs, "|"), best.Combination.Pack.ID) {
		t.Errorf("%s: first is %s, want %s", name, best.Combination.Key(), want)
	}
	landed, _ := best.Performance.Figure(figure.MotorTemperature)
	punched, _ := best.Performance.Figure(figure.PunchTemperature)
	if landed > 110 || punched > 200 || best.Craft.Motor.LimitEstimated && best.Performance.Cap == physics.MotorLimit {
		t.Errorf("%s: first is %s, windings at %.0f °C and %.0f °C, capped by %s", name, best.Combination.Key(),
			landed, punched, best.Performance.Cap)
	}
}

// isNotRefused checks that a choice of motor, prop, pack, frame and board is feasible.
func isNotRefused(t *testing.T, p space.Problem, choice string) {
	t.Helper()
	id := strings.Fields(choice)
	c, err := compat.Build(p.Drawer, &inventory.Parts{Motor: id[0], Prop: id[1], Pack: id[2], Frame: id[3], Board: id[4]})
	if err != nil {
		t.Fatal(err)
	}
	r, err := predict.Assess(context.Background(), p, []inventory.Combination{c}, predict.Sampling{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	if !r[0].Feasible() {
		t.Errorf("%s, %s: %s is refused: %v %v", p.Drawer.Name, p.Style.Name, choice, r[0].Misfits, r[0].Violations)
	}
}
