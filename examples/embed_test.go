package examples

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// The tests here are properties of the files as text. That every drawer and style loads without a
// fault is tested where the reader is.

// parts is a combination by ids, as the fleet and the log write it.
type parts struct {
	Motor, Prop, Pack, Frame, Board string
	Extras                          []string
}

type drawer struct {
	Motors []struct {
		ID             string
		Count          int
		Stator         string
		KV             float64
		MassG          float64   `yaml:"mass_g"`
		ResistanceMohm float64   `yaml:"resistance_mohm"`
		HolePatternMm  []float64 `yaml:"hole_pattern_mm"`
		Bench          []struct{ Prop string }
	}
	Props []struct {
		ID         string
		Count      int
		Size       string
		MassG      float64 `yaml:"mass_g"`
		Directions struct{ CW, CCW int }
	}
	Packs []struct {
		ID, Size, Chemistry string
	}
	Frames []struct {
		ID     string
		Ducted bool
	}
	Boards []struct{ ID string }
	Extras []struct {
		ID   string
		With []string
	}
	Fleet []struct {
		Name  string
		Parts parts
	}
	Log []struct {
		Date  string
		Parts parts
	}
}

func read(t *testing.T, name string) drawer {
	t.Helper()
	text, err := Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var d drawer
	if err := yaml.Unmarshal(text, &d); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return d
}

