package page

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

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

// crowded is a drawer with k likenesses of every motor and prop of the club, each a little off.
func crowded(t testing.TB, k int) *inventory.Drawer {
	d := drawer(t, examples.DefaultDrawer)
	rng := rand.New(rand.NewPCG(1, 2))
	near := func(x float64) float64 { return x * math.Exp(0.06*rng.NormFloat64()) }
	mass := func(m *float64) *float64 {
		if m == nil {
			return nil
		}
		x := math.Round(near(*m)*10) / 10
		return &x
	}
	motors, props := len(d.Motors), len(d.Props)
	for c := 1; c < k; c++ {
		for _, m := range d.Motors[:motors] {
			m.ID, m.KV, m.MassG = fmt.Sprintf("%s.%d", m.ID, c), math.Round(near(m.KV)), mass(m.MassG)
			d.Motors = append(d.Motors, m)
		}
		for _, p := range d.Props[:props] {
			p.ID, p.PitchIn, p.MassG = fmt.Sprintf("%s.%d", p.ID, c), near(p.PitchIn), mass(p.MassG)
			d.Props = append(d.Props, p)
		}
	}
	return d
}

func input(t testing.TB, d *inventory.Drawer, style string, o search.CatalogueOptions) *Input {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	in := &Input{Drawer: d.Name, Command: "partsaloft rank --style " + style}
	in.Opening, s.Limits = Split(s.Limits)
	in.Style = s
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	o.Bounds, o.Opening = Bounds(), in.Opening
	if in.Catalogue, err = search.MakeCatalogue(context.Background(), space.Problem{Drawer: d, Air: air, Style: s},
		o); err != nil {
		t.Fatal(err)
	}
	return in
}

func written(t testing.TB, in *Input) string {
	t.Helper()
	var b bytes.Buffer
	if err := in.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// data is the document in a page.
func data(t *testing.T, page string) map[string]any {
	t.Helper()
	m := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the page holds no data")
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(m[1]), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// unpack does what data.js does.
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

// Property: the page allows its own script and style and nothing else, and names nothing outside.
func TestPageIsSealed(t *testing.T) {
	page := written(t, input(t, drawer(t, "racer.yaml"), "race", search.CatalogueOptions{Details: 30}))
	policy := regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`).FindStringSubmatch(page)
	if policy == nil {
		t.Fatal("no policy")
	}
	for _, part := range []string{"default-src 'none'", "base-uri 'none'", "form-action 'none'",
		"require-trusted-types-for 'script'"} {
		if !strings.Contains(policy[1], part) {
			t.Errorf("the policy lacks %s: %s", part, policy[1])
		}
	}
	for tag, source := range map[string]string{"script": `(?s)<script type="module">(.*?)</script>`,
		"style": `(?s)<style>(.*?)</style>`} {
		all := regexp.MustCompile(source).FindAllStringSubmatch(page, -1)
		if len(all) != 1 {
			t.Fatalf("%d elements of %s", len(all), tag)
		}
		sum := sha256.Sum256([]byte(all[0][1]))
		if want := tag + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) +
			"'"; !strings.Contains(policy[1], want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
	for _, outside := range []string{"http:", "https:", "src=", "url(", "@import", "fetch(", "XMLHttpRequest", "innerHTML",
		"eval(", "{{", "<link", "<img"} {
		if strings.Contains(page, outside) {
			t.Errorf("the page contains %s", outside)
		}
	}
}

// A drawer full of markup reaches the page as text alone.
func TestMarkupIsText(t *testing.T) {
	const evil = `</script><script>window.broken=1</script><img src=x onerror="window.broken=1">`
	d := drawer(t, "racer.yaml")
	d.Name = evil + ".yaml"
	for i := range d.Motors {
		d.Motors[i].Note = evil
	}
	for i := range d.Packs {
		d.Packs[i].Note, d.Packs[i].Connector = evil, inventory.Plug(evil)
	}
	in := input(t, d, "race", search.CatalogueOptions{Details: 30})
	in.Style.Name = evil
	page := written(t, in)
	if strings.Contains(page, "<script>window") || strings.Contains(page, "<img") {
		t.Error("markup of the drawer stands in the page")
	}
	document := data(t, page)
	if document["drawer"] != evil+".yaml" || document["style"] != evil {
		t.Errorf("the names read %v, %v", document["drawer"], document["style"])
	}
	motors := document["parts"].(map[string]any)["motors"].([]any)
	if motors[0].(map[string]any)["note"] != evil {
		t.Errorf("the note reads %v", motors[0])
	}
	if n := strings.Count(page, "<script"); n != 2 {
		t.Errorf("%d script elements, want the data and the script", n)
	}
}

// Property: the same input gives the same bytes, on any number of workers.
func TestSameBytes(t *testing.T) {
	var pages []string
	for _, workers := range []int{1, 3} {
		o := search.CatalogueOptions{Details: 80}
		o.Workers, o.Seed = workers, 1
		pages = append(pages, written(t, input(t, drawer(t, "cruising.yaml"), "freestyle", o)))
	}
	if pages[0] != pages[1] {
		t.Error("the page depends on the number of workers")
	}
}

// What the page holds of a combination is what was predicted, to the precision of its columns.
func TestDocumentHoldsThePrediction(t *testing.T) {
	in := input(t, drawer(t, examples.DefaultDrawer), "freestyle", search.CatalogueOptions{Details: 40})
	d := in.document()
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

// A drawer with some 78 000 feasible combinations makes a page under two megabytes that is still
// exact for the first place.
func TestLargeDrawer(t *testing.T) {
	if os.Getenv("PARTSALOFT_LONG") == "" {
		t.Skip("takes half a minute: set PARTSALOFT_LONG=1")
	}
	in := input(t, crowded(t, 4), "freestyle", search.CatalogueOptions{})
	page := written(t, in)
	c := in.Catalogue
	t.Logf("%d feasible, %d entries, %d bytes", c.Feasible, len(c.Entries), len(page))
	if c.Feasible < 70_000 || len(page) > MostBytes || c.Loss != 0 || !c.Proven || len(c.Entries) < 10_000 ||
		c.Complete < 1000 {
		t.Errorf("%d feasible, %d entries, loss %g, %d complete, %d bytes", c.Feasible, len(c.Entries), c.Loss, c.Complete,
			len(page))
	}
	if !strings.Contains(page, "The first place is the best of the drawer whatever you set") {
		t.Error("the page does not say what it holds")
	}
}

// A page that would be too large leaves out details, the worst ranked first.
func TestDrop(t *testing.T) {
	in := input(t, drawer(t, examples.DefaultDrawer), "freestyle", search.CatalogueOptions{Details: 400})
	count := func() (n, last int) {
		for i := range in.Catalogue.Entries {
			if in.Catalogue.Entries[i].Result != nil {
				n, last = n+1, i
			}
		}
		return n, last
	}
	before, lastBefore := count()
	if !in.drop() {
		t.Fatalf("%d details cannot be dropped", before)
	}
	if after, last := count(); after != before*3/4 || last >= lastBefore {
		t.Errorf("%d of %d are left, the last at %d", after, before, last)
	}
	for in.drop() {
	}
	if n, _ := count(); n < fewestDetails {
		t.Errorf("only %d are left", n)
	}
}
