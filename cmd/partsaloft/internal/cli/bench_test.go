package cli

import (
	"math"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
)

// Property: several props at given thrusts stand in the order of the power that they take, each two of them with how
// sure that is, and the numbers are those of each prop by itself.
func TestBenchSideBySide(t *testing.T) {
	type document struct {
		Motor, Prop *string
		Points      []struct {
			Prop     string
			Volts    float64
			ThrustG  float64    `json:"thrust_g"`
			Throttle figureJSON `json:"throttle_pct"`
			Current  figureJSON `json:"current_a"`
			Power    figureJSON `json:"power_w"`
			RPM      figureJSON `json:"rpm"`
		}
		Order []struct {
			First, Second, Lead, Text string
			ThrustG                   *float64 `json:"thrust_g"`
			AheadShare                float64  `json:"ahead_share"`
		}
	}
	bench := func(args string) (d document) {
		t.Helper()
		got := run(t, append(strings.Fields("bench --motor m1507-27 --volts 14.8 --quiet --format json"),
			strings.Fields(args)...)...)
		if got.code != exit.CodeOK {
			t.Fatalf("%s: exit %d\n%s", args, got.code, got.err)
		}
		decode(t, got.out, &d)
		return d
	}
	all := bench("--prop p3.5-26x3,p3.5-23x2,p2-14x3 --thrust-g 60,125")
	if all.Motor == nil || all.Prop != nil || len(all.Points) != 6 || len(all.Order) != 4 {
		t.Fatalf("%+v", all)
	}
	for i, p := range all.Points {
		if i%3 > 0 && p.Power.Value != nil && *p.Power.Value < *all.Points[i-1].Power.Value {
			t.Errorf("point %d takes less than the one before it", i)
		}
		if p.Power.Value == nil {
			continue
		}
		alone := bench("--prop " + p.Prop + " --thrust-g 60,125").Points[i/3]
		if *alone.Power.Value != *p.Power.Value || math.Abs(*p.Power.Value/(*p.Current.Value*p.Volts)-1) > 0.01 {
			t.Errorf("%s: %g W side by side, %g alone, at %g A", p.Prop, *p.Power.Value, *alone.Power.Value, *p.Current.Value)
		}
		if !(*p.Throttle.Value > 0 && *p.Throttle.Value <= 100 && *p.RPM.Value > 5000) {
			t.Errorf("%s: throttle %g, %g rpm", p.Prop, *p.Throttle.Value, *p.RPM.Value)
		}
	}
	for _, o := range all.Order {
		steps := o.AheadShare * 20
		if o.ThrustG == nil || o.AheadShare < 0 || o.AheadShare > 1 || math.Abs(steps-math.Round(steps)) > 1e-9 ||
			!strings.Contains(o.Text, o.First) && !strings.Contains(o.Text, o.Second) {
			t.Errorf("%+v", o)
		}
	}
	got := run(t, "bench", "--motor", "m1507-27,m1507-37", "--prop", "p3.5-26x3", "--volts", "14.8", "--quiet")
	if want := "100 % throttle at 14.8 V: m1507-37 pulls more than m1507-27 in over 95 of 100 cases: clearly."; got.code != 0 ||
		!strings.Contains(got.out, want) {
		t.Errorf("exit %d, want %q in\n%s%s", got.code, want, got.out, got.err)
	}
	for args, want := range map[string]string{
		"--motor m1507-27 --prop p3.5-26x3 --volts 14.8 --thrust-g 60 --throttle-pct 50": "not both",
		"--prop p3.5-26x3 --rpm 9000 --thrust-g 60":                                      "take a --motor",
		"--motor m1507-27 --prop p3.5-26x3 --volts 14.8 --thrust-g -3":                   "thrust must be over 0",
		"--motor m1507-27 --prop p3.5-26x3,p3.5-26 --volts 14.8 --thrust-g 60":           "did you mean p3.5-26x3?",
	} {
		if got := run(t, append([]string{"bench"}, strings.Fields(args)...)...); got.code != exit.CodeUsage ||
			!strings.Contains(got.err, want) {
			t.Errorf("%s: exit %d, want %q\n%s", args, got.code, want, got.err)
		}
	}
}