func embedded(t *testing.T) []string {
	t.Helper()
	var names []string
	err := fs.WalkDir(Files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func drawers(t *testing.T) []string {
	t.Helper()
	return slices.DeleteFunc(embedded(t), func(name string) bool { return strings.Contains(name, "/") })
}

func TestEveryYAMLFileOfTheFolderIsEmbedded(t *testing.T) {
	var onDisk []string
	err := filepath.WalkDir(".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && filepath.Ext(name) == ".yaml" {
			onDisk = append(onDisk, filepath.ToSlash(name))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := embedded(t); !slices.Equal(got, onDisk) {
		t.Fatalf("embedded %v, in the folder %v", got, onDisk)
	}
	if !slices.Contains(onDisk, DefaultDrawer) {
		t.Errorf("the default drawer %s is not among %v", DefaultDrawer, onDisk)
	}
	for _, name := range onDisk {
		want, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) == 0 || string(got) != string(want) {
			t.Errorf("%s: embedded %d bytes, in the folder %d", name, len(got), len(want))
		}
	}
}

func TestEveryFileSaysAtItsTopThatItIsInvented(t *testing.T) {
	for _, name := range embedded(t) {
		text, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var head strings.Builder
		for line := range strings.Lines(string(text)) {
			if !strings.HasPrefix(line, "#") {
				break
			}
			head.WriteString(strings.ToLower(line))
		}
		if !strings.Contains(head.String(), "invented") {
			t.Errorf("%s: its leading comment does not say that it is invented:\n%s", name, head.String())
		}
	}
}

func TestIdsAreUniqueAndWhatIsNamedExists(t *testing.T) {
	wellFormed := regexp.MustCompile(`^[A-Za-z0-9._-]{1,64}$`)
	for _, name := range drawers(t) {
		d := read(t, name)
		known := map[string]map[string]bool{}
		add := func(kind, id string) {
			if known[kind] == nil {
				known[kind] = map[string]bool{}
			}
			if known[kind][id] || !wellFormed.MatchString(id) {
				t.Errorf("%s: %s %q is there twice or malformed", name, kind, id)
			}
			known[kind][id] = true
		}
		for _, p := range d.Motors {
			add("motor", p.ID)
		}
		for _, p := range d.Props {
			add("prop", p.ID)
			if turns := p.Directions.CW + p.Directions.CCW; turns != 0 && turns != p.Count {
				t.Errorf("%s: %s has %d pieces, its directions add up to %d", name, p.ID, p.Count, turns)
			}
		}
		for _, p := range d.Packs {
			add("pack", p.ID)
		}
		for _, p := range d.Frames {
			add("frame", p.ID)
		}
		for _, p := range d.Boards {
			add("board", p.ID)
		}
		for _, p := range d.Extras {
			add("extra", p.ID)
		}
		exists := func(where, kind, id string) {
			if !known[kind][id] {
				t.Errorf("%s: %s names %s %q, which is not in the drawer", name, where, kind, id)
			}
		}
		for _, m := range d.Motors {
			for _, b := range m.Bench {
				exists(m.ID, "prop", b.Prop)
			}
		}
		for _, x := range d.Extras {
			for _, id := range x.With {
				if !known["frame"][id] && !known["board"][id] {
					t.Errorf("%s: %s goes with %q, neither a frame nor a board", name, x.ID, id)
				}
			}
		}
		combination := func(where string, p parts) {
			exists(where, "motor", p.Motor)
			exists(where, "prop", p.Prop)
			exists(where, "pack", p.Pack)
			exists(where, "frame", p.Frame)
			exists(where, "board", p.Board)
			for _, id := range p.Extras {
				exists(where, "extra", id)
			}
		}
		for _, craft := range d.Fleet {
			combination("fleet "+craft.Name, craft.Parts)
		}
		for _, entry := range d.Log {
			combination("log of "+entry.Date, entry.Parts)
		}
	}
}

// The club's drawer must be broad enough to rank whoops, cruisers and racers against each other, and
// have the gaps that real drawers have.
func TestClubDrawerIsBroadAndHasGaps(t *testing.T) {
	d := read(t, DefaultDrawer)
	for _, kind := range []struct {
		name        string
		have, least int
	}{
		{"motors", len(d.Motors), 14}, {"props", len(d.Props), 18}, {"packs", len(d.Packs), 14}, {"frames", len(d.Frames), 8},
		{"boards", len(d.Boards), 6}, {"extras", len(d.Extras), 10}, {"fleet", len(d.Fleet), 2}, {"log", len(d.Log), 8},
	} {
		if kind.have < kind.least {
			t.Errorf("%d %s, want %d at least", kind.have, kind.name, kind.least)
		}
	}
	var noMass, noResistance, noHoles int
	for _, m := range d.Motors {
		across, err := strconv.ParseFloat(m.Stator[:2], 64)
		if err != nil || across < 10 || across > 28 || m.KV < 1200 || m.KV > 19000 {
			t.Errorf("%s: stator %s, %g rpm/V, want 10 to 28 mm, 1200 to 19000", m.ID, m.Stator, m.KV)
		}
		if m.MassG == 0 {
			noMass++
		}
		if m.ResistanceMohm == 0 {
			noResistance++
		}
		if len(m.HolePatternMm) == 0 {
			noHoles++
		}
	}
	if noMass < 2 || noResistance < 2 || noHoles != 1 {
		t.Errorf("motors without mass %d, resistance %d, hole pattern %d: want 2, 2, and 1", noMass, noResistance, noHoles)
	}
	cells, chemistries := map[string]bool{}, map[string]bool{}
	for _, p := range d.Packs {
		cells[p.Size[:1]], chemistries[p.Chemistry] = true, true
	}
	if len(cells) < 5 || !cells["1"] || !cells["6"] || len(chemistries) != 3 {
		t.Errorf("packs of %v cells and of %v, want 1S to 6S and three chemistries", cells, chemistries)
	}
	ducted := 0
	for _, f := range d.Frames {
		if f.Ducted {
			ducted++
		}
	}
	if ducted == 0 {
		t.Error("no ducted frame")
	}
}

func TestSharesOfEveryStyleAddUpToAHundred(t *testing.T) {
	styles, err := fs.Glob(Files, "styles/*.yaml")
	if err != nil || len(styles) == 0 {
		t.Fatalf("styles %v, %v", styles, err)
	}
	for _, name := range styles {
		text, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var style struct {
			Name    string
			Weights map[string]float64
			Flying  struct {
				Segments []struct {
					SharePct float64 `yaml:"share_pct"`
				}
			}
		}
		if err := yaml.Unmarshal(text, &style); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		sum := 0.0
		for _, s := range style.Flying.Segments {
			sum += s.SharePct
		}
		if sum != 100 || len(style.Weights) == 0 {
			t.Errorf("%s: shares add up to %g, weights %v", name, sum, style.Weights)
		}
		if want := strings.TrimSuffix(filepath.Base(name), ".yaml"); style.Name != want {
			t.Errorf("%s: its name is %q", name, style.Name)
		}
	}
}
