package predict

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
)

// Property: a difference is that of the nominal figures, real only if its interval leaves out zero,
// and nothing against itself.
func TestDifferences(t *testing.T) {
	p, list := adviceCase(t, "freestyle", synthetic.Mid, synthetic.Steep)
	r, err := Assess(context.Background(), p, list, quick)
	if err != nil {
		t.Fatal(err)
	}
	if own := Differences(context.Background(), &p.Style, &r[0], &r[0], quick); len(own) != 0 {
		t.Errorf("against itself: %+v", own)
	}
	differences := Differences(context.Background(), &p.Style, &r[0], &r[1], quick)
	seen := map[figure.Quantity]bool{}
	for _, d := range differences {
		seen[d.Quantity] = true
		a, _ := r[0].Performance.Get(d.Quantity)
		b, _ := r[1].Performance.Get(d.Quantity)
		if d.Value.Value != b-a || d.Real != (d.Value.Low > 0 ||
			d.Value.High < 0) || d.Value.Low > d.Value.Value || d.Value.High < d.Value.Value {
			t.Errorf("quantity %d: %+v, nominal %g", d.Quantity, d, b-a)
		}
	}
	if !seen[figure.AllUpMass] || !seen[figure.HoverThrottle] {
		t.Errorf("weight or hover are left out: %v", seen)
	}
}

// Property: what alone differs between two crafts is named as the cause, with the whole difference.
func TestContributionsFindTheOnlyCause(t *testing.T) {
	p, list := adviceCase(t, "freestyle", synthetic.Mid)
	r, err := Assess(context.Background(), p, list, quick)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		side   Side
		q      figure.Quantity
		change func(*physics.Craft)
	}{
		{WeightSide, figure.HoverThrottle, func(c *physics.Craft) { c.FrameKg += 0.02 }},
		{PropInertiaSide, figure.Response, func(c *physics.Craft) { c.Propeller.InertiaKgM2 *= 1.5 }},
		{CellsSide, figure.LoadedCell, func(c *physics.Craft) { c.Pack.InternalOhm *= 2 }},
		{CapacitySide, figure.StyleTime, func(c *physics.Craft) { c.Pack.CapacityAs *= 1.2 }},
		{DragSide, figure.TopSpeed, func(c *physics.Craft) { c.DragAreaM2 *= 1.3 }},
	} {
		a, b := r[0].Craft, r[0].Craft
		c.change(&b)
		x, y := a.Evaluate(&p.Style.Flying), b.Evaluate(&p.Style.Flying)
		from, _ := x.Get(c.q)
		to, _ := y.Get(c.q)
		causes := Contributions(&p.Style, &a, &b)[c.q]
		if len(causes) != 1 || causes[0].Side != c.side || math.Abs(causes[0].By-(to-from)) > 1e-9*math.Abs(to-from) {
			t.Errorf("%s: %+v, the difference is %g", c.side, causes, to-from)
		}
	}
}

// Independent: the card's throttle is the hovering duty on the display that the log tells of, as learn predicts it; a
// display that is not known, and one that was not read before, leave more open than one that readings told of.
func TestFirstFlightShowsTheDisplaysThrottle(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	board := *list[0].Board
	width := map[inventory.ThrottleKind]float64{}
	for _, kind := range []inventory.ThrottleKind{"", inventory.OutputThrottle, inventory.ThrustThrottle,
		inventory.SignalThrottle} {
		board.Throttle = kind
		list[0].Board = &board
		r, err := Assess(context.Background(), p, list, quick)
		if err != nil {
			t.Fatal(err)
		}
		got := FirstFlight(context.Background(), &p.Style, &r[0], quick)[ReadHoverThrottle].Value
		duty := r[0].Figures[figure.HoverThrottle].Value
		u := duty / 1.05
		m := (u - 0.055) / 0.945
		want := map[inventory.ThrottleKind]float64{"": m, inventory.OutputThrottle: m,
			inventory.ThrustThrottle: 0.45*m + 0.55*m*m, inventory.SignalThrottle: u}[kind]
		if math.Abs(got.Value/want-1) > 1e-9 || !(got.Low < got.Value && got.Value < got.High) {
			t.Errorf("%q: %+v, want %.4f at a duty of %.4f", kind, got, want, duty)
		}
		width[kind] = math.Log(got.High / got.Low)
		if kind != inventory.OutputThrottle {
			continue
		}
		board.Learned = inventory.Corrections{{Input: uncertain.ThrottleScale, LnFactor: 0.1, LnSD: 0.03}}
		if r, err = Assess(context.Background(), p, list, quick); err != nil {
			t.Fatal(err)
		}
		learned := r[0].Shown
		if math.Abs(learned.Value/(m*math.Exp(0.1))-1) > 1e-9 || math.Log(learned.High/learned.Low) >= width[kind] {
			t.Errorf("a board whose display shows a tenth more, as learned: %+v after %.4f", learned, m)
		}
		board.Learned = nil
	}
	if width[""] <= width[inventory.ThrustThrottle] || width[inventory.ThrustThrottle] <= width[inventory.SignalThrottle] {
		t.Errorf("widths of ln: %v", width)
	}
}

