package explore

import (
	"bytes"
	"context"
	"encoding/base64"
	"math"
	"slices"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/space"
)

func drawer(t testing.TB, name string) *inventory.Drawer {
	t.Helper()
	content, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read(name, bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// input is what a document of a drawer is made of.
func input(t testing.TB, d *inventory.Drawer, style string, o Options) *Input {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	ask := &answer.Ask{Problem: &space.Problem{Drawer: d, Air: air, Style: s}, Search: search.Options{Seed: 1}}
	in, err := Make(context.Background(), ask, o)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// unpack does what the front end does.
func unpack(t *testing.T, c column) []float64 {
	t.Helper()
	raw, err := base64.StdEncoding.DecodeString(c.Data)
	if err != nil {
		t.Fatal(err)
	}
	list := make([]float64, len(raw)/c.Width)
	for i := range list {
		q := 0.0
		for b := c.Width - 1; b >= 0; b-- {
			q = 256*q + float64(raw[i*c.Width+b])
		}
		x := c.From + c.Step*q
		switch {
		case c.Gaps && q == math.Pow(256, float64(c.Width))-1:
			x = math.NaN()
		case c.Log:
			x = math.Exp(x)
		}
		list[i] = x
	}
	return list
}

// Property: whole numbers come back as they were, others within what the comments say.
func TestColumns(t *testing.T) {
	for _, numbers := range [][]int32{{}, {7}, {-3, 0, 252}, {-3, 0, 253}, {0, 65535}, {0, 65536, -5},
		{math.MinInt32, 0, math.MaxInt32}} {
		for i, x := range unpack(t, whole(numbers)) {
			if x != float64(numbers[i]) {
				t.Errorf("%v comes back as %g", numbers[i], x)
			}
		}
	}
	axes := []float64{0, 1e-9, 12.3456789, 99.9999999, 100}
	for i, x := range unpack(t, axis(axes)) {
		if math.Abs(x-axes[i]) > 6.1e-6 || (x == 0) != (axes[i] == 0) {
			t.Errorf("axis %g comes back as %g", axes[i], x)
		}
	}
	for _, values := range [][]float64{{0.31, 4.2, 3100, math.NaN(), 17}, {-12, 0, 5, math.NaN()}, {5, 5}, {math.NaN()},
		{}} {
		spread := 0.0
		for _, x := range values {
			spread = max(spread, math.Abs(x))
		}
		for i, x := range unpack(t, measured(values)) {
			off := math.Abs(x - values[i])
			if math.IsNaN(x) != math.IsNaN(values[i]) || off > 8e-5*math.Abs(values[i]) && off > 2e-5*spread {
				t.Errorf("%g comes back as %g", values[i], x)
			}
		}
	}
	for i, x := range unpack(t, shares([]float64{-1, 0, 0.5, 1, 2})) {
		if want := []float64{0, 0, 0.5, 1, 1}[i]; math.Abs(x-want) > 0.5/255+1e-12 {
			t.Errorf("share %g comes back as %g", want, x)
		}
	}
}

func TestSplit(t *testing.T) {
	parse := func(texts ...string) objective.Style {
		var s objective.Style
		for _, text := range texts {
			l, err := objective.ParseLimit(text)
			if err != nil {
				t.Fatal(err)
			}
			s = s.With(l)
		}
		return s
	}
	opening, kept := Split(parse("all_up_g=100..250", "style_minutes=3.5..", "hover_throttle_pct=..33.33",
		"thrust_to_weight=..8", "tip_mach=..0.6").Limits)
	var text []string
	for _, l := range kept {
		text = append(text, l.String())
	}
	slices.Sort(text)
	if want := []string{"all_up_g=100..", "hover_throttle_pct=..33.33", "thrust_to_weight=..8",
		"tip_mach=..0.6"}; !slices.Equal(text, want) {
		t.Errorf("kept throughout: %v, want %v", text, want)
	}
	if opening[0] == nil || *opening[0] != 2500 || opening[1] == nil || *opening[1] != 35 || opening[2] != nil ||
		opening[3] != nil || opening[4] != nil {
		t.Errorf("opening: %v", opening)
	}
}

// What the page holds of a combination is what was predicted, to the precision of its columns.
func TestDocumentHoldsThePrediction(t *testing.T) {
	in := input(t, drawer(t, examples.DefaultDrawer), "freestyle", Options{Details: 40})
	d := in.Document()
	index := unpack(t, d.Rows.Detail)
	motor, kits, grip := unpack(t, d.Rows.Motor), unpack(t, d.Rows.Kit), unpack(t, d.Rows.Axes[0])
	mass := slices.IndexFunc(d.Figures, func(f figureJSON) bool { return f.Key == "all_up_g" })
	value, below, above := unpack(t, d.Details.Values[mass].Value), unpack(t, d.Details.Values[mass].Below),
		unpack(t, d.Details.Values[mass].Above)
	current, limitA, time := unpack(t, d.Details.Curves.Current), unpack(t, d.Details.Curves.LimitA),
		unpack(t, d.Details.Curves.Time)
	seen := 0
	for i := range in.Catalogue.Entries {
		e := &in.Catalogue.Entries[i]
		kit := d.Parts.Kits[int(kits[i])]
		if d.Parts.Motors[int(motor[i])].ID != e.Combination.Motor.ID ||
			d.Parts.Frames[kit.Frame].ID != e.Combination.Frame.ID || len(kit.Extras) != len(e.Combination.Extras) {
			t.Fatalf("entry %d is another combination", i)
		}
		if math.Abs(grip[i]-e.Axes[objective.Grip]) > 1e-5 {
			t.Errorf("entry %d: grip %g, want %g", i, grip[i], e.Axes[objective.Grip])
		}
		if (index[i] == 0) != (e.Result == nil) {
			t.Fatalf("entry %d: detail %g", i, index[i])
		}
		if e.Result == nil {
			continue
		}
		seen++
		k := int(index[i]) - 1
		v := e.Result.Figures[figure.AllUpMass]
		for _, pair := range [][2]float64{{value[k], 1000 * v.Value}, {value[k] - below[k], 1000 * v.Low},
			{value[k] + above[k], 1000 * v.High}} {
			if math.Abs(pair[0]-pair[1]) > 2e-3*pair[1] {
				t.Errorf("entry %d: all-up %.2f g, want %.2f g", i, pair[0], pair[1])
			}
		}
		// The limit line stands where the use of the limit says.
		full, _ := e.Result.Performance.Get(figure.FullThrottleCurrent)
		duty, _ := e.Result.Performance.Get(figure.ThrottleCap)
		if capped := duty < 0.999; capped != (limitA[k] < full*0.9995) {
			t.Errorf("entry %d: cap %.3f, full throttle %.2f A, limit %.2f A", i, duty, full, limitA[k])
		}
		if last := current[(k+1)*throttleSteps-1]; last != 1 {
			t.Errorf("entry %d: the current ends at %g of itself", i, last)
		}
		if end := time[(k+1)*(flightSteps+1)-1]; end != 1 {
			t.Errorf("entry %d: the flight ends at %g of itself", i, end)
		}
	}
	if seen != 40 || d.Details.Count != 40 {
		t.Errorf("%d in detail", seen)
	}
}
