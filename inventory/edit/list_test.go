package edit

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Lists as pilots keep them (common practice, no source), and which part each line is: its number and id, or "no part".
func TestDescribeList(t *testing.T) {
	for _, c := range []struct{ name, list, want string }{
		{"one a line", "motor 2207 1750kv x4\n\n5.1x4.3x3 props x8\r\n4s 1300 100c xt60", "1 m2207-1750, 3 p5.1x4.3x3, 4 k4s-1300"},
		{"a title and bullets", "My box\n- motor 2207 1750kv\n* prop 5x4x3\n• 65mm whoop", "2 m2207-1750, 3 p5x4x3, 4 f65mm"},
		{"numbers before each", "1. motor 2207 1750kv\n2) prop 5x4x3\n3. 5 inch frame", "1 m2207-1750, 2 p5x4x3, 3 f5"},
		{"bare numbers that count the lines", "1 motor 2207 1750kv\n2 prop 5x4x3\n3 5 inch frame",
			"1 m2207-1750, 2 p5x4x3, 3 f5"},
		{"boxes to tick", "- [x] motor 2207 1750kv\n[ ] prop 5x4x3", "1 m2207-1750, 2 p5x4x3"},
		{"headings say the kind", "Frames:\n5 inch 120g\nPacks\n650mah 4s 75c with strap\nESCs and FCs:\n45A 3-6S", "2 f5, 4 k4s-650, 6 b45"},
		{"headings as in Markdown", "# Motors\n- 2207 1750kv\n## **Props**\n5x4x3\n---\nFrames\n=====\n3 inch", "2 m2207-1750, 4 p5x4x3, 8 f3"},
		{"a comment is no heading", "Frames:\n# the long one\n7 inch", "3 f7"},
		{"headings between rules and in brackets", "== Motors ==\n2207 1750kv\n--- props ---\n5x4x3\n[Batts]\n6s 1300 100c\n*** frames ***\n5\" 120g\n<boards>\n55A 3-6S\n| Extras |\ncamera 2g",
			"2 m2207-1750, 4 p5x4x3, 6 k6s-1300, 8 f5, 10 b55, 12 x-camera"},
		{"brackets that are no heading", "[x] motor 2207 1750kv\n(motor) 1404 4600kv", "1 m2207-1750, 2 m1404-4600"},
		{"a line under a heading names another kind", "Motors:\nprop 5x4x3\n5x4.5x3 props\n2207 1750kv", "2 p5x4x3, 3 p5x4.5x3, 4 m2207-1750"},
		{"all sorts of things", "Other stuff:\ncam 19mm 8g\n5 inch frame\nblue thing 4g", "2 x-camera, 3 f5, 4 no part"},
		{"a heading without a kind ends the one before", "Frames:\n3 inch\nFor the whoop:\n40mm 2 blade", "2 f3, 4 p40mm-2"},
		{"a role over extras", "Cameras:\n19mm 8g\n14mm 2g", "2 x-camera, 3 x-camera-2"},
		{"two roles over extras", "VTX and cameras:\ncam 19mm 8g\nvtx 5g", "2 x-camera, 3 x-video"},
		{"indented lines go on", "- motor 2207 1750kv\n  33 g, 16x16\n- 5 inch frame\n    120g", "1 m2207-1750, 3 f5"},
		{"the same part twice", "motor 2207 1750kv\nmotor 2207 1750kv", "1 m2207-1750, 2 m2207-1750-2"},
		{"what is no part", "motor 2207\n?\nmotor 2207 1750kv", "1 no part, 2 no part, 3 m2207-1750"},
		{"a title with a figure", "3 inch stuff, spring\n\nmotors\n1404 3800kv", "4 m1404-3800"},
		{"words apart that may be a heading end the one before", "Props\n5x4x3\n\nAKKUS\n4S 1550 100C 180 g\n\nblue thing\n2207 1750kv",
			"2 p5x4x3, 4 no part, 5 k4s-1550, 7 no part, 8 m2207-1750"},
		{"nothing", "\n# only this\n\n", ""},
	} {
		lines, err := DescribeList("list.txt", []byte(c.list), &inventory.Drawer{})
		var got []string
		for _, l := range lines {
			id := "no part"
			if l.Err == nil {
				id = l.Part.ID
			}
			got = append(got, fmt.Sprint(l.Number, " ", id))
		}
		if joined := strings.Join(got, ", "); err != nil || joined != c.want {
			t.Errorf("%s: got %s, want %s (%v)", c.name, joined, c.want, err)
		}
	}
}

