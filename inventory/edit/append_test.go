package edit

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/inventory"
)

var oneOfEach = []string{
	"motor 1404 3900kv 9.3g x4 called new-one", "prop 5.1x4.3x3 x8 called new-one", "pack 4S 1300 100C called new-one",
	"frame 3in 20g called new-one", "board 20A 2-4S called new-one", "strap 2g called new-one",
}

// Property: adding to a drawer leaves every line of it where it was, and adds lines of the one part.
func TestAppendKeepsEveryLine(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples (%v)", len(files), err)
	}
	for _, file := range append(files, "../testdata/forms.yaml") {
		text, err := os.ReadFile(file)
		if err != nil || strings.HasSuffix(file, "shop.yaml") {
			continue
		}
		for _, ends := range []string{"\n", "\r\n"} {
			text := strings.ReplaceAll(string(text), "\n", ends)
			drawer := mustRead(t, text)
			for _, words := range oneOfEach {
				d, err := Describe(words, drawer)
				if err != nil {
					t.Fatal(err)
				}
				got, err := Append(file, []byte(text), d)
				if err != nil {
					t.Errorf("%s, %s: %v", file, words, err)
					continue
				}
				lines, added := strings.SplitAfter(string(got), ends), 0
				for _, line := range strings.SplitAfter(text, ends) {
					for lines[0] != line {
						lines, added = lines[1:], added+1
					}
					lines = lines[1:]
				}
				if added != len(d.Lines()) {
					t.Errorf("%s, %s: %d lines more, want %d", file, words, added, len(d.Lines()))
				}
			}
		}
	}
}

func TestAppendFindsItsPlace(t *testing.T) {
	entry := "motor 2004 2900kv called z"
	for _, c := range []struct{ name, text, want string }{
		{"no list yet", "air: {altitude_m: 3}\n",
			"air: {altitude_m: 3}\n\nmotors:\n  - id: z\n    stator: \"2004\"\n    kv: 2900\n"},
		{"no line end", "motors:\n  - {id: a, stator: 1404, kv: 3900}",
			"motors:\n  - {id: a, stator: 1404, kv: 3900}\n  - id: z\n    stator: \"2004\"\n    kv: 2900\n"},
		{"dashes in the key's column",
			"motors:\n- id: a\n  stator: 1404\n  kv: 3900\n\n# Frames\nframes:\n- {id: f, mass_g: 20, max_prop_in: 3}\n",
			"motors:\n- id: a\n  stator: 1404\n  kv: 3900\n- id: z\n  stator: \"2004\"\n  kv: 2900\n\n# Frames\nframes:\n- " +
				"{id: f, mass_g: 20, max_prop_in: 3}\n"},
		{"wide dashes", "motors:\n    -   id: a\n        stator: 1404\n        kv: 3900\n        # weigh it\n  # " +
			"next\nair: {}\n",
			"motors:\n    -   id: a\n        stator: 1404\n        kv: 3900\n        # weigh it\n    -   id: z\n        " +
				"stator: \"2004\"\n        kv: 2900\n  # next\nair: {}\n"},
		{"an empty list", "motors: [] # none yet\nair: {}\n",
			"motors: # none yet\n  - id: z\n    stator: \"2004\"\n    kv: 2900\nair: {}\n"},
		{"a list in brackets", "motors: [{id: \"a\", stator: 1404, kv: 3900, note: \"a ] in it\"}, # one ]\n  ]\n",
			"motors: [{id: \"a\", stator: 1404, kv: 3900, note: \"a ] in it\"}, # one ]\n    {id: z, stator: \"2004\", kv: " +
				"2900}\n  ]\n"},
		{"a list in brackets with a comment behind its last part",
			"motors: [\n  {id: a, stator: 1404, kv: 3900}, # one\n  {id: b, stator: 1404, kv: 3900} # two\n]\n",
			"motors: [\n  {id: a, stator: 1404, kv: 3900}, # one\n  {id: b, stator: 1404, kv: 3900}, # two\n  {id: z, stator: " +
				"\"2004\", kv: 2900}\n]\n"},
		{"an empty file", "", "motors:\n  - id: z\n    stator: \"2004\"\n    kv: 2900\n"},
		{"comments alone", "# mine\n\n# yours",
			"# mine\n\n# yours\n\nmotors:\n  - id: z\n    stator: \"2004\"\n    kv: 2900\n"},
		{"the end of a document", "motors:\n  - {id: a, stator: 1404, kv: 3900}\n...\n",
			"motors:\n  - {id: a, stator: 1404, kv: 3900}\n  - id: z\n    stator: \"2004\"\n    kv: 2900\n...\n"},
	} {
		drawer := &inventory.Drawer{}
		if !Blank([]byte(c.text)) {
			drawer = mustRead(t, c.text)
		}
		d, err := Describe(entry, drawer)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Append("d.yaml", []byte(c.text), d)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\ngot\n%s\nwant\n%s", c.name, err, got, c.want)
		}
	}
}

func TestAppendRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, entry, says string }{
		{"a faulty drawer", "motors:\n  - {id: a, stator: 1404, kv: 3,9k}\n", "motor 2004 2900kv", "d.yaml:2:"},
		{"an id that is taken", "motors:\n  - {id: a, stator: 1404, kv: 3900}\n", "motor 2004 2900kv id=a", "add.id_taken"},
		{"braces around all", "{motors: [{id: a, stator: 1404, kv: 3900}]}\n", "motor 2004 2900kv", "edit.braces"},
		{"a host that is not there", "air: {altitude_m: 1}\n", "camera 2g with=[f9]", "host.unknown id=f9"},
	} {
		d, err := Describe(c.entry, &inventory.Drawer{})
		if err != nil {
			t.Fatal(err)
		}
		if got, err := Append("d.yaml", []byte(c.text), d); err == nil || !strings.Contains(err.Error(), c.says) ||
			got != nil {
			t.Errorf("%s: %v, want %s", c.name, err, c.says)
		}
	}
}

// Property: whatever is described, it ends in words or in a part; appended, that leaves the drawer as
// it was but for the new part.
func FuzzDescribe(f *testing.F) {
	for _, s := range append(oneOfEach, "4x motors Q 2207.5, 1780 kV, 31,5 g, 12N14P, 0.8A@10V",
		"lipo 4s1300 75/150C xt 60 note: a \"b\" #c", "frame x=[1, {2", "camera with f1 + b1", "motor 1404 3900kv \u00a0 "+
			"\x00 note ]") {
		f.Add(s)
	}
	bases := []string{
		"# mine\nmotors:\n  - {id: a, stator: 1404, kv: 3900} # old\nframes: [{id: f1, mass_g: 20, max_prop_in: " +
			"3}]\nboards: []\n# end\n",
		"motors: [{id: a, stator: 1404, kv: 3900}\r\n # old ]\r\n]\r\nframes:\r\n- id: f1\r\n  mass_g: 20\r\n  " +
			"max_prop_in: 3 # last",
		"\ufeff---\nprops: [\n  {id: p, size: 3x2x3, note: \"]#\"}, # one\n  ]\nextras:\n\n  -   id: x\n      role: strap " +
			"# c\n      mass_g: 2\n\n...\n",
	}
	f.Fuzz(func(t *testing.T, words string) {
		base := []byte(bases[len(words)%len(bases)])
		drawer := mustRead(t, string(base))
		d, err := Describe(words, drawer)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Errorf("%q: no words", words)
			}
			return
		}
		got, err := Append("d.yaml", base, d)
		if err != nil {
			return
		}
		after, err := inventory.Read("d.yaml", bytes.NewReader(got))
		if err != nil || !sameButLast(drawer, after, []*Described{d}) {
			t.Errorf("%q: %v\n%s", words, err, got)
		}
	})
}
