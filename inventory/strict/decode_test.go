package strict

import (
	"math"
	"strings"
	"testing"
)

// span is a type with a written form of its own: 3..8.
type span struct{ low, high float64 }

func (s *span) ReadNode(n Node) {
	low, high, ok := strings.Cut(n.Raw(), "..")
	if !ok || n.IsList() {
		n.Fault("must be a range such as 3..8")
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
	if e.Inner.Price != "4.20" || e.Bounds.Price != "five" || *e.Share != 0.5 || *e.Open != -1 || *e.Least != -40 || *e.Count != 3 || *e.Flag || *e.Box != [3]float64{1, 2.5, 9} ||
		e.Weight["grip"] != 4 || e.Limits["all_up_g"].high != 3 || e.Limits["minutes"].low != 1 || e.Word != "red" || len(e.Names) != 2 || e.G != nil {
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

// TestMessages holds messages of single values, each with its way out.
func TestMessages(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"share: 0", "share: must be over 0, got 0; allowed is over 0 and at most 1"},
		{"share: 1.5", "share: must be over 0 and at most 1, got 1.5; check the digits"},
		{"open: -2", "open: must be at least -1, got -2; check the digits"},
		{"least: 6", "least: must be at most 5 V, got 6; check the digits and the unit in the key"},
		{"count: -1", "count: must not be under 0, got -1; allowed is at least 0"},
		{"count: 1.9", "count: must be a whole number, got 1.9; write 1 or 2"},
		{"count: 12345678901", "count: must be a whole number of at most nine digits, got 12345678901; check the digits"},
		{"count: 017", "count: must be a plain number, got 017; write 17, a leading zero can mean an octal number"},
		{"count: -007", "count: must be a plain number, got -007; write -7, a leading zero can mean an octal number"},
		{"count: 0b11", "count: must be a plain number, got 0b11; write the decimal number 3"},
		{"mass_g: 1,5", `mass_g: must be a plain number, got "1,5"; write 1.5, not 1,5`},
		{"mass_g: 0,125", `mass_g: must be a plain number, got "0,125"; write 0.125, not 0,125`},
		{"mass_g: 1,300", `mass_g: must be a plain number, got "1,300"; write 1300 or 1.300, without a comma`},
		{"mass_g: 30 g", `mass_g: must be a plain number, got "30 g"; write 30, the unit is in the key`},
		{"mass_g: 30g", "mass_g: must be a plain number, got 30g; write 30, the unit is in the key"},
		{"mass_g: 30,5 g", `mass_g: must be a plain number, got "30,5 g"; write 30.5, the unit is in the key`},
		{"mass_g: 0.03 kg", `mass_g: must be a plain number, got "0.03 kg"; write 30 (g)`},
		{"mass_g: 1 oz", `mass_g: must be a plain number, got "1 oz"; write 28.35 (g)`},
		{"mass_g: ≈ 30", `mass_g: must be a plain number, got "≈ 30"; write 30, and the doubt in note`},
		{"mass_g: 30?", `mass_g: must be a plain number, got "30?"; write 30, and the doubt in note`},
		{"mass_g: 30\u00a0g", `mass_g: must be a plain number, got "30\u00a0g"; write 30, the unit is in the key`},
		{"mass_g: −5", `mass_g: must be a plain number, got "−5"; write -5`},
		{"mass_g: '30'", `mass_g: must be a bare number, got "30"; write 30 without quotes`},
		{"mass_g: ”30”", `mass_g: must be a plain number, got "”30”"; write 30 without quotes`},
		{"mass_g: 3 × 10", `mass_g: must be a plain number, got "3 × 10"; write the bare number in g, such as 12.5`},
		{"mass_g: 1/2", `mass_g: must be a plain number, got "1/2"; write one number, the likeliest`},
		{"mass_g: 1e400", "mass_g: must be a finite number, got 1e400; check the digits"},
		{"mass_g: -.inf", "mass_g: must be a finite number, got -.inf; write a number, or leave the key out"},
		{"mass_g: " + strings.Repeat("9x", 60), "mass_g: must be a plain number, got " + strings.Repeat("9x", 24) + "…; write the bare number in g, such as 12.5"},
		{"minutes: 4:30", `minutes: must be a plain number, got "4:30"; write 4.5`},
		{"flag: off", "flag: must be true or false without quotes, got off; write false"},
		{"flag: maybe", "flag: must be true or false without quotes, got maybe"},
		{"flag: [true]", "flag: must be true or false without quotes, got a list"},
		{"word: crimson", "word: must be one of red, green, got crimson; write red"},
		{"word: Red", "word: must be one of red, green, got Red; write red"},
		{"word: blue", "word: must be one of red, green, got blue"},
		{"box: 74 x 35 x 33", `box: must be a list, got "74 x 35 x 33"; write [74, 35, 33]`},
		{"box: [1, 2]", "box: must hold 3 numbers, got 2; write all 3 in brackets"},
		{"names: []", "names: must hold 1 to 3 entries, got 0"},
		{"names: [a b]", `names[0]: must be letters, digits, - _ or . without spaces, got "a b"; write a-b`},
		{"limits: {all_up_g: 250}", "limits.all_up_g: must be a range such as 3..8"},
		{"weights: {grip: 11}", "weights.grip: must be from 0 to 10, got 11; check the digits"},
		{"weights: 4", "weights: must be keys with values, got 4"},
		{"price: 123456789", "price: must have at most 8 characters, got 9; shorten it"},
		{"weight: 30", "weight: unknown key; did you mean mass_g?"},
		{"Weight_in_g: 30", "Weight_in_g: unknown key; did you mean weights?"},
		{"\"a\\u001bb\": 30", `"a\x1bb": unknown key; allowed are bounds, box, count, flag, least, limits, mass_g, minutes, names, open, price, share, weights, word`},
		{"Hidden: 1", "Hidden: unknown key; allowed are bounds, box, count, flag, least, limits, mass_g, minutes, names, open, price, share, weights, word"},
	} {
		t.Run(c.text, func(t *testing.T) {
			faults := Read("f", strings.NewReader(c.text), &everything{}).Faults()
			if len(faults) != 1 {
				t.Fatalf("got %v, want one fault", faults)
			}
			if got := faults[0].Path + ": " + faults[0].Message; got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestHelpIsTrue is a property test: what a message tells to write is then read, as the number meant.
func TestHelpIsTrue(t *testing.T) {
	for text, want := range map[string]float64{"1,5": 1.5, "30 g": 30, "0.03 kg": 30, "2 oz": 56.699, "~7": 7, "'8'": 8, "017": 17, "1 300": 1300, "x4": 4, "0x10": 16} {
		faults := Read("f", strings.NewReader("mass_g: "+text), &everything{}).Faults()
		_, way, ok := strings.Cut(faults[0].Message, "write ")
		if !ok {
			t.Fatalf("%s: no way out in %v", text, faults)
		}
		way = strings.TrimPrefix(way, "the decimal number ")
		word, _, _ := strings.Cut(way, " ")
		var e everything
		if err := Read("f", strings.NewReader("mass_g: "+strings.TrimSuffix(word, ",")), &e).Err(); err != nil || math.Abs(*e.G-want) > 1e-3*want {
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
	for _, s := range []string{"share: 0.5\nbox: [1, 2, 3]\n", "weights: {grip: 4}\nlimits: {a: ..3}\n", "a: &a [*a]\n", "<<: {a: 1}\n", "? [a]\n: b\n", "names: [a, b]\n--- \n- a\n", "word: \"\\u202e\"\n", "mass_g: 1,5 kg\n", "\xff\xfe\x00", "price: |\n  a\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var e everything
		d := Read("f", strings.NewReader(string(text)), &e)
		if faults := d.Faults(); len(faults) > 0 {
			for _, g := range faults {
				if g.Message == "" || g.Line > 0 && g.Column < 1 || strings.ContainsFunc(g.Error(), func(r rune) bool { return !allowedRune(r) }) {
					t.Errorf("fault %+v", g)
				}
			}
			return
		}
		if e.Share != nil && !(*e.Share > 0 && *e.Share <= 1) || e.Count != nil && *e.Count < 0 || e.Word != "" && e.Word != "red" && e.Word != "green" || len(e.Names) > 3 {
			t.Errorf("read %+v", e)
		}
		for k, x := range e.Weight {
			if !(x >= 0 && x <= 10) {
				t.Errorf("weight %q is %g", k, x)
			}
		}
	})
}
