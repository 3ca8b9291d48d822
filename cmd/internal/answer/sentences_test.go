package answer

import (
	"bytes"
	"context"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

const pick = "motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24"

// skipLong leaves out what takes long and adds nothing under the race detector.
func skipLong(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("takes long")
	}
}

// club is the embedded drawer.
func club(t testing.TB) *inventory.Drawer {
	t.Helper()
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read(examples.DefaultDrawer, bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// ranked is the ranking of the embedded drawer for a preset.
func ranked(t *testing.T, style string, top int) (*space.Problem, *search.Ranking) {
	t.Helper()
	d := club(t)
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	preset, ok := objective.Preset(style)
	if !ok {
		t.Fatal(style)
	}
	p := &space.Problem{Drawer: d, Air: air, Style: preset}
	r, err := search.Search(context.Background(), *p, search.Options{Top: top, Seed: 1, Draws: 40})
	if err != nil {
		t.Fatal(err)
	}
	return p, r
}

// number reads a number as it stands in a sentence.
func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.NewReplacer(catalogue.Minus, "-", "+", "", ",", "").Replace(text), 64)
	if err != nil {
		t.Fatalf("%q is no number", text)
	}
	return x
}

// plainSentence fails on what no sentence may hold.
func plainSentence(t *testing.T, what, text string) {
	t.Helper()
	for _, wrong := range []string{"NaN", "Inf", "%!", "e+", "  ", "..", " ,", "()", "+0 ", "−0 ", "{", "}"} {
		if strings.Contains(strings.ReplaceAll(text, "g=..", ""), wrong) {
			t.Errorf("%s holds %q: %s", what, wrong, text)
		}
	}
	if !strings.HasSuffix(text, ".") {
		t.Errorf("%s does not end: %s", what, text)
	}
}

var pointsPart = regexp.MustCompile(`(grip|endurance|smoothness|top speed) (gives|costs) ([0-9.]+) \(([^()]*)\)`)

// Property: the reasons why one combination leads another add up to the lead, name figures that
// point the way the axis goes, and show them as different.
func TestWhyOneLeadsAnotherAddsUp(t *testing.T) {
	skipLong(t)
	for _, style := range objective.PresetNames() {
		p, r := ranked(t, style, 12)
		for i := range r.Best[:len(r.Best)-1] {
			pair := r.Best[i : i+2]
			text := catalogue.WhySentence(&p.Style, pair)
			plainSentence(t, "why", text)
			parts := pointsPart.FindAllStringSubmatch(text, -1)
			sum := 0.0
			for _, part := range parts {
				points := number(t, part[3])
				if part[2] == "costs" {
					points = -points
				}
				sum += points
				axis := axisNamed(t, part[1])
				if gain := pair[0].Evaluation.Axes[axis] - pair[1].Evaluation.Axes[axis]; gain*points <= 0 {
					t.Errorf("%s %s, yet the axis goes by %g: %s", part[1], part[2], gain, text)
				}
				checkAgainst(t, part[4], points > 0)
			}
			gap := pair[0].Evaluation.Score - pair[1].Evaluation.Score
			if math.Abs(sum-gap) > 0.05*float64(len(parts)+int(objective.AxisCount)) {
				t.Errorf("reasons add up to %.2f, the lead is %.2f: %s", sum, gap, text)
			}
			if (gap >= 0.05) != strings.HasPrefix(text, "It leads") {
				t.Errorf("a lead of %g: %s", gap, text)
			}
			sure := catalogue.SureSentence(&search.Ranking{Best: pair}, "it")
			plainSentence(t, "sure", sure)
			if word := catalogue.Sureness(&pair[0]); !strings.HasSuffix(sure, ": "+word+".") {
				t.Errorf("ahead in %g of the draws: %s", pair[0].AheadShare, sure)
			}
		}
	}
}

func axisNamed(t *testing.T, name string) objective.Axis {
	t.Helper()
	for a := range objective.AxisCount {
		if a.String() == name {
			return a
		}
	}
	t.Fatalf("no axis %q", name)
	return 0
}

