package page

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/explore"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
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

func input(t testing.TB, d *inventory.Drawer, style string, o explore.Options) *Input {
	t.Helper()
	return inputOf(t, d, style, search.Options{Seed: 1}, o)
}

func inputOf(t testing.TB, d *inventory.Drawer, style string, seek search.Options, o explore.Options) *Input {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	ask := &answer.Ask{Problem: &space.Problem{Drawer: d, Air: air, Style: s}, Search: seek}
	found, err := explore.Make(context.Background(), ask, o)
	if err != nil {
		t.Fatal(err)
	}
	return &Input{Input: *found}
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
	m := regexp.MustCompile(`(?s)<script type="text/plain" id="data">(.*?)</script>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the page holds no data")
	}
	raw, err := base64.StdEncoding.DecodeString(m[1])
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	var d struct{ Explore map[string]any }
	if err := json.NewDecoder(z).Decode(&d); err != nil {
		t.Fatal(err)
	}
	return d.Explore
}

// Property: the page allows its own script and style and nothing else, and names nothing outside.
func TestPageIsSealed(t *testing.T) {
	page := written(t, input(t, drawer(t, "racer.yaml"), "race", explore.Options{Details: 30}))
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
	in := input(t, d, "race", explore.Options{Details: 30})
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
		pages = append(pages, written(t, inputOf(t, drawer(t, "cruising.yaml"), "freestyle", search.Options{Seed: 1,
			Workers: workers}, explore.Options{Details: 80})))
	}
	if pages[0] != pages[1] {
		t.Error("the page depends on the number of workers")
	}
}

// A drawer with some 78 000 feasible combinations makes a page under two megabytes that is still
// exact for the first place.
func TestLargeDrawer(t *testing.T) {
	if os.Getenv("PARTSALOFT_LONG") == "" {
		t.Skip("takes half a minute: set PARTSALOFT_LONG=1")
	}
	in := input(t, crowded(t, 4), "freestyle", explore.Options{})
	page := written(t, in)
	c := in.Catalogue
	t.Logf("%d feasible, %d entries, %d bytes", c.Feasible, len(c.Entries), len(page))
	if c.Feasible < 70_000 || len(page) > MostBytes || c.Loss != 0 || !c.Proven || len(c.Entries) < 10_000 ||
		c.Complete < 1000 {
		t.Errorf("%d feasible, %d entries, loss %g, %d complete, %d bytes", c.Feasible, len(c.Entries), c.Loss, c.Complete,
			len(page))
	}
	if !strings.Contains(page, "Whatever you set, the first place is the best in the drawer") {
		t.Error("the page does not say what it holds")
	}
}

// A page that would be too large leaves out details, the worst ranked first.
func TestDrop(t *testing.T) {
	in := input(t, drawer(t, examples.DefaultDrawer), "freestyle", explore.Options{Details: 400})
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
