package strict

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// span is a type with a written form of its own: 3..8.
type span struct{ low, high float64 }

func (s *span) ReadNode(n Node) {
	low, high, ok := strings.Cut(n.Raw(), "..")
	if !ok || n.IsList() {
		n.Fault("span", nil)
		return
	}
	s.low, s.high = float64(len(low)), float64(len(high))
}

type inner struct {
	Price string `yaml:"price" check:"len=8"`
}

type everything struct {
	Inner  inner              `yaml:",inline"`
	Bounds inner              `yaml:"bounds"`
	Share  *float64           `yaml:"share" check:"over=0,max=1"`
	Open   *float64           `yaml:"open" check:"min=-1"`
	Least  *float64           `yaml:"least" check:"max=5,unit=V"`
	Count  *int               `yaml:"count" check:"min=0"`
	Flag   *bool              `yaml:"flag"`
	Box    *[3]float64        `yaml:"box" check:"min=1,max=9,unit=mm"`
	Weight map[string]float64 `yaml:"weights" check:"min=0,max=10"`
	Limits map[string]span    `yaml:"limits"`
	Word   string             `yaml:"word" check:"oneof=red|green,also=crimson:red"`
	Names  []string           `yaml:"names" check:"id,items=1..3"`
	Min    *float64           `yaml:"minutes" check:"min=0,unit=min"`
	G      *float64           `yaml:"mass_g" check:"min=0,unit=g,also=weight"`
	Hidden int                `yaml:"-"`
}

func TestEverythingIsRead(t *testing.T) {
	var e everything
	d := Read("all.yaml", strings.NewReader(`
price: 4.20
bounds: {price: five}
share: 0.5
open: -1
least: -40
count: 3
flag: false
box: [1, 2.5, 9]
weights: {grip: 4, endurance: 1}
limits: {all_up_g: ..250, minutes: 3..}
word: red
names: [a, b]
`), &e)
	if err := d.Err(); err != nil {
		t.Fatal(err)
	}
	if e.Inner.Price != "4.20" || e.Bounds.Price != "five" || *e.Share != 0.5 || *e.Open != -1 || *e.Least != -40 ||
		*e.Count != 3 || *e.Flag || *e.Box != [3]float64{1, 2.5, 9} ||
		e.Weight["grip"] != 4 || e.Limits["all_up_g"].high != 3 || e.Limits["minutes"].low != 1 || e.Word != "red" ||
		len(e.Names) != 2 || e.G != nil {
		t.Errorf("read %+v", e)
	}
	if p := d.Position("weights.endurance"); p != (Position{10, 31}) {
		t.Errorf("weights.endurance stands at %v", p)
	}
	if p := d.Position("limits.none.deep[3]"); p != d.Position("limits") {
		t.Errorf("what is not written stands at %v", p)
	}
	if !d.Has("box[2]") || d.Has("mass_g") || !d.Sound("box") {
		t.Error("what is given and sound is not known")
	}
}

// TestHelpIsTrue is a property test: what a message tells to write is then read, as the number meant.
func TestHelpIsTrue(t *testing.T) {
	for text, want := range map[string]float64{"1,5": 1.5, "30 g": 30, "0.03 kg": 30, "2 oz": 56.699, "~7": 7, "'8'": 8,
		"017": 17, "1 300": 1300, "x4": 4, "0x10": 16} {
		faults := Read("f", strings.NewReader("mass_g: "+text), &everything{}).Faults()
		word := faults[0].Write
		if word == "" {
			word = fmt.Sprint(faults[0].Values["as"])
		}
		var e everything
		if err := Read("f", strings.NewReader("mass_g: "+word), &e).Err(); err != nil || math.Abs(*e.G-want) > 1e-3*want {
			t.Errorf("%s: %q reads as %v (%v), want %g", text, word, e.G, err, want)
		}
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"mass_g", "prop_mount", "hole_pattern_mm", "kv", "max_current_a"}
	for word, want := range map[string]string{
		"mas_g": "mass_g", "mass": "mass_g", "mass_gram": "mass_g", "mass_kg": "mass_g", "Mass_g": "mass_g", "massg": "mass_g",
		"prop_mont": "prop_mount", "porp_mount": "prop_mount", "hole-pattern-mm": "hole_pattern_mm", "KV": "kv", "colour": "", "": "", "xy": "",
		strings.Repeat("m", 100): "",
	} {
		if got := Nearest(word, keys); got != want {
			t.Errorf("%s is near %q, want %q", word, got, want)
		}
	}
}

func TestBadTagsAreCaught(t *testing.T) {
	for _, tag := range []string{"min=a", "nonsense", "items=x", "len="} {
		if _, err := parseRule(tag); err == nil {
			t.Errorf("tag %q is taken", tag)
		}
	}
}

// FuzzRead is a property test: any bytes end in values inside their rules or in faults.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"share: 0.5\nbox: [1, 2, 3]\n", "weights: {grip: 4}\nlimits: {a: ..3}\n", "a: &a [*a]\n",
		"<<: {a: 1}\n", "? [a]\n: b\n", "names: [a, b]\n--- \n- a\n", "word: \"\\u202e\"\n", "mass_g: 1,5 kg\n", "\xff\xfe\x00", "price: |\n  a\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var e everything
		d := Read("f", strings.NewReader(string(text)), &e)
		if faults := d.Faults(); len(faults) > 0 {
			for _, g := range faults {
				if g.Code == "" || g.Line > 0 && g.Column < 1 || strings.ContainsFunc(g.Error(),
					func(r rune) bool { return !allowedRune(r) }) {
					t.Errorf("fault %+v", g)
				}
			}
			return
		}
		if e.Share != nil && !(*e.Share > 0 && *e.Share <= 1) || e.Count != nil && *e.Count < 0 || e.Word != "" &&
			e.Word != "red" && e.Word != "green" || len(e.Names) > 3 {
			t.Errorf("read %+v", e)
		}
		for k, x := range e.Weight {
			if !(x >= 0 && x <= 10) {
				t.Errorf("weight %q is %g", k, x)
			}
		}
	})
}
