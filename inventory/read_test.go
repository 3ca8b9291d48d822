package inventory

import (
	"math"
	"strings"
	"testing"

	"partsaloft/physics"
)

// TestWhatFormsMean: every form that may be written is read as what it means.
func TestWhatFormsMean(t *testing.T) {
	d := mustRead(t, `
motors:
  - {id: 1404, stator: 0702, kv: 3.9e3, hole_pattern_mm: 16x16 M3}
  - {id: m2, stator: 2207.5, kv: 1780, hole_pattern_mm: [16, 12, 12], count: 4.0}
  - {id: m3, stator: "1404", kv: 3900, hole_pattern_mm: 9 × 9 mm}
props:
  - {id: p1, size: 5.1x4.3x3}
  - {id: p2, size: 65mm x 1.2 x 3, diameter_in: 2.56}
  - {id: p3, size: 76.2MM × 25.4mm × 2}
  - {id: p4, size: 3 x 3, blades: 4}
  - {id: p5, diameter_in: 3, pitch_in: 1.6, blades: 3, directions: {cw: 2, ccw: 3}}
  - {id: p6, size: 2.5in*2.5in*3}
packs:
  - {id: k1, size: 4S 1300 100C}
  - {id: k2, size: 100c 1300mAh 4s, connector: xt-60}
  - {id: k3, size: 2S1P 0.56Ah 70C, chemistry: lihv}
  - {id: k4, size: 4S1300, discharge_c: 95, connector: JST-PH 2.0}
  - {id: k5, cells: 2, capacity_mah: 3000, discharge_c: 6.7, chemistry: liion, connector: my own plug}
frames: [{id: f1, mass_g: 30, motor_spacing_mm: 85, stack_mm: 25.5x25.5}]
extras:
  - {id: x1, role: camera, mass_g: 2, with: [f1, f1]}
  - {id: x2, role: camera, mass_g: 2}
fleet: []
`)
	m := d.Motors
	if m[0].ID != "1404" || m[0].StatorDiameterMm != 7 || m[0].StatorHeightMm != 2 || m[0].KV != 3900 ||
		m[0].HolePatternMm.String() != "16 mm" {
		t.Errorf("first motor %+v", m[0])
	}
	if m[1].StatorHeightMm != 7.5 || m[1].HolePatternMm.String() != "12 or 16 mm" || *m[1].Count != 4 ||
		m[2].HolePatternMm.String() != "9 mm" {
		t.Errorf("other motors %+v", m[1:])
	}
	for i, want := range []struct {
		diameterIn, pitchIn float64
		blades              int
	}{{5.1, 4.3, 3}, {2.56, 1.2, 3}, {3, 1, 2}, {3, 3, 4}, {3, 1.6, 3}, {2.5, 2.5, 3}} {
		p := d.Props[i]
		if math.Abs(p.DiameterIn-want.diameterIn) > 1e-9 || math.Abs(p.PitchIn-want.pitchIn) > 1e-9 ||
			p.Blades != want.blades {
			t.Errorf("prop %s is %g x %g x %d, want %v", p.ID, p.DiameterIn, p.PitchIn, p.Blades, want)
		}
	}
	if n := d.Props[4].Count; n == nil || *n != 5 {
		t.Errorf("directions count %v pieces, want 5", n)
	}
	for i, want := range []Pack{
		{Cells: 4, CapacityMAh: 1300, DischargeC: 100, Chemistry: LiPo},
		{Cells: 4, CapacityMAh: 1300, DischargeC: 100, Chemistry: LiPo, Connector: "XT60"},
		{Cells: 2, CapacityMAh: 560, DischargeC: 70, Chemistry: LiHV},
		{Cells: 4, CapacityMAh: 1300, DischargeC: 95, Chemistry: LiPo, Connector: "PH 2.0"},
		{Cells: 2, CapacityMAh: 3000, DischargeC: 6.7, Chemistry: LiIon, Connector: "my own plug"},
	} {
		p := d.Packs[i]
		if p.Cells != want.Cells || p.CapacityMAh != want.CapacityMAh || p.DischargeC != want.DischargeC ||
			p.Chemistry != want.Chemistry || p.Connector != want.Connector {
			t.Errorf("pack %+v, want %+v", p, want)
		}
	}
	if f := d.Frames[0]; f.RotorCount() != 4 || f.StackMm.String() != "25.5 mm" ||
		math.Abs(f.LargestPropM()-0.082) > 1e-12 {
		t.Errorf("frame %+v", f)
	}
	if d.Extras[0].Use != With || len(d.Extras[0].With) != 1 || d.Extras[1].Use != Along {
		t.Errorf("extras %+v", d.Extras)
	}
	if m[2].Path != "motors[2]" || m[2].Line != 5 || m[2].Column != 5 {
		t.Errorf("third motor stands at %s, %d:%d", m[2].Path, m[2].Line, m[2].Column)
	}
}

