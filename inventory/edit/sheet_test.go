package edit

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/inventory"
)

func asCSV(t *testing.T, rows [][]string, separator rune) string {
	t.Helper()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = separator
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Property: a list that goes out to CSV and comes back, into an empty drawer or into its own, is the
// same list; its own file then stays as it was, byte for byte.
func TestCSVRoundTrip(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples (%v)", len(files), err)
	}
	for _, file := range append(files, "../testdata/forms.yaml") {
		text, err := os.ReadFile(file)
		if err != nil || strings.HasSuffix(file, "shop.yaml") {
			continue
		}
		drawer := mustRead(t, string(text))
		for _, kind := range inventory.Kinds() {
			rows, err := Rows(text, kind)
			if err != nil {
				t.Fatal(err)
			}
			for _, separator := range ",;\t" {
				sheet, err := ReadSheet("list.csv", kind, strings.NewReader(asCSV(t, rows, separator)))
				if err != nil {
					t.Errorf("%s, %s with %q: %v", file, kind, separator, err)
					continue
				}
				got, done, err := Merge("d.yaml", text, sheet, true)
				if err != nil || len(done.Changed)+len(done.Added)+len(done.Gone) > 0 {
					t.Errorf("%s, %s with %q: %+v, %v", file, kind, separator, done, err)
				} else if !bytes.Equal(got, text) && !(filepath.Base(file) == "forms.yaml" || len(drawer.IDs(kind)) == 0) {
					t.Errorf("%s, %s with %q: the text changed", file, kind, separator)
				}
				if kind == inventory.KindExtra {
					continue // refer to frames and boards
				}
				fresh, _, err := Merge("d.yaml", nil, sheet, false)
				if err != nil {
					t.Errorf("%s, %s with %q, alone: %v", file, kind, separator, err)
					continue
				}
				alone := mustRead(t, string(fresh))
				var want inventory.Drawer
				want.Take(kind, drawer, 0, len(drawer.Items(kind)))
				if !Same(&want, alone) {
					t.Errorf("%s, %s with %q, alone: the list changed:\n%s", file, kind, separator, fresh)
				}
			}
		}
	}
}