// Property: the card reads what the figures say, with the same intervals on the same draws, and
// mass is moved by masses alone.
func TestFirstFlightReadsTheFigures(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	r, err := Assess(context.Background(), p, list, quick)
	if err != nil {
		t.Fatal(err)
	}
	card := FirstFlight(context.Background(), &p.Style, &r[0], quick)
	if len(card) != int(readingCount) {
		t.Fatalf("%d readings", len(card))
	}
	for _, pair := range []struct {
		kind ReadingKind
		q    figure.Quantity
	}{{ReadMass, figure.AllUpMass}, {ReadHoverCurrent, figure.HoverCurrent}} {
		got, want := card[pair.kind].Value, r[0].Figures[pair.q]
		if got.Value != want.Value || got.Low != want.Low || got.High != want.High {
			t.Errorf("%s: %+v, the figure is %+v", pair.kind.Key(), got, want)
		}
	}
	time, _ := r[0].Performance.Get(figure.StyleTime)
	if got := card[ReadFlightTime].Value.Value; math.Abs(got-time) > 1e-3*time {
		t.Errorf("flying time %g s, the figure is %g", got, time)
	}
	for _, cause := range card[ReadMass].Causes {
		if !strings.HasSuffix(cause.Input.String(), "mass") || cause.Change <= 0 {
			t.Errorf("weight: %s, change %g", cause.Input, cause.Change)
		}
	}
	for _, reading := range card {
		if v := reading.Value; !(v.Low <= v.Value && v.Value <= v.High) || len(reading.Causes) == 0 {
			t.Errorf("%s: %+v, causes %v", reading.Kind.Key(), v, reading.Causes)
		}
	}
	lowest, full := r[0].Craft.Pack.Chemistry.LowestCellV(), r[0].Craft.Pack.Chemistry.FullCellV()
	if v := card[ReadAlarmCell].Value; !(v.Value > lowest && v.Value < full) {
		t.Errorf("alarm at %g V", v.Value)
	}
	// The display is behind plug and leads.
	flight, _ := r[0].Craft.Fly(&p.Style.Flying)
	drop := r[0].Craft.Pack.LeadOhm * flight.EndA / float64(r[0].Craft.Pack.Cells)
	if v := card[ReadAlarmCell].Value.Value; drop <= 0 || math.Abs(flight.LoadedCellV-drop-v) > 2e-3 {
		t.Errorf("alarm at %g V, the cell lands at %g V and plug and leads take %g V", v, flight.LoadedCellV, drop)
	}
}

// Independent: the chance of choosing right against plain simulation of what it is the expectation
// of; without a measurement it is Φ(|m|/√v).
func TestRightChanceAgainstSimulation(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 9))
	for _, c := range []struct{ mean, variance, explained float64 }{{0.3, 1, 0}, {0.3, 1, 0.5}, {1, 4, 3}, {0, 1, 0.9},
		{2, 1, 0.2}} {
		right := 0
		const n = 400000
		for range n {
			known := math.Sqrt(c.explained) * draw.NormFloat64()
			truth := c.mean + known + math.Sqrt(c.variance-c.explained)*draw.NormFloat64()
			if (c.mean+known > 0) == (truth > 0) {
				right++
			}
		}
		want := float64(right) / n
		if got := rightChance(c.mean, c.variance, c.explained); math.Abs(got-want) > 0.004 {
			t.Errorf("%+v: %g, simulated %g", c, got, want)
		}
	}
	last := 0.0
	for explained := 0.0; explained <= 1; explained += 0.1 {
		x := rightChance(0.4, 1, explained)
		if x < last {
			t.Errorf("knowing more makes the choice worse: %g after %g", x, last)
		}
		last = x
	}
}

// Property: measurements are sorted, help, name a part of one of the two, and tell nothing of what
// the two share exactly, as long as they are not as good as tied: they are in freestyle.
func TestWorthNamesWhatTellsTheTwoApart(t *testing.T) {
	p, list := adviceCase(t, "race", synthetic.Mid, "m2004-29 p3.5-26x3 k3s-620 f3.5-yawl b22-24")
	o := Sampling{Draws: 200, Seed: 1}
	r, err := Assess(context.Background(), p, list, o)
	if err != nil {
		t.Fatal(err)
	}
	worth := ValueOfInformation(context.Background(), &p.Style, &r[0], &r[1], o)
	if len(worth) == 0 {
		t.Fatal("nothing helps to tell two motors apart")
	}
	last := 1.0
	for _, m := range worth {
		if m.Right > last || m.Right < m.RightNow+0.01 || m.Right > 1 {
			t.Errorf("%+v after %g", m, last)
		}
		last = m.Right
	}
	motors := 0
	for _, m := range worth {
		switch {
		case m.Part == inventory.KindMotor && m.Kind == BenchMotor:
			motors++
		case m.Part == inventory.KindFrame || m.Part == inventory.KindBoard:
			t.Errorf("both have the same %s, yet it is worth measuring: %+v", m.Part, m)
		}
	}
	if motors == 0 {
		t.Errorf("neither of the two motors is worth a stand reading: %+v", worth)
	}
}