// TestEditorsHabits: a byte order mark, CRLF, CR, comments and a document mark do no harm.
func TestEditorsHabits(t *testing.T) {
	text := "---\n# kept in the shed\nmotors:\n  - id: m1 # the good ones\n    stator: 1404\n    kv: 3900\n    note: " +
		"größer × 2, “quoted”, 9 mm\n...\n"
	for name, variant := range map[string]string{
		"plain": text, "byte order mark": "\ufeff" + text, "CRLF": strings.ReplaceAll(text, "\n",
			"\r\n"), "CR": strings.ReplaceAll(text, "\n", "\r"),
		"no end of line": strings.TrimSuffix(text, "\n...\n"), "blank lines with blanks": strings.ReplaceAll(text, "\n",
			"\n \t \n"),
	} {
		d, err := Read("test.yaml", strings.NewReader(variant))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if d.Motors[0].Note != "größer × 2, “quoted”, 9 mm" {
			t.Errorf("%s: note %q", name, d.Motors[0].Note)
		}
	}
}

func TestFaultsNameTheFileAndThePlace(t *testing.T) {
	d, err := Read("drawer.yaml", strings.NewReader(smallCraft))
	if err != nil || d.Name != "drawer.yaml" {
		t.Fatalf("name %q, error %v", d.Name, err)
	}
	_, err = Read("drawer.yaml", strings.NewReader("motors:\n  - id: m1\n    stator: 1404\n    kv: -920\n"))
	if want := "drawer.yaml:4:9: motor m1: kv: number.over_zero allowed=[50, 60000] rpm per volt got=-920"; err == nil ||
		err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestCombinationByIDs(t *testing.T) {
	d := mustRead(t, smallCraft)
	parts := Parts{Motor: "m", Prop: "p", Pack: "k", Frame: "f", Board: "b", Extras: []string{"vtx", "cam"}}
	c, err := d.Combination(&parts)
	if err != nil {
		t.Fatal(err)
	}
	if want := "motor=m,prop=p,pack=k,frame=f,board=b,extras=cam+vtx"; c.Key() != want {
		t.Errorf("key %s, want %s", c.Key(), want)
	}
	parts = Parts{Motor: "n", Prop: "p", Pack: "k9", Frame: "f", Board: "b", Extras: []string{"vtx", "can"}}
	_, err = d.Combination(&parts)
	want := "part.unknown id=n kind=motor; id.none\npart.unknown id=k9 kind=pack near=k; id.near\npart.unknown id=can " +
		"kind=extra near=cam; id.near"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestPlugs(t *testing.T) {
	for _, c := range []struct {
		text  string
		want  Plug
		known bool
	}{
		{"XT30", "XT30", true}, {"xt 30", "XT30", true}, {"Xt-60", "XT60", true}, {"XT90-S", "XT90", true},
		{"PH2.0", "PH 2.0", true}, {"JST PH 2.0", "PH 2.0", true}, {"ph", "PH 2.0", true}, {"BT2.0", "BT 2.0", true},
		{"XH 2.5", "XH 2.5", true}, {"JST-XH", "XH 2.5", true}, {" T-Plug ", "T plug", true}, {"rcy", "RCY", true},
		{"JST", "JST", false}, {" banana 4 mm ", "banana 4 mm", false}, {"", "", false},
	} {
		if got := NamePlug(c.text); got != c.want || got.Known() != c.known {
			t.Errorf("%q is %q (known %v), want %q (%v)", c.text, got, got.Known(), c.want, c.known)
		}
	}
	// Published: datasheet ratings as sellers quote them (PH 2.0, XH 2.5, XT60), XT30 from memory; what pilots draw is
	// common practice.
	for _, c := range []struct {
		plug                           Plug
		flight, seconds, sheet, sheetS float64
	}{{"PH 2.0", 8, 12, 2, 0}, {"XH 2.5", 9, 15, 3, 0}, {"BT 2.0", 10, 15, 0, 15}, {"XT30", 25, 45, 15, 30},
		{"XT60", 60, 100, 30, 60}} {
		r, from, ok := c.plug.Rating()
		if want := (physics.Connector{ContinuousA: c.flight, PeakA: c.seconds, SheetContinuousA: c.sheet,
			SheetPeakA: c.sheetS}); r != want || !ok || from == "" {
			t.Errorf("%s is rated %+v (%s)", c.plug, r, from)
		}
	}
	// Property: every known plug has limits, those for seconds the higher ones, and no datasheet says more.
	for i := range plugs {
		r := plugs[i].rating
		if !(r.ContinuousA > 0 && r.PeakA > r.ContinuousA && r.SheetContinuousA <= r.ContinuousA && r.SheetPeakA <= r.PeakA) {
			t.Errorf("%s is rated %+v", plugs[i].name, r)
		}
	}
	if r, _, ok := Plug("banana 4 mm").Rating(); ok || r != (physics.Connector{}) {
		t.Errorf("an unknown plug is rated %+v", r)
	}
}

// A pack without a rating is given a low one, which is marked; one with a rating of its own is not.
func TestPackWithoutRating(t *testing.T) {
	d, err := Read("packs.yaml", strings.NewReader(`
packs:
  - {id: lipo, size: 4S 1300}
  - {id: ion, cells: 6, capacity_mah: 3000, chemistry: liion}
  - {id: rated, size: 4S 1300 95C}
  - {id: amps, size: 6S 4000, chemistry: liion, discharge_a: 35}
`))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		c       float64
		assumed bool
	}{{25, true}, {5, true}, {95, false}, {8.75, false}} {
		if p := &d.Packs[i]; p.DischargeC != want.c || p.AssumedC != want.assumed {
			t.Errorf("%s: %gC, assumed %v; want %gC, %v", p.ID, p.DischargeC, p.AssumedC, want.c, want.assumed)
		}
	}
}
