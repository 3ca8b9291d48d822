package edit

import (
	"strings"
	"testing"

	"partsaloft/inventory"
)

// Trade phrases as pilots write them (common practice, no source), and what the drawer then says.
func TestDescribe(t *testing.T) {
	for _, c := range []struct{ text, want, unclear string }{
		{"motor 1404 3900kv 9.3g x4", `id: m1404-3900|count: 4|stator: "1404"|kv: 3900|mass_g: 9.3`, ""},
		{"4x motors Quill 2207.5, 1780 kV, 31,5 g, shaft 5mm, nut, 16x16 M3, 4-6S, 12N14P, 0.8A@10V, max 40A, 62 mohm",
			`id: m2207.5-1780|count: 4|stator: "2207.5"|kv: 1780|mass_g: 31.5|shaft_mm: 5|prop_mount: nut|hole_pattern_mm: 16|cells: [4, 6]|poles: 14|resistance_mohm: 62|no_load_a: 0.8|no_load_v: 10|max_current_a: 40|note: Quill`, "Quill"},
		{"motor 1204 7k press fit 5.3 g", `id: m1204-7000|stator: "1204"|kv: 7000|mass_g: 5.3|prop_mount: press`, ""},
		{"motor 1404-3900 2 pcs", `id: m1404-3900|count: 2|stator: "1404"|kv: 3900`, ""},
		{"MOTOR 2004 2900KV 0.1ohm id=tail", `id: tail|stator: "2004"|kv: 2900|resistance_mohm: 100`, ""},
		{`motor 1404 3900kv cells=[2, 4] count=4 note="from the tin; 4 of 5"`,
			`id: m1404-3900|count: 4|stator: "1404"|kv: 3900|cells: [2, 4]|note: from the tin; 4 of 5`, ""},
		{"motor 1404 3900kv 9.3g 10g", `id: m1404-3900|stator: "1404"|kv: 3900|mass_g: 9.3|note: 10g`, "10g"},
		{"prop 5.1x4.3x3 x8 3.9g bore 5mm nut root-heavy 4cw 4ccw series ebb",
			`id: p5.1x4.3x3|count: 8|size: 5.1x4.3x3|mass_g: 3.9|bore_mm: 5|mount: nut|blade: root|directions: {cw: 4, ccw: 4}|series: ebb`, ""},
		{"props 65mm x 1.2 x 3 4x", `id: p65mm-x-1.2-x-3|count: 4|size: 65mm x 1.2 x 3`, ""},
		{"prop 6x4x2 x8 conventional", `id: p6x4x2|count: 8|size: 6x4x2|made_for: conventional`, ""},
		{"prop 2.5x1.9 x8 3 blades stiff", `id: p2.5x1.9|count: 8|blades: 3|size: 2.5x1.9|flex: stiff`, ""},
		{"pack 4S 1300 100C XT60 155g 74x35x33mm",
			`id: k4s-1300|size: 4S 1300 100C|mass_g: 155|connector: XT60|size_mm: [74, 35, 33]`, ""},
		{"lipo 4s1300mah 75/150C xt 60 155g x3 40 cycles 9mohm per cell",
			`id: k4s-1300|count: 3|size: 4S 1300 75C|burst_c: 150|chemistry: lipo|mass_g: 155|connector: XT60|cell_resistance_mohm: 9|cycles: 40`, ""},
		{"li-ion 4S 3Ah 10C", `id: k4s-3000|size: 4S 3000 10C|chemistry: liion`, ""},
		{"battery 2S 560 70C JST PH 2.0 LiHV 28 g",
			`id: k2s-560|size: 2S 560 70C|chemistry: lihv|mass_g: 28|connector: PH 2.0`, ""},
		{"frame 3 inch 20g 9x9 25.5x25.5 camera 14mm 3mm arms",
			`id: f3|mass_g: 20|max_prop_in: 3|hole_pattern_mm: 9|stack_mm: 25.5|camera_width_mm: 14|arm_thickness_mm: 3`, ""},
		{"frame 120mm spacing 33g 16x16 open sides pack up to 80x35x33",
			`id: f120mm|mass_g: 33|motor_spacing_mm: 120|pack_max_mm: [80, 35, 33]|open_sides: true|note: 16x16`, "16x16"},
		{`frame 5" 110g stack 30.5x30.5 holes 16 ducted 6 rotors`,
			`id: f5|mass_g: 110|rotors: 6|max_prop_in: 5|hole_pattern_mm: 16|stack_mm: 30.5|ducted: true`, ""},
		{"frame 65mm ducted 3.4g", `id: f65mm|mass_g: 3.4|motor_spacing_mm: 46|ducted: true`, ""},
		{"frame 220mm wheelbase 20x20 stack", `id: f220mm|motor_spacing_mm: 155.6|stack_mm: 20`, ""},
		{"li-ion pack 6S 4Ah 35A 430g", `id: k6s-4000|cells: 6|capacity_mah: 4000|discharge_a: 35|chemistry: liion|mass_g: 430`, ""},
		{"prop 31mm 4-blade 1mm bore press 8x 0.24g", `id: p31mm-4|count: 8|blades: 4|size: 31mm|mass_g: 0.24|bore_mm: 1|mount: press`, ""},
		{"motor 2207 1750kv 6S x4", `id: m2207-1750|count: 4|stator: "2207"|kv: 1750|cells: 6S`, ""},
		{"frame 5 inch 90g streamlined body", `id: f5|mass_g: 90|max_prop_in: 5|body: streamlined`, ""},
		{"board 20/25A 2-4S 25.5x25.5 8g XT30 called my-fc",
			`id: my-fc|esc_current_a: 20|esc_burst_a: 25|cells: [2, 4]|stack_mm: 25.5|mass_g: 8|connector: XT30`, ""},
		{"board 20A 2-4S 48kHz called fc2", `id: fc2|esc_current_a: 20|cells: [2, 4]|pwm_khz: 48`, ""},
		{"camera 14mm 2.1g 0.5W with f1", `id: x-camera|role: camera|mass_g: 2.1|power_w: 0.5|width_mm: 14|with: [f1]`, ""},
		{"vtx 400mW 3g 2W 2-6S always", `id: x-video|role: video|mass_g: 3|power_w: 2|cells: [2, 6]|use: always|note: 400mW`,
			"400mW"},
		{"adapter XT30 to PH2.0 4g",
			`id: x-adapter|role: adapter|mass_g: 4|bridges: {what: connector, from: XT30, to: PH 2.0}`, ""},
		{"adapter 25.5x25.5 to 20x20 2g optional",
			`id: x-adapter|role: adapter|mass_g: 2|bridges: {what: stack_mm, from: 25.5, to: 20}|use: optional`, ""},
		{"2 x lihv pack 4S1P 650mAh 75C (72 grams each)", `id: k4s-650|count: 2|size: 4S 650 75C|chemistry: lihv|mass_g: 72`,
			""},
		{"motor 1404 KV3900 (x 4)", `id: m1404-3900|count: 4|stator: "1404"|kv: 3900`, ""},
		{"strap 1.1g x2", `id: x-strap|count: 2|role: strap|mass_g: 1.1`, ""},
	} {
		d, err := Describe(c.text, &inventory.Drawer{Frames: []inventory.Frame{{Part: inventory.Part{ID: "f1"}}}})
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		var lines []string
		for _, s := range d.Understood {
			lines = append(lines, s.Key+": "+s.Value)
		}
		if got := strings.Join(lines, "|"); got != c.want || strings.Join(d.Unclear, "|") != c.unclear {
			t.Errorf("%s:\ngot  %s (%v)\nwant %s (%s)", c.text, got, d.Unclear, c.want, c.unclear)
		}
	}
}

func TestDescribeGivesAnIDOfItsOwn(t *testing.T) {
	d := &inventory.Drawer{Motors: []inventory.Motor{{Part: inventory.Part{ID: "m1404-3900"}},
		{Part: inventory.Part{ID: "m1404-3900-2"}}}}
	got, err := Describe("motor 1404 3900kv", d)
	if err != nil || got.ID != "m1404-3900-3" {
		t.Errorf("%+v, %v", got, err)
	}
}
