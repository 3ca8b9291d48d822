package cli

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"partsaloft/inventory"
)

type flightJSON struct {
	Craft    string
	Recorded int
	Entry    []string
	Figures  []struct {
		Key              string
		Value, Low, High *float64
	}
	Learned *struct{ Readings []struct{ Key string } }
}

func flown(t *testing.T, args ...string) flightJSON {
	t.Helper()
	got := run(t, append([]string{"flight", "--format", "json", "--quiet"}, args...)...)
	if got.code != 0 {
		t.Fatalf("%v: exit %d\n%s", args, got.code, got.err)
	}
	var x flightJSON
	if err := json.Unmarshal([]byte(got.out), &x); err != nil {
		t.Fatal(err)
	}
	return x
}

// Independent: what a flight was made with is read from it; --log puts that into the log, for the craft that was named,
// and leaves every other line of the drawer. Without --log the drawer stays as it was.
func TestFlightLog(t *testing.T) {
	skipLong(t)
	drawer, file := clubCopy(t), writeTemp(t, "flight.csv", smallFlight())
	before := readFile(t, drawer)
	looked := flown(t, file, "tender", drawer, "--flown", "hover")
	if readFile(t, drawer) != before || looked.Recorded != 0 || len(looked.Entry) == 0 {
		t.Fatal("a flight that is not to be recorded changed the drawer")
	}
	x := flown(t, file, "TENDER", drawer, "--flown", "hover", "--weight", "4oz", "--date", "2026-05-01", "--log")
	after, text := loadDrawer(t, drawer), readFile(t, drawer)
	if x.Recorded != len(after.Log) || x.Recorded == 0 || x.Craft != "Tender" || x.Learned == nil {
		t.Fatalf("%+v", x)
	}
	for line := range strings.Lines(before) {
		if !strings.Contains(text, line) {
			t.Fatalf("the drawer lost %q", line)
		}
	}
	e := &after.Log[x.Recorded-1]
	// smallFlight hovers at 31 to 34 % and 6.0 to 6.4 A, each step as often, and draws 24.0 to 24.4 A in its punches.
	near := func(what string, got *float64, want, within float64) {
		if got == nil || *got < want-within || *got > want+within {
			t.Errorf("%s: %v, want %g ± %g", what, got, want, within)
		}
	}
	near("throttle in hover", e.HoverThrottlePct, 32.5, 0.5)
	near("current in hover", e.HoverCurrentA, 6.2, 0.3)
	near("weight", e.AllUpG, 113.4, 0.1)
	near("minutes", e.FlightMinutes, 170.0/60, 0.1)
	var fleet *inventory.Parts
	for i := range after.Fleet {
		if after.Fleet[i].Name == "Tender" {
			fleet = &after.Fleet[i].Parts
		}
	}
	if fleet == nil || e.Parts.Motor != fleet.Motor || e.Parts.Prop != fleet.Prop || e.Parts.Pack != fleet.Pack {
		t.Errorf("entry of %+v", e.Parts)
	}
	said := run(t, "flight", file, drawer, "--log", "--pick", "entry", "--quiet")
	if said.code == 0 || readFile(t, drawer) != text {
		t.Error("a craft that is not there was recorded")
	}
	told := run(t, "flight", file, "tender", drawer, "--log")
	if told.code != 0 || !strings.Contains(told.out, "Recorded as entry") || !strings.Contains(told.out, "of Tender") {
		t.Errorf("exit %d, %s", told.code, told.err)
	}
}

// Property: a flight takes its craft by parts, as a craft of the fleet.
func TestFlightPick(t *testing.T) {
	drawer, file := clubCopy(t), writeTemp(t, "flight.csv", smallFlight())
	d := loadDrawer(t, drawer)
	p := &d.Fleet[0].Parts
	pick := "motor=" + p.Motor + ",prop=" + p.Prop + ",pack=" + p.Pack + ",frame=" + p.Frame + ",board=" + p.Board
	named, picked := flown(t, file, d.Fleet[0].Name, drawer), flown(t, file, drawer, "--pick", pick)
	if named.Craft != d.Fleet[0].Name || picked.Craft != "" || picked.Learned == nil ||
		len(named.Learned.Readings) != len(picked.Learned.Readings) {
		t.Errorf("named %+v\npicked %+v", named, picked)
	}
}

// Property: what cannot be recorded is refused with what to do, and the drawer stays as it was.
func TestFlightRefuses(t *testing.T) {
	drawer, file := clubCopy(t), writeTemp(t, "flight.csv", smallFlight())
	before := readFile(t, drawer)
	for _, c := range []struct {
		args []string
		code int
		say  string
	}{
		{[]string{file, "nobody", drawer}, 2, "--pick"},
		{[]string{file, "--log", "--drawer", "-"}, 2, "--drawer"},
		{[]string{file, "tender", drawer, "--log", "--weight", "much"}, 2, "--weight"},
		{[]string{file, "tender", drawer, "--log", "--date", "May"}, 2, "nothing was recorded"},
		{[]string{file, "tender", drawer, "--log", "--pick", "motor=a"}, 2, "not both"},
		{[]string{writeTemp(t, "no.csv", "a,b\n1,2\n"), "tender", drawer, "--log"}, 3, "column"},
		{[]string{"none.csv", "tender", drawer, "--log"}, 3, "none.csv"},
		{nil, 2, "FILE.csv"},
	} {
		if got := run(t, append([]string{"flight"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.say) {
			t.Errorf("%v: exit %d, %s", c.args, got.code, got.err)
		}
	}
	if after, err := os.ReadFile(drawer); err != nil || string(after) != before {
		t.Error("the drawer was changed", err)
	}
}
