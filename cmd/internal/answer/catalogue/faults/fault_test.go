package faults

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"partsaloft/inventory"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/strict"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestBadDrawerSentences is a regression test: each bad drawer gives exactly its golden sentences.
func TestBadDrawerSentences(t *testing.T) {
	files, err := filepath.Glob("../../../../../inventory/testdata/bad/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d bad drawers (%v), want at least 60", len(files), err)
	}
	var all strings.Builder
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = inventory.Read(filepath.Base(file), strings.NewReader(string(text)))
		var list strict.Faults
		if !errors.As(err, &list) {
			t.Fatalf("%s: %v, want faults", file, err)
		}
		for i := range list {
			line := Fault(&list[i])
			all.WriteString(line + "\n")
			if left := regexp.MustCompile(`\{[a-z_]+\}`).FindString(line); left != "" {
				t.Errorf("%s has no value in %s", left, line)
			}
			here := Problem(&list[i].Problem)
			if r := []rune(here); unicode.IsUpper(r[0]) || strings.HasSuffix(here, ".") ||
				strings.ContainsFunc(line, func(r rune) bool { return !unicode.IsPrint(r) }) {
				t.Errorf("%s", line)
			}
		}
	}
	golden := "testdata/bad_drawers.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got := all.String(); got != string(want) {
		was := strings.Split(string(want), "\n")
		for i, line := range strings.Split(got, "\n") {
			if i >= len(was) || line != was[i] {
				t.Fatalf("line %d is\n%s\nwant\n%s", i+1, line, was[min(i, len(was)-1)])
			}
		}
		t.Errorf("%d bytes, want %d", len(got), len(want))
	}
}