// checkAgainst reads "turn throttle 31 vs 35 %" and checks that the first is better or worse.
func checkAgainst(t *testing.T, text string, better bool) {
	t.Helper()
	left, right, ok := strings.Cut(text, " vs ")
	if !ok {
		t.Fatalf("%q sets nothing against anything", text)
	}
	words := strings.Fields(left)
	name := strings.Join(words[:len(words)-1], " ")
	a, b := words[len(words)-1], strings.Fields(right)[0]
	if a == "none" || b == "none" {
		if (b == "none") != better {
			t.Errorf("what cannot be held is better: %s", text)
		}
		return
	}
	for _, feed := range objective.Criteria() {
		if catalogue.FigureName(feed.Figure().Key) != name {
			continue
		}
		x, y := number(t, a), number(t, b)
		if x == y || (x < y) != (feed.Scale.LessIsBetter() == better) {
			t.Errorf("%s should be better: %v", text, better)
		}
		return
	}
	t.Errorf("%q is no figure of an axis: %s", name, text)
}

// Property: what is offered instead has more of its axis, costs what it says, and is said once.
func TestWhatToTakeInstead(t *testing.T) {
	skipLong(t)
	part := regexp.MustCompile(`([+−][0-9]+) (grip|endurance|smoothness|top speed) \(([^()]*)\)`)
	offers := 0
	for _, style := range objective.PresetNames() {
		_, r := ranked(t, style, 5)
		list := catalogue.InsteadSentences(r, 0)
		seen := map[string]bool{}
		for _, text := range list {
			plainSentence(t, "instead", text)
			if _, said, _ := strings.Cut(text, ": "); seen[said] {
				t.Errorf("said twice: %s", text)
			} else {
				seen[said] = true
			}
			axis, _, _ := strings.Cut(text, ": ")
			for _, m := range part.FindAllStringSubmatch(text, -1) {
				offers++
				delta := number(t, m[1])
				if delta == 0 {
					t.Errorf("no difference is told: %s", text)
				}
				if strings.Contains(axis, m[2]) && delta < 0 {
					t.Errorf("less of what is asked for: %s", text)
				}
				checkAgainst(t, m[3], delta > 0)
			}
		}
	}
	if offers < 10 {
		t.Errorf("only %d offers were read", offers)
	}
}

// Property: for each limit that can bind, the sentence names it, the cap and the use behind it; if
// nothing binds, it says how near the nearest comes and names no cap.
func TestWhatBindsIsNamed(t *testing.T) {
	p, r := ranked(t, "freestyle", 1)
	base := r.Best[0]
	for limit, word := range map[physics.Limit]string{
		physics.NoLimit: "No throttle limit needed", physics.PackLimit: "Limit: the pack",
		physics.CellLimit: "Limit: cell voltage", physics.BoardLimit: "Limit: the ESCs",
		physics.ConnectorLimit: "Limit: the plug", physics.MotorLimit: "Limit: the motors",
	} {
		craft := base.Craft
		// Wide limits all around, but for the one that shall bind at about 80 % of throttle.
		craft.Pack.SafeCurrentA, craft.Board.BurstA, craft.Motor.MaxCurrentA = 1e4, 1e4, 1e4
		craft.Connector = physics.Connector{PeakA: 1e4}
		craft.Pack.InternalOhm /= 20
		at := craft.ThrottleCurve(5)[3]
		switch limit {
		case physics.PackLimit:
			craft.Pack.SafeCurrentA = at.PackA
		case physics.CellLimit:
			c := craft.Pack.Chemistry
			craft.Pack.InternalOhm = 1.6 * (c.FullCellV() - c.LowestCellV()) * float64(craft.Pack.Cells) / at.PackA
		case physics.BoardLimit:
			craft.Board.BurstA = at.MotorA
		case physics.ConnectorLimit:
			craft.Connector.PeakA = at.PackA
		case physics.MotorLimit:
			craft.Motor.MaxCurrentA = at.MotorA
		}
		one := predict.Result{Combination: base.Combination, Craft: craft, Performance: craft.Evaluate(&p.Style.Flying)}
		if one.Performance.Cap != limit {
			t.Fatalf("%v binds, want %v", one.Performance.Cap, limit)
		}
		for q := range one.Figures {
			v := &one.Figures[q]
			v.Value, v.Why = one.Performance.Get(figure.Quantity(q))
			v.Low, v.High = 0.9*v.Value, 1.1*v.Value
		}
		text := catalogue.LimitSentence(&one)
		plainSentence(t, "binds", text)
		capped := catalogue.ShownOf(&one, figure.ThrottleCap)
		if !strings.HasPrefix(text, word) || (limit != physics.NoLimit) != strings.Contains(text,
			"cap throttle at "+capped.String()) {
			t.Errorf("%v: %s", limit, text)
		}
		if catalogue.Brief[limit] == "" {
			t.Errorf("%v has no word in the table", limit)
		}
		plainSentence(t, "punch", punchSentence(&one))
	}
}