func TestListThatIsNoText(t *testing.T) {
	for text, want := range map[string]strict.Code{"PK\x03\x04": "file.zip", "motor\n\xff\xe4": "list.byte",
		strings.Repeat("strap 1g\n", longestList+1): "list.long"} {
		_, err := DescribeList("list.txt", []byte(text), &inventory.Drawer{})
		var faults inventory.Faults
		if !errors.As(err, &faults) || faults[0].Code != want {
			t.Errorf("%.20q: %v, want %s", text, err, want)
		}
	}
}

// Property: many parts at once leave the drawer as one after the other does, byte for byte.
func TestAppendAllIsAppendOneByOne(t *testing.T) {
	list := "motor 2207 1750kv\n5x4x3\nmotor 1404 3800kv\n5 inch frame\n3 inch frame\nstrap 4g"
	for _, base := range []string{"", "# mine\n", "motors:\nprops:\n  # - example\n\nframes: []\n",
		"motors:\n  - {id: a, stator: 1404, kv: 3900} # old\nprops: [{id: p, size: 3x2x3}]\n"} {
		drawer := &inventory.Drawer{}
		lines, err := DescribeList("list.txt", []byte(list), drawer)
		if err != nil {
			t.Fatal(err)
		}
		var parts []*Described
		one := []byte(base)
		for _, l := range lines {
			if l.Err != nil {
				t.Fatal(l.Err)
			}
			parts = append(parts, l.Part)
		}
		for _, kind := range inventory.Kinds() { // in the order of lists, which are begun as they are met
			for _, p := range parts {
				if p.Kind == kind {
					if one, err = Append("d.yaml", one, p); err != nil {
						t.Fatalf("%q: %v", base, err)
					}
				}
			}
		}
		all, err := AppendAll("d.yaml", []byte(base), parts)
		if err != nil || string(all) != string(one) {
			t.Errorf("%q, %v: got\n%s\nwant\n%s", base, err, all, one)
		}
	}
}

// Property: whatever the bytes, a list or sheet ends in words or in lines; what was read goes into a drawer that reads, and
// every line keeps its number, in order.
func FuzzDescribeList(f *testing.F) {
	for _, text := range []string{"My parts\n\n# Motors\n- 4x 2207 1750kv\n  33g\nFrames:\n5 inch", "1 a\n2 b\n3 c", "Name,Qty,KV\n1404,4,4600\n",
		"Type;Name;Qty\nProp;5,1x4,3x3;8\nMotors\nKV;Size\n3900;1404\n", "[x] lipo 4s 1300 75c #\n\"\n**Props**\n5143 tri"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<12 {
			return
		}
		list, err := DescribeList("l.txt", text, &inventory.Drawer{})
		sheet, sheetErr := DescribeSheet("l.csv", "", text, &inventory.Drawer{})
		for _, e := range []error{err, sheetErr} {
			if e != nil && strings.TrimSpace(e.Error()) == "" {
				t.Errorf("no words: %q", text)
			}
		}
		for _, lines := range [][]Line{list, sheet} {
			last := 0
			var parts []*Described
			for _, l := range lines {
				if l.Number <= last {
					t.Errorf("line %d after %d: %q", l.Number, last, text)
				}
				last = l.Number
				if l.Err == nil {
					parts = append(parts, l.Part)
				}
			}
			got, err := AppendAll("d.yaml", nil, parts)
			if _, read := inventory.Read("d.yaml", strings.NewReader(string(got))); err == nil && len(parts) > 0 && read != nil {
				t.Errorf("%v: %q\n%s", read, text, got)
			}
		}
	})
}