// codesIn are the codes that the sources of the rooms below name, with those of their ways out.
func codesIn(t *testing.T, folders ...string) []string {
	t.Helper()
	pattern := regexp.MustCompile(`"([a-z]+(?:_[a-z]+)*(?:\.[a-z_0-9]+)+)"`)
	var codes []string
	for _, folder := range folders {
		files, err := filepath.Glob("../../../../../" + folder + "/*.go")
		if err != nil || files == nil {
			t.Fatal(folder, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range pattern.FindAllStringSubmatch(string(text), -1) {
				codes = append(codes, m[1])
			}
		}
	}
	return codes
}

// TestEveryCodeHasASentence: each code of a fault and each way out has its sentence, and no sentence is left over.
func TestEveryCodeHasASentence(t *testing.T) {
	codes := codesIn(t, "inventory", "inventory/strict", "inventory/compat", "inventory/check", "inventory/edit",
		"inventory/learn", "inventory/series", "objective", "cmd/internal/answer/readings")
	for _, code := range codes {
		// The paths of air and of segments look like codes.
		_, isFault := faults[strict.Code(code)]
		_, isWay := waysOut[strict.Code(code)]
		_, isGroup := groups[strict.Code(code)]
		if !isFault && !isGroup && !isWay && !strings.HasPrefix(code, "air.") && code != "flying.segments" {
			t.Errorf("%s has no sentence", code)
		}
	}
	made := []string{"pack.missing_one", "prop.missing_one", "id.near_log", "id.none_log", "said", "said.alone",
		"style.role"}
	for _, table := range []map[strict.Code]string{faults, waysOut, groups} {
		for code := range table {
			if strings.Contains(string(code), ".") && !slices.Contains(codes, string(code)) &&
				!slices.Contains(made, string(code)) {
				t.Errorf("%s is told of nothing", code)
			}
		}
	}
}

// span is a type with a written form of its own: 3..8.
type span struct{ low, high float64 }

func (s *span) ReadNode(n strict.Node) {
	low, high, ok := strings.Cut(n.Raw(), "..")
	if !ok || n.IsList() {
		n.Fault("said", strict.Values{"text": "must be a range such as 3..8"})
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

// TestFaultSentences holds the sentences of faults of single values, each with its way out.
func TestFaultSentences(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"share: 0", "share must be over 0, got 0; allowed: over 0 and at most 1"},
		{"share: 1.5", "share must be over 0 and at most 1, got 1.5; check the digits"},
		{"open: -2", "open must be at least -1, got -2; check the digits"},
		{"least: 6", "least must be at most 5 V, got 6; check the digits and the unit in the key"},
		{"count: -1", "count must not be negative, got -1; allowed: at least 0"},
		{"count: 1.9", "count must be a whole number, got 1.9; write 1 or 2"},
		{"count: 12345678901", "count must be a whole number of at most nine digits, got 12345678901; check the digits"},
		{"count: 017", "count must be a plain number, got 017; write 17, a leading zero can mean an octal number"},
		{"count: -007", "count must be a plain number, got -007; write -7, a leading zero can mean an octal number"},
		{"count: 0b11", "count must be a plain number, got 0b11; write the decimal number 3"},
		{"mass_g: 1,5", `mass_g must be a plain number, got "1,5"; write 1.5, not 1,5`},
		{"mass_g: 0,125", `mass_g must be a plain number, got "0,125"; write 0.125, not 0,125`},
		{"mass_g: 1,300", `mass_g must be a plain number, got "1,300"; write 1300 or 1.300, without a comma`},
		{"mass_g: 30 g", `mass_g must be a plain number, got "30 g"; write 30, the unit is in the key`},
		{"mass_g: 30g", "mass_g must be a plain number, got 30g; write 30, the unit is in the key"},
		{"mass_g: 30,5 g", `mass_g must be a plain number, got "30,5 g"; write 30.5, the unit is in the key`},
		{"mass_g: 0.03 kg", `mass_g must be a plain number, got "0.03 kg"; write 30 (g)`},
		{"mass_g: 1 oz", `mass_g must be a plain number, got "1 oz"; write 28.35 (g)`},
		{"mass_g: ≈ 30", `mass_g must be a plain number, got "≈ 30"; write 30, and the uncertainty in note`},
		{"mass_g: 30?", `mass_g must be a plain number, got "30?"; write 30, and the uncertainty in note`},
		{"mass_g: 30\u00a0g", `mass_g must be a plain number, got "30\u00a0g"; write 30, the unit is in the key`},
		{"mass_g: −5", `mass_g must be a plain number, got "−5"; write -5`},
		{"mass_g: '30'", `mass_g must be a bare number, got "30"; write 30 without quotes`},
		{"mass_g: ”30”", `mass_g must be a plain number, got "”30”"; write 30 without quotes`},
		{"mass_g: 3 × 10", `mass_g must be a plain number, got "3 × 10"; write the bare number in g, such as 12.5`},
		{"mass_g: 1/2", `mass_g must be a plain number, got "1/2"; write one number, the likeliest`},
		{"mass_g: 1e400", "mass_g must be a finite number, got 1e400; check the digits"},
		{"mass_g: -.inf", "mass_g must be a finite number, got -.inf; write a number, or leave the key out"},
		{"mass_g: " + strings.Repeat("9x", 60), "mass_g must be a plain number, got " + strings.Repeat("9x", 24) +
			"…; write the bare number in g, such as 12.5"},
		{"minutes: 4:30", `minutes must be a plain number, got "4:30"; write 4.5`},
		{"flag: off", "flag must be true or false without quotes, got off; write false"},
		{"flag: maybe", "flag must be true or false without quotes, got maybe"},
		{"flag: [true]", "flag must be true or false without quotes, got a list"},
		{"word: crimson", "word must be one of red, green, got crimson; write red"},
		{"word: Red", "word must be one of red, green, got Red; write red"},
		{"word: blue", "word must be one of red, green, got blue"},
		{"box: 74 x 35 x 33", `box must be a list, got "74 x 35 x 33"; write [74, 35, 33]`},
		{"box: [1, 2]", "box must have 3 numbers, got 2; write all 3 in brackets"},
		{"names: []", "names must have 1 to 3 entries, got 0"},
		{"names: [a b]", `names[0] must be letters, digits, - _ or . without spaces, got "a b"; write a-b`},
		{"limits: {all_up_g: 250}", "limits.all_up_g must be a range such as 3..8"},
		{"weights: {grip: 11}", "weights.grip must be from 0 to 10, got 11; check the digits"},
		{"weights: 4", "weights must be keys with values, got 4"},
		{"price: 123456789", "price must have at most 8 characters, got 9; shorten it"},
		{"weight: 30", "weight: unknown key; did you mean mass_g?"},
		{"Weight_in_g: 30", "Weight_in_g: unknown key; did you mean weights?"},
		{"\"a\\u001bb\": 30",
			`"a\x1bb": unknown key; allowed: bounds, box, count, flag, least, limits, mass_g, minutes, names, open, price, share, weights, word`},
		{"Hidden: 1", "Hidden: unknown key; allowed: bounds, box, count, flag, least, limits, mass_g, minutes, names, " +
			"open, price, share, weights, word"},
	} {
		t.Run(c.text, func(t *testing.T) {
			faults := strict.Read("f", strings.NewReader(c.text), &everything{}).Faults()
			if len(faults) != 1 {
				t.Fatalf("got %v, want one fault", faults)
			}
			if got := FaultHere(&faults[0]); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestBadSheetsNameTheCell(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"empty", "", "list.csv: is empty; put headings in the first line: id, count, stator"},
		{"unknown heading", "id,stator,kv,weight\na,1404,3900,9\n",
			"list.csv:1:14: unknown column weight; did you mean mass_g?"},
		{"heading twice", "id,kv,kv\n", "list.csv:1:7: the heading kv is there twice"},
		{"no id", "stator,kv\n1404,3900\n", "list.csv:1:1: has no id column"},
		{"id missing", "id,stator,kv\n,1404,3900\n", "list.csv:2:1: id is missing"},
		{"id twice", "id,stator,kv\na,1404,3900\na,1404,4100\n", "list.csv:3:1: id: a is already used in line 2"},
		{"thousands or decimals", "id,stator,kv\na,1404,\"3,900\"\n",
			"list.csv:2:8: kv may be 3900 or 3.900; write it without a comma"},
		{"points among commas", "id;stator;kv;mass_g\na;1404;3.900;9,3\n",
			"list.csv:2:8: kv may be 3900 or 3.900: other numbers have decimal commas (9,3 in line 2)"},
		{"both signs", "id;stator;kv;mass_g\na;1404;3900;9,3\nb;1404;3900;9.5\n",
			"list.csv:3:13: 9,3 has a decimal comma (line 2) and 9.5 a decimal point (line 3)"},
		{"an office file", "PK\x03\x04\x14\x00",
			"list.csv:1:1: is a ZIP archive, as spreadsheets and word processors save them; save a list of parts as CSV in " +
				"UTF-8 and import that"},
		{"a program", "\x7fELF\x02\x01\x01" + strings.Repeat("\x00", 40), "list.csv:1:1: is not text; is it the right file?"},
		{"a zero that a spreadsheet dropped", "id,stator,kv\na,702,28000\n",
			"write 0702 if that is what you mean: spreadsheets drop the zero"},
		{"a heading of another word", "name,stator,kv\na,1404,3900\n", "list.csv:1:1: unknown column name; did you mean id?"},
		{"a unit in the cell", "id,stator,kv,mass_g\na,1404,3900,9.3 g\n",
			"list.csv:2:13: motor a: mass_g must be a plain number, got \"9.3 g\"; write 9.3, the unit is in the key"},
		{"out of bounds", "id,stator,kv\na,1404,3\n",
			"list.csv:2:8: motor a: kv must be from 50 to 60000 rpm per volt, got 3"},
		{"a key is missing", "id,stator\na,1404\n", "list.csv:2:1: motor a: kv is missing"},
		{"no heading", "id,stator,kv\na,1404,3900,9\n", "list.csv:2:13: 9 has no heading above it"},
		{"an open quote", "id,stator,kv\n\"a,1404,3900\n", "list.csv:"},
		{"Latin-1", "id,stator,kv,note\na,1404,3900,\xe9t\xe9\n", "list.csv:2:1: byte 0xe9 is not UTF-8 text"},
		{"UTF-16", "\xff\xfei\x00d\x00", "list.csv:1:1: is UTF-16 text"},
		{"an open bracket", "id,stator,kv,cells\na,1404,3900,\"[2, 4\"\n", "list.csv:2:13: cells is incomplete"},
		{"words for cells", "id,stator,kv,cells\na,1404,3900,many\n",
			"list.csv:2:13: cells must be the least and the most cells, got many; write [2, 4]"},
		{"words for a list", "id,stator,kv,hole_pattern_mm\na,1404,3900,wide\n",
			"list.csv:2:13: hole_pattern_mm must be numbers, got wide; write [9, 12]"},
	} {
		sheet, err := edit.ReadSheet("list.csv", inventory.KindMotor, strings.NewReader(c.text))
		if err == nil {
			_, _, err = edit.Merge("d.yaml", nil, sheet, false)
		}
		if err == nil || !strings.Contains(Error(err), c.says) {
			t.Errorf("%s:\ngot  %v\nwant %s", c.name, err, c.says)
		}
	}
}

func TestDescribeSaysWhatIsMissing(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "say what it is"},
		{"blue thing 4g", "say what it is"},
		{"motor 1404 390 9.3g", "kv is missing; write it with its unit, such as 3900kv"},
		{"motor 1404 390 9.3g", "not understood: 390; a number without a unit"},
		{"lipo 16.8V 1300mAh 100C", "not understood: 16.8V; write its cells, such as 4S"},
		{"motor 2207 36g total", "not understood: 36g total; write the mass of one"},
		{"frame 153mm motor to motor", "write spacing for neighbouring motors, wheelbase for opposite ones"},
		{"frame 16x16 20g", "not understood: 16x16; write it as motor holes or as stack"},
		{"prop 76x1.8x3", "not understood: 76x1.8x3; if these are mm write 76mm x 1.8 x 3"},
		{"motor 3900kv mas_g=9.3", "not understood: mas_g=9.3; for mas_g write mass_g="},
		{"motor 1404 1,300kv", "not understood: 1,300kv; write 1300kv or 1.300kv"},
		{"motor 3900kv", "stator is missing"},
		{"motor 1404 3900kv mass_g=9,3", "mass_g must be a plain number, got \"9,3\"; write 9.3, not 9,3"},
		{"motor 1404 3900kv 5000g", "mass_g must be from 0.3 to 1000 g, got 5000"},
		{"prop 53476 x8", "write 5.3x4.7x6 if that is what you mean"},
		{"prop 5x4.3 x8", "blades is missing"},
		{"prop 5x4.3x3 x8 3cw 4ccw", "cw 3 and ccw 4 make 7, but count is 8"},
		{"pack 1300mAh 100C", "cells is missing"},
		{"frame 20g", "max_prop_in and motor_spacing_mm are missing"},
		{"board 20A", "cells is missing; write the range, such as 2-4S"},
		{"extra 3g", "role is missing"},
		{"camera 14mm", "mass_g is missing"},
		{"motor " + strings.Repeat("9", 2000), "longer than 1000"},
	} {
		if _, err := edit.Describe(c.text, &inventory.Drawer{}); err == nil || !strings.Contains(Error(err), c.says) {
			t.Errorf("%.40s: %v, want %s", c.text, err, c.says)
		}
	}
}