// Property: expectations stand inside their intervals.
func TestExpectationsStandInsideTheirIntervals(t *testing.T) {
	skipLong(t)
	triple := regexp.MustCompile(`([0-9.]+)(?: g| min| m/s)? \(([0-9.]+) to ([0-9.]+)\)`)
	for _, style := range objective.PresetNames() {
		_, r := ranked(t, style, 8)
		for i := range r.Best {
			text := catalogue.ExpectSentence(&r.Best[i], style)
			plainSentence(t, "expect", text)
			found := triple.FindAllStringSubmatch(text, -1)
			if len(found) != 4 {
				t.Errorf("%d expectations: %s", len(found), text)
			}
			for _, m := range found {
				if x := number(t, m[1]); x < number(t, m[2]) || x > number(t, m[3]) {
					t.Errorf("outside its interval: %s", text)
				}
			}
		}
	}
}

// Property: a swap's sentence tells weight, hover and score the way they go.
func TestSwapSentencesTellTheWayThingsGo(t *testing.T) {
	skipLong(t)
	heavier := regexp.MustCompile(`([0-9]+) g (heavier|lighter)`)
	hover := regexp.MustCompile(`hover ([0-9.]+) → ([0-9.]+) %`)
	score := regexp.MustCompile(`score ([+−]?[0-9.]+)`)
	for _, style := range []string{"cruise", "race"} {
		p, r := ranked(t, style, 3)
		for i := range r.Best {
			e := explaining{Subject: &Subject{Problem: p, Ranking: r, Result: &r.Best[i], Rank: i + 1, best: &r.Best[0],
				rival: &r.Best[0]}}
			swaps, err := search.Neighbours(context.Background(), *p, r.Best[i].Combination,
				predict.Sampling{Draws: 20, Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			e.swaps = swaps
			for k := range swaps {
				w := &swaps[k]
				text := e.swapSentence(w, []objective.Axis{w.Axis})
				plainSentence(t, "swap", text+".")
				grams := 1000 * (w.Craft.MassKg() - r.Best[i].Craft.MassKg())
				if m := heavier.FindStringSubmatch(text); m != nil {
					if (m[2] == "heavier") != (grams > 0) || math.Abs(number(t, m[1])-math.Abs(grams)) > 0.51 {
						t.Errorf("%g g: %s", grams, text)
					}
				} else if math.Abs(grams) >= 0.5 {
					t.Errorf("%g g are not told: %s", grams, text)
				}
				if m := hover.FindStringSubmatch(text); m != nil && number(t, m[1]) == number(t, m[2]) {
					t.Errorf("hover does not move: %s", text)
				}
				gain := w.Evaluation.Score - r.Best[i].Evaluation.Score
				if m := score.FindStringSubmatch(text); m == nil || math.Abs(number(t, m[1])-gain) > 0.051 {
					t.Errorf("score %g: %s", gain, text)
				}
			}
			for _, reason := range e.reasons() {
				plainSentence(t, "reason", reason.Text)
				if (reason.Cost < 0.05) != (strings.Contains(reason.Text, "costs nothing") || reason.Weight == 0) {
					t.Errorf("%g points: %s", reason.Cost, reason.Text)
				}
			}
			for _, g := range e.givesUp() {
				plainSentence(t, "gives up", g.Text)
				if (g.Best-g.Value < 0.5) != strings.Contains(g.Text, "nothing") {
					t.Errorf("%g of %g: %s", g.Value, g.Best, g.Text)
				}
			}
		}
	}
}

// Property: a broken limit's sentence shows a value on the wrong side of its bound.
func TestBrokenLimitsShowTheWrongSide(t *testing.T) {
	said := regexp.MustCompile(` is ([0-9.]+).*, must be at (least|most) ([0-9.]+)`)
	p, r := ranked(t, "race", 3)
	limits := 0
	for _, text := range []string{"all_up_g=..20", "style_minutes=30..", "thrust_to_weight=20..", "hover_throttle_pct=..5",
		"pull_out_m=..0.1", "response_ms=..10", "top_speed_mps=90.."} {
		l, err := objective.ParseLimit(text)
		if err != nil {
			t.Fatal(err)
		}
		style := p.Style.With(l)
		for i := range r.Best {
			for _, b := range style.Violations(&r.Best[i].Craft, &r.Best[i].Performance) {
				sentence := catalogue.Violation(&b)
				m := said.FindStringSubmatch(sentence)
				if m == nil {
					t.Errorf("cannot be read: %s", sentence)
					continue
				}
				limits++
				if x, bound := number(t, m[1]), number(t, m[3]); (m[2] == "least") != (x < bound) || x == bound {
					t.Errorf("on the right side: %s", sentence)
				}
			}
		}
	}
	if limits < 7 {
		t.Errorf("only %d broken limits", limits)
	}
}

// Property: the two directions of a cause are told apart, for every input; what is said of a part may be said of its
// class as well, in the same direction.
func TestEveryCauseHasTwoDirections(t *testing.T) {
	seen := map[string]bool{} // whether it is more
	for input := range uncertain.InputCount {
		for _, more := range []bool{true, false} {
			words := catalogue.CauseText(input, more)
			if was, ok := seen[words]; words == "" || ok && was != more {
				t.Errorf("%s: %q is both more and less", input, words)
			}
			seen[words] = more
		}
	}
	if len(seen) < 2*int(uncertain.InputCount)-4 {
		t.Errorf("%d words for %d inputs", len(seen), uncertain.InputCount)
	}
}

// Property: every measurement has words of its own, and a measurement never makes a choice worse.
func TestMeasurementsInWords(t *testing.T) {
	seen := map[string]bool{}
	for kind := range predict.MeasurementKinds {
		m := predict.Measurement{Kind: kind, Part: inventory.KindPack, ID: "k1", Right: 0.81, RightNow: 0.55}
		words := catalogue.MeasureWords(&m)
		whole := kind == predict.WeighAll || kind == predict.ReadHoverSpeed || kind == predict.ReadHoverDuty ||
			kind == predict.ReadHoverAmps || kind == predict.TimeFlight
		if words == "" || seen[words] || whole == strings.Contains(words, "k1") {
			t.Errorf("%d: %q", kind, words)
		}
		seen[words] = true
		said := catalogue.DecideSentence([]predict.Measurement{m}, m.RightNow)
		plainSentence(t, "decide", said)
		if !strings.Contains(said, words) || kind.OnStand() != strings.Contains(said, "only a thrust stand") {
			t.Errorf("%d: %q", kind, said)
		}
	}
	plainSentence(t, "decide", catalogue.DecideSentence(nil, 0.5))
}

// Property: in a comparison the marked differences are those told as real, and each sentence has
// its value inside its interval.
func TestDifferencesInWords(t *testing.T) {
	skipLong(t)
	p, r := ranked(t, "freestyle", 12)
	form := regexp.MustCompile(` ([+−][0-9.]+)[^(]* \(([−0-9.]+) to ([−0-9.]+)\)`)
	for i := 1; i < len(r.Best); i++ {
		for _, d := range predict.Differences(context.Background(), &p.Style, &r.Best[0], &r.Best[i],
			predict.Sampling{Draws: 40, Seed: 1}) {
			text := differenceSentence(&d)
			m := form.FindStringSubmatch(text)
			if m == nil {
				// One that rounds to nothing has no sign, one that is not in doubt no interval.
				if d.Real && noticeable(&r.Best[0], &d) && d.Value.Low < d.Value.High {
					t.Errorf("cannot be read: %s", text)
				}
				continue
			}
			if x := number(t, m[1]); x < number(t, m[2]) || x > number(t, m[3]) {
				t.Errorf("outside its interval: %s", text)
			}
		}
	}
}

func TestDurationsInWords(t *testing.T) {
	for seconds, want := range map[float64]string{3.2: "3.2 s", 41: "41 s", 104: "100 s", 300: "5.0 min", 717: "12 min"} {
		if got := duration(seconds); got != want {
			t.Errorf("%g s: %s, want %s", seconds, got, want)
		}
	}
}

// Property: no cap is printed over the one found, however wide its interval.
func TestCapIsRoundedDown(t *testing.T) {
	for value, want := range map[float64]string{75.96: "75 %", 99.99: "99 %", 100: "100 %", 61: "61 %"} {
		cap := catalogue.Shown{Figure: figure.Of(figure.ThrottleCap), Value: value, Low: value - 30, High: value + 30}
		if got := cap.String(); got != want {
			t.Errorf("a cap of %g %% is printed as %s", value, got)
		}
	}
}