func TestSheetsAsSpreadsheetsWriteThem(t *testing.T) {
	for _, c := range []struct {
		name, text string
		kind       inventory.Kind
		want       string
	}{
		{"semicolons and decimal commas",
			"id;stator;kv;mass_g;cells\r\na;1404;3900;9,3;2-4S\r\nb;2207,5;1750;31,25;[4, 6]\r\n", inventory.KindMotor,
			`{id: a, stator: "1404", kv: 3900, mass_g: 9.3, cells: [2, 4]}|{id: b, stator: "2207.5", kv: 1750, mass_g: 31.25, cells: [4, 6]}`},
		{"commas and decimal points", "id,stator,kv,mass_g\na,1404,3900,9.3\n", inventory.KindMotor,
			`{id: a, stator: "1404", kv: 3900, mass_g: 9.3}`},
		{"quoted decimal commas between commas", "id,stator,kv,mass_g\na,1404,3900,\"9,3\"\n", inventory.KindMotor,
			`{id: a, stator: "1404", kv: 3900, mass_g: 9.3}`},
		{"thousands beside decimals", "id;stator;kv;mass_g\na;1404;3.900,0;9,3\n", inventory.KindMotor,
			`{id: a, stator: "1404", kv: 3900.0, mass_g: 9.3}`},
		{"thousands with points", "id,stator,kv,mass_g\na,1404,\"3,900.0\",9.3\n", inventory.KindMotor,
			`{id: a, stator: "1404", kv: 3900.0, mass_g: 9.3}`},
		{"three decimals where commas are decimal", "id;size;mass_g\na;5,1x4,3x3;3,875\nb;2.5x1.9x3;1,2\n",
			inventory.KindProp, `{id: a, size: 5.1x4.3x3, mass_g: 3.875}|{id: b, size: 2.5x1.9x3, mass_g: 1.2}`},
		{"a mark, sep= and tabs", "\ufeffsep=\t\nid\tsize\tconnector\nk\t4S 1300 100C\tXT60\n", inventory.KindPack,
			`{id: k, size: 4S 1300 100C, connector: XT60}`},
		{"other order, empty cells and rows",
			"note,id,,mass_g,max_prop_in,stack_mm,ducted\n,f1,,20,3,\"20, 25.5\",TRUE\n,,,,,,\n\"a " +
				"\"\"b\"\"\",f2,,30,5,30.5x30.5,\n", inventory.KindFrame,
			`{id: f1, mass_g: 20, max_prop_in: 3, stack_mm: [20, 25.5], ducted: true}|{id: f2, mass_g: 30, max_prop_in: 5, stack_mm: 30.5x30.5, note: "a \"b\""}`},
		{"lists and braces", "id,role,mass_g,bridges,directions\n", inventory.KindExtra, ""},
	} {
		sheet, err := ReadSheet("list.csv", c.kind, strings.NewReader(c.text))
		if c.want == "" {
			if err == nil || !strings.Contains(err.Error(), "sheet.heading got=directions") {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		m := &merger{sheet: sheet}
		m.plan()
		var parts []string
		for i := range m.entries {
			var keys []string
			for _, key := range m.entries[i].keys {
				keys = append(keys, key+": "+m.entries[i].values[key])
			}
			parts = append(parts, "{"+strings.Join(keys, ", ")+"}")
		}
		if got := strings.Join(parts, "|"); got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, got, c.want)
		}
		if _, err := checkEntries("list.csv", c.kind, m.entries); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestMergeKeepsWhatTheSheetDoesNotName(t *testing.T) {
	const text = `# mine
motors:
  # the old set
  - id: a # red
    stator: "1404"
    # read twice
    kv: 3900 # label
    mass_g: 9.3
    bench: [{prop: p, volts: 10, throttle_pct: 100, rpm: 20000}]
  - {id: b, stator: "2004", kv: 2900}

  # spare
  - id: c
    stator: "1204"
    kv: 6700
# end
`
	sheet, err := ReadSheet("list.csv", inventory.KindMotor,
		strings.NewReader("id,kv,mass_g,stator\na,3850,,1404\nc,6700,,1204\nd,1780,31,2207\n"))
	if err != nil {
		t.Fatal(err)
	}
	got, done, err := Merge("d.yaml", []byte(text), sheet, false)
	if err != nil {
		t.Fatal(err)
	}
	want := `# mine
motors:
  # the old set
  - id: a # red
    stator: "1404"
    # read twice
    kv: 3850 # label
    bench: [{prop: p, volts: 10, throttle_pct: 100, rpm: 20000}]
  - {id: b, stator: "2004", kv: 2900}

  # spare
  - id: c
    stator: "1204"
    kv: 6700
  - id: d
    stator: "2207"
    kv: 1780
    mass_g: 31
# end
`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if strings.Join(done.Kept, "") != "bc" || strings.Join(done.Changed, "") != "a" ||
		strings.Join(done.Added, "") != "d" || done.Gone != nil {
		t.Errorf("%+v", done)
	}
	got, done, err = Merge("d.yaml", []byte(text), sheet, true)
	if err != nil || strings.Contains(string(got), "2004") || strings.Join(done.Gone, "") != "b" {
		t.Errorf("only: %v, %+v\n%s", err, done, got)
	}
}

// Property: whatever the bytes, a sheet ends in faults with places or in parts that a drawer reads.
func FuzzSheet(f *testing.F) {
	for _, s := range []string{"id,stator,kv,mass_g\na,1404,3900,9.3\n", "id;stator;kv;mass_g\na;1404;3.900,0;9,3\n",
		"\ufeffsep=;\nid;kv\n\"a\";\n", "id,stator,kv,bench\na,1404,3900,\"[{prop: p, volts: 10, throttle_pct: 100, rpm: " +
			"20000}]\"\n", "id,stator,kv,cells,note\na,1404,3900,2-4S,\"x\ny\"\n"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	base := []byte("# mine\nmotors:\n  - {id: a, stator: 1404, kv: 3900} # old\n\n  # two\n  - id: b\n    stator: " +
		"2004\n    kv: 2900 # so\nair: {}\n")
	f.Fuzz(func(t *testing.T, text string, only bool) {
		sheet, err := ReadSheet("list.csv", inventory.KindMotor, strings.NewReader(text))
		if err == nil {
			_, _, err = Merge("d.yaml", base, sheet, only)
		}
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" || strings.Contains(err.Error(), "merge.form") {
				t.Errorf("%q: %v", text, err)
			}
			return
		}
		got, _, err := Merge("d.yaml", base, sheet, only)
		if err != nil {
			t.Fatal(err)
		}
		if again, done, err := Merge("d.yaml", got, sheet, only); err != nil || !bytes.Equal(again, got) ||
			len(done.Changed)+len(done.Added)+len(done.Gone) > 0 {
			t.Errorf("%q twice: %v, %+v\n%s\n%s", text, err, done, got, again)
		}
	})
}
