package edit

import (
	"errors"
	"strings"
	"testing"

	"partsaloft/inventory"
)

// readRows are the rows of a sheet with a pilot's own headings as they were read: the kind and keys of each.
func readRows(t *testing.T, kind inventory.Kind, text string) string {
	t.Helper()
	lines, err := DescribeSheet("list.csv", kind, []byte(text), &inventory.Drawer{})
	if err != nil {
		t.Errorf("%s: %v", text, err)
		return ""
	}
	var rows []string
	for _, l := range lines {
		if l.Err != nil {
			rows = append(rows, "no part")
			continue
		}
		row := string(l.Part.Kind)
		for _, s := range l.Part.Understood {
			if s.Key != "id" {
				row += " " + s.Key + "=" + s.Value
			}
		}
		rows = append(rows, row)
	}
	return strings.Join(rows, "\n")
}

// Sheets as pilots keep them (common practice, no source): headings of their own, units in headings, several kinds of
// parts in one sheet.
func TestSheetsWithHeadingsOfTheirOwn(t *testing.T) {
	for _, c := range []struct {
		name string
		kind inventory.Kind
		text string
		want string
	}{
		{"motors", inventory.KindMotor, "Name,Qty,KV,Weight (g),S,Shaft,Mounting,Price,Link\n" +
			"Blue 2207,4,1750,33.5,4-6,5mm,16x16,22.90,https://shop.example/m\nRed 1404,5,3800,9.2,2-4,1.5,9x9,,\n",
			`motor count=4 stator="2207" kv=1750 mass_g=33.5 shaft_mm=5 hole_pattern_mm=16 cells=[4, 6] note="Price: 22.90; Link: https://shop.example/m; Blue"
motor count=5 stator="1404" kv=3800 mass_g=9.2 shaft_mm=1.5 hole_pattern_mm=9 cells=[2, 4] note=Red`},
		{"the heading says that they are motors", "", "Motor;KV;Pcs;Mass [g]\n2207;1750;4;33,5\n",
			`motor count=4 stator="2207" kv=1750 mass_g=33.5`},
		{"packs with a mark, semicolons, decimal commas", inventory.KindPack,
			"\ufeffName;Qty;Capacity (mAh);C;Volts;Weight [g];Plug;Notes\r\nblack;3;1500;100;14,8V;180,5;XT60;\r\n;2;1300 mAh;120C;22.2;195;XT60;used\r\n",
			"pack count=3 size=4S 1500 100C mass_g=180.5 connector=XT60 note=black\n" +
				"pack count=2 size=6S 1300 120C mass_g=195 connector=XT60 note=used"},
		{"ounces, and a type of battery", inventory.KindPack, "Battery,Cells,mAh,C rating,Weight (oz),Chemistry\ntin,4,650,75,2.5,LiHV\n",
			"pack size=4S 650 75C chemistry=lihv mass_g=70.87 note=tin"},
		{"a title, tabs and a column of types", "", "My whole box\t\t\t\nType\tName\tQty\tWeight\nMotor\t2207 1950kv\t4\t33g\n" +
			"Prop\t5.1x4.3x3\t12\t4.2\nESC\t45A 4in1 3-6S\t1\t13\nCamera\t19mm\t1\t8\nCharger\t300W\t1\t\n",
			"motor count=4 stator=\"2207\" kv=1950 mass_g=33\nprop count=12 size=5.1x4.3x3 mass_g=4.2\n" +
				"board count=1 esc_current_a=45 cells=[3, 6] mass_g=13\nextra count=1 role=camera mass_g=8 width_mm=19\nno part"},
		{"sections with headings of their own", "", "Motors,,,\nName,KV,Qty,S\n2207,1750,4,6\n,,,\nProps,,,\nSize,Blades,Qty,Mount\n5.1x4.3,3,20,nut\n" +
			"Frames\nSize,Wheelbase,Stack,Motor mount\n5,220,30x30,16x16\nFC / ESC\nAmps,S,Mounting,Weight\n45,3-6,30x30,13\n",
			"motor count=4 stator=\"2207\" kv=1750 cells=6S\nprop count=20 blades=3 size=5.1x4.3 mount=nut\n" +
				"frame max_prop_in=5 motor_spacing_mm=155.6 hole_pattern_mm=16 stack_mm=30\nboard esc_current_a=45 cells=[3, 6] stack_mm=30 mass_g=13"},
		{"one column of words", "", "Item,Quantity,Comments\n\"Motor 2207 1750kv 33g\",4,old\n\"5\"\" frame 120g\",1,\nSoldering iron,1,\n",
			"motor count=4 stator=\"2207\" kv=1750 mass_g=33 note=old\nframe count=1 mass_g=120 max_prop_in=5\nno part"},
		{"quotes that stand inside", "", "Item,Qty\n5\" frame 120g,2\n", "frame count=2 mass_g=120 max_prop_in=5"},
	} {
		if got := readRows(t, c.kind, c.text); got != c.want {
			t.Errorf("%s:\ngot\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
	_, err := DescribeSheet("list.csv", "", []byte("2207,1750\n1404,3800\n"), &inventory.Drawer{})
	var faults inventory.Faults
	if !errors.As(err, &faults) || faults[0].Code != "sheet.no_headings" {
		t.Errorf("no headings: %v", err)
	}
}

func TestKeySheets(t *testing.T) {
	for text, want := range map[string]bool{
		"id,stator,kv\na,1404,3900\n": true, "id,stator,kv,mas_g\n": true, "kv;id;mass_g\n": true,
		"Name,KV,Qty\n": false, "ID,Stator,KV\n": false, "stator,kv\n": false,
	} {
		if got := IsKeySheet([]byte(text), inventory.KindMotor); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
