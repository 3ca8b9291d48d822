package cli

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestExportAndImport(t *testing.T) {
	folder := t.TempDir()
	drawer, sheet, out := filepath.Join(folder, "d.yaml"), filepath.Join(folder, "motors.csv"),
		filepath.Join(folder, "new.yaml")
	if got := run(t, "new", drawer, "--example"); got.code != 0 {
		t.Fatal(got.err)
	}
	if got := run(t, "export", "motors", "--drawer", drawer, "--output", sheet); got.code != 0 || got.out != "" {
		t.Fatalf("exit %d, %s", got.code, got.err)
	}
	text, _ := os.ReadFile(sheet)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) != 2 || rows[0][0] != "id" || rows[1][0] != "m1404-43" {
		t.Fatalf("%v, %v", rows, err)
	}
	if got := run(t, "import", "motors", sheet, "--drawer", drawer); got.code != 0 || got.out != string(starter) ||
		!strings.Contains(got.err, "1 as before") {
		t.Errorf("back without a change: exit %d, %s", got.code, got.err)
	}
	changed := "id;kv;mass_g\r\nm1404-43;3850;9,4\r\n"
	if err := os.WriteFile(sheet, []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer("kv: 4300\n    mass_g: 9.1", "kv: 3850\n    mass_g: 9.4").Replace(string(starter))
	if got := run(t, "import", "motor", sheet, "--drawer", drawer, "--output", out); got.code != 0 ||
		!strings.Contains(got.err, "changed m1404-43") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	if text, _ := os.ReadFile(out); string(text) != want {
		t.Errorf("written:\n%s", text)
	}
	if text, _ := os.ReadFile(drawer); !bytes.Equal(text, starter) {
		t.Error("the drawer that was read has changed")
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 3 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestImportWithoutADrawerMakesOne(t *testing.T) {
	sheet := writeTemp(t, "packs.csv", "id,size\nk1,4S 1300 100C\n")
	if got := run(t, "import", "packs", sheet); got.code != 0 ||
		got.out != "packs:\n  - id: k1\n    size: 4S 1300 100C\n" {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

func TestImportWritesNothingWhereItFails(t *testing.T) {
	drawer := writeTemp(t, "d.yaml", "motors:\n  - {id: a, stator: 1404, kv: 3900}\nfleet: [{name: one, parts: {motor: "+
		"a, prop: p, pack: k, frame: f, board: b}}]\n")
	for _, c := range []struct {
		sheet string
		args  []string
		code  int
		says  string
	}{
		{"id,kv\na,\"4,100\"\n", nil, 3, "motors.csv:2:3: kv may be 4100 or 4.100"},
		{"id,speed\na,3\n", nil, 3, "motors.csv:1:4: unknown column speed"},
		{"id,kv\na,4100\n", []string{"--drawer", drawer}, 3, "no prop is called p"},
		{"id,kv\n", []string{"--drawer", filepath.Join(t.TempDir(), "no.yaml")}, 3, "there is no such file"},
	} {
		out := filepath.Join(t.TempDir(), "out.yaml")
		got := run(t, append([]string{"import", "motors", writeTemp(t, "motors.csv", c.sheet), "--output", out},
			c.args...)...)
		if _, err := os.Stat(out); got.code != c.code || !strings.Contains(got.err, c.says) || err == nil {
			t.Errorf("%q: exit %d, %s", c.sheet, got.code, got.err)
		}
	}
	for _, args := range [][]string{{"import", "wings", "x.csv"}, {"export", "wings"}, {"export"}, {"import", "motors"}} {
		if got := run(t, args...); got.code != 2 {
			t.Errorf("%v: exit %d", args, got.code)
		}
	}
	if got := run(t, "import", "motors", "nowhere.csv"); got.code != 3 || !strings.Contains(got.err, "nowhere.csv") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}

// What a spreadsheet would run is kept from it by export, and import reads it as it was.
func TestSheetsRunNothing(t *testing.T) {
	dir := t.TempDir()
	drawer, sheet, back := filepath.Join(dir, "d.yaml"), filepath.Join(dir, "s.csv"), filepath.Join(dir, "back.yaml")
	var text strings.Builder
	text.WriteString("frames:\n")
	notes := []string{"=1+1", "+cmd|x", "-2+3", "@SUM(A1)", "'=1", "''-x", "-12.5", "'twas",
		"=HYPERLINK(\"http://a.b\", \"c\")"}
	for i, note := range notes {
		fmt.Fprintf(&text, "  - {id: f%d, mass_g: 10, max_prop_in: 3, note: %q}\n", i, note)
	}
	if err := os.WriteFile(drawer, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "export", "frames", "--drawer", drawer, "--output", sheet); got.code != 0 {
		t.Fatal(got.err)
	}
	csvText, err := os.ReadFile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(csvText), ",'=1+1\n") || strings.Contains(string(csvText), ",=") ||
		strings.Contains(string(csvText), ",@") || !strings.Contains(string(csvText), ",-12.5\n") {
		t.Errorf("the sheet holds\n%s", csvText)
	}
	if got := run(t, "import", "frames", sheet, "--output", back); got.code != 0 {
		t.Fatal(got.err)
	}
	d := loadDrawer(t, back)
	for i, note := range notes {
		if got := d.Frames[i].Note; got != note {
			t.Errorf("%q came back as %q", note, got)
		}
	}
}

// A sheet with headings of the pilot's own becomes a drawer, or is added to one; what is no part is told and kept.
func TestImportOfAPilotsOwnSheet(t *testing.T) {
	folder := t.TempDir()
	sheet, drawer := filepath.Join(folder, "box.csv"), filepath.Join(folder, "d.yaml")
	text := "Type,Name,Qty,Weight (g)\nMotor,1404 4600kv,4,9\nCharger,300W,1,\n"
	if err := os.WriteFile(sheet, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	got := run(t, "import", sheet, "--output", drawer)
	made, _ := os.ReadFile(drawer)
	if got.code != 0 || !strings.Contains(got.err, "Read 1 motor from box.csv") || !strings.Contains(got.err, "line 3: Charger") ||
		!strings.Contains(string(made), "# line 3: Charger") || !strings.Contains(string(made), "stator: \"1404\"") {
		t.Errorf("exit %d\n%s\n%s", got.code, got.err, made)
	}
	got = run(t, "import", "motors", sheet, "--drawer", drawer, "--quiet")
	if got.code != 0 || got.err != "" || !strings.Contains(got.out, "id: m1404-4600-2") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
	for _, c := range []struct{ args, says string }{{"motors", "name the file too"}, {"charger " + sheet, "is not a list of parts"},
		{sheet + " --only", "--only needs a sheet"}} {
		if got := run(t, append([]string{"import"}, strings.Fields(c.args)...)...); got.code != 2 || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: exit %d, %s", c.args, got.code, got.err)
		}
	}
}
