package edit

import (
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

const craftDrawer = `# mine
motors:
  - id: m # good ones
    stator: "1404"
    kv: 3900
    count: 10 # two spare
  - {id: n, stator: "1404", kv: 3800, count: 4}
props: [{id: p, size: 3x2x3, count: 8, directions: {cw: 4, ccw: 4}, note: "a, b"}]
packs:
  - {id: k, cells: 4, capacity_mah: 650, discharge_c: 75, mass_g: 75, connector: XT30, count: 2}
frames:
  - {id: f, mass_g: 30, max_prop_in: 3}
boards:
  - {id: b, cells: [1, 4], esc_current_a: 20, mass_g: 8}
`

func builtOf(t *testing.T, text, name, motor string) (string, []Taken) {
	t.Helper()
	d, err := inventory.Read("d.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c, err := compat.Build(d, &inventory.Parts{Motor: motor, Prop: "p", Pack: "k", Frame: "f", Board: "b"})
	if err != nil {
		t.Fatal(err)
	}
	got, taken, err := AppendCraft("d.yaml", []byte(text), name, &c)
	if err != nil {
		t.Fatal(err)
	}
	return string(got), taken
}

// Property: a craft takes its pieces out of the counts of either form and stands behind the fleet; all else stays.
func TestCraftTakesItsPieces(t *testing.T) {
	got, taken := builtOf(t, craftDrawer, "no: 1", "m")
	want := strings.NewReplacer("count: 10", "count: 6", "count: 8", "count: 4", "cw: 4, ccw: 4", "cw: 2, ccw: 2",
		"count: 2", "count: 1").Replace(craftDrawer) +
		"\nfleet:\n  - name: \"no: 1\"\n    parts: {motor: m, prop: p, pack: k, frame: f, board: b, extras: []}\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(taken) != 3 || taken[0] != (Taken{inventory.KindMotor, "m", 4, 6}) {
		t.Errorf("taken %v", taken)
	}
	again, _ := builtOf(t, got, "two", "m~n")
	for _, line := range []string{"count: 4 # two spare", "kv: 3800, count: 2}", "count: 0, directions: {cw: 0, ccw: 0}",
		"XT30, count: 0}"} {
		if !strings.Contains(again, line) {
			t.Errorf("%q is not in\n%s", line, again)
		}
	}
}

// Property: counts that fall short, or that cannot be lowered where they stand, stay as they are, and the craft says so.
func TestCraftLeavesCountsThatCannotBeLowered(t *testing.T) {
	for _, text := range []string{
		strings.Replace(craftDrawer, "count: 10", "count: 3", 1),
		strings.Replace(craftDrawer, "cw: 4, ccw: 4", "cw: 7, ccw: 1", 1),
	} {
		got, taken := builtOf(t, text, "no: 1", "m")
		if !strings.HasPrefix(got, text) || !strings.HasSuffix(got, "extras: []}\n    keeps: false\n") || len(taken) > 0 {
			t.Errorf("taken %v, got\n%s", taken, got)
		}
	}
}
