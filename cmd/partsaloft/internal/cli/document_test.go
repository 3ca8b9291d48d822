package cli

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

type figureJSON struct {
	Value, Low, High *float64
	Basis, Reason    string
}

type foundJSON struct {
	Rank         *int
	Score        float64
	Axes         map[string]float64
	Parts        answer.Parts
	Figures      map[string]figureJSON
	BrokenLimits []answer.BrokenLimit `json:"broken_limits"`
	Notes        []string
	AheadShare   *float64 `json:"ahead_share"`
	BestShare    *float64 `json:"best_share"`
}

type rankJSON struct {
	SchemaVersion int    `json:"schema_version"`
	ToolVersion   string `json:"tool_version"`
	Seed          *uint64
	Drawer, Style string
	Search        map[string]any
	Results       []foundJSON
	NearMisses    []struct {
		Parts        answer.Parts
		BrokenLimits []answer.BrokenLimit `json:"broken_limits"`
		Misfits      []string
		Mend         []string
	} `json:"near_misses"`
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatal(err)
	}
}

// Property: the document has the keys of the contract, its numbers lie inside their intervals, and
// its order is that of the scores.
func TestRankDocumentKeepsTheContract(t *testing.T) {
	got := run(t, "rank", "--format", "json", "--quiet", "--seed", "7", "--style", "race")
	if got.code != 0 {
		t.Fatal(got.err)
	}
	var d rankJSON
	decode(t, got.out, &d)
	if d.SchemaVersion != 3 || d.ToolVersion != session.Version || d.Seed == nil || *d.Seed != 7 ||
		d.Drawer != "club.yaml" ||
		d.Style != "race" {
		t.Errorf("head: %+v", d)
	}
	for _, key := range []string{"method", "candidates", "evaluated", "proven", "infeasible"} {
		if _, ok := d.Search[key]; !ok {
			t.Errorf("search.%s is missing", key)
		}
	}
	if len(d.Results) != 10 {
		t.Fatalf("%d results", len(d.Results))
	}
	last := 100.0
	for i, r := range d.Results {
		if r.Rank == nil || *r.Rank != i+1 || r.Score > last || r.AheadShare == nil || r.BestShare == nil ||
			r.BrokenLimits == nil || r.Notes == nil || r.Parts.Extras == nil {
			t.Errorf("result %d: %+v", i, r)
		}
		last = r.Score
		for a := range objective.AxisCount {
			if x, ok := r.Axes[a.Key()]; !ok || x < 0 || x > 100 {
				t.Errorf("result %d: axis %s is %g, %v", i, a.Key(), x, ok)
			}
		}
		if len(r.Figures) != len(figure.All()) {
			t.Errorf("result %d has %d figures", i, len(r.Figures))
		}
		for key, f := range r.Figures {
			switch {
			case f.Value == nil:
				if f.Reason == "" || f.Low != nil || f.High != nil {
					t.Errorf("result %d: %s is undefined without a reason: %+v", i, key, f)
				}
			case f.Low == nil || f.High == nil || *f.Low > *f.Value || *f.Value > *f.High ||
				!slices.Contains([]string{"measured", "label", "estimated"}, f.Basis):
				t.Errorf("result %d: %s is %+v", i, key, f)
			}
		}
	}
}

// Property: the CSV carries the document's keys and numbers, one row a result.
func TestRankCSVCarriesTheDocument(t *testing.T) {
	skipLong(t)
	var d rankJSON
	drawer := smallClub(t)
	decode(t, run(t, "rank", "--drawer", drawer, "--format", "json", "--quiet").out, &d)
	text := run(t, "rank", "--drawer", drawer, "--format", "csv", "--quiet").out
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(d.Results)+1 || len(rows) < 4 {
		t.Fatalf("%d rows for %d results", len(rows), len(d.Results))
	}
	column := func(key string) int {
		i := slices.Index(rows[0], key)
		if i < 0 {
			t.Fatalf("no column %s in %v", key, rows[0])
		}
		return i
	}
	for i, r := range d.Results {
		row := rows[i+1]
		if row[column("motor")] != r.Parts.Motor || row[column("score")] != catalogue.Raw(r.Score) ||
			row[column("extras")] != strings.Join(r.Parts.Extras, "+") {
			t.Errorf("row %d: %v", i, row)
		}
		for key, f := range r.Figures {
			for suffix, want := range map[string]*float64{"": f.Value, "_low": f.Low, "_high": f.High} {
				if got := row[column(key+suffix)]; want == nil && got != "" || want != nil && got != catalogue.Raw(*want) {
					t.Errorf("row %d: %s is %s", i, key+suffix, got)
				}
			}
		}
	}
}

// Property: a style decides what wins.
func TestStylesChooseDifferently(t *testing.T) {
	skipLong(t)
	best := map[string]foundJSON{}
	styles := objective.PresetNames()
	if !long() {
		styles = []string{"cruise", "race", "indoor"} // what is compared below
	}
	for _, style := range styles {
		var d rankJSON
		got := run(t, "rank", "--format", "json", "--quiet", "--top", "1", "--style", style)
		decode(t, got.out, &d)
		if len(d.Results) != 1 {
			t.Fatalf("%s: %d results\n%s", style, len(d.Results), got.err)
		}
		best[style] = d.Results[0]
	}
	value := func(style, key string) float64 { return *best[style].Figures[key].Value }
	if value("cruise", "cruise_minutes") <= 1.5*value("race", "cruise_minutes") {
		t.Error("the best cruiser does not fly half as long again as the best racer")
	}
	if value("race", "top_speed_mps") <= value("cruise", "top_speed_mps") ||
		value("race", "thrust_to_weight") <= value("cruise", "thrust_to_weight") {
		t.Error("the best racer is slower or weaker than the best cruiser")
	}
	if value("indoor", "all_up_g") >= value("race", "all_up_g") {
		t.Error("the best craft for indoors is heavier than the best racer")
	}
}

func TestNothingFeasible(t *testing.T) {
	got := run(t, "rank", "--format", "json", "--quiet", "--limit", "all_up_g=..20")
	var d rankJSON
	decode(t, got.out, &d)
	if got.code != 4 || d.Results == nil || len(d.Results) != 0 || len(d.NearMisses) == 0 {
		t.Errorf("exit %d, %d results, %d near misses", got.code, len(d.Results), len(d.NearMisses))
	}
	for _, m := range d.NearMisses {
		if len(m.Mend) == 0 || len(m.BrokenLimits)+len(m.Misfits) == 0 {
			t.Errorf("a near miss without cause or way out: %+v", m.Parts)
		}
	}
	empty := writeTemp(t, "drawer.yaml", "motors:\n  - {id: a, stator: \"1404\", kv: 3900}\n")
	for _, command := range []string{"rank", "explain", "vary"} {
		got := run(t, command, "--drawer", empty, "--quiet")
		if got.code != 4 || !strings.Contains(got.out, "drawer.yaml has no props, packs, frames or boards") {
			t.Errorf("%s: exit %d\n%s%s", command, got.code, got.out, got.err)
		}
	}
	burns := strings.Replace(pick, "k4s-720", "k6s-1120", 1)
	got = run(t, "explain", "--quiet", "--pick", burns)
	if got.code != 4 || !strings.Contains(got.out, "Do not build or fly this") || !strings.Contains(got.out, "cells") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

// Property: explain, compare and vary carry the keys of the contract.
func TestOtherDocumentsKeepTheContract(t *testing.T) {
	small := smallClub(t)
	for _, c := range []struct {
		args  []string
		top   []string
		inner []string // of results[0]
	}{
		{[]string{"explain", "--pick", pick}, []string{"search", "results"},
			[]string{"parts", "figures", "reasons", "gives_up", "alternatives", "first_flight"}},
		{[]string{"compare", "1", "2"}, []string{"results", "differences"}, []string{"rank", "parts", "figures"}},
		{[]string{"vary", "--pick", pick}, []string{"results", "changes"}, []string{"parts", "figures"}},
		{[]string{"check"}, []string{"faults", "notes", "fits"}, nil},
		{[]string{"bench", "--prop", "p3.5-26x3", "--rpm", "9000"}, []string{"points"}, nil},
		{[]string{"styles"}, []string{"styles", "feeds"}, nil},
	} {
		args := append(c.args, "--format", "json", "--quiet")
		if c.args[0] != "styles" {
			args = append(args, "--drawer", small)
		}
		got := run(t, args...)
		var d map[string]json.RawMessage
		decode(t, got.out, &d)
		for _, key := range append([]string{"schema_version", "tool_version", "seed"}, c.top...) {
			if _, ok := d[key]; !ok {
				t.Errorf("%v: no %s", c.args, key)
			}
		}
		if c.inner == nil {
			continue
		}
		var results []map[string]json.RawMessage
		decode(t, string(d["results"]), &results)
		for _, key := range c.inner {
			if len(results[0][key]) == 0 || string(results[0][key]) == "null" {
				t.Errorf("%v: no results[0].%s", c.args, key)
			}
		}
	}
}

// Property: a bench table has its keys, and a point for every condition.
func TestBenchDocument(t *testing.T) {
	var d struct{ Points []map[string]json.RawMessage }
	decode(t, run(t, "bench", "--motor", "m1507-27", "--prop", "p3.5-26x3", "--volts", "11.1,14.8", "--throttle-pct",
		"50,100", "--format", "json", "--quiet").out, &d)
	if len(d.Points) != 4 {
		t.Fatalf("%d points", len(d.Points))
	}
	for _, p := range d.Points {
		for _, key := range []string{"throttle_pct", "volts", "rpm", "thrust_g", "torque_mnm", "current_a", "power_w",
			"thrust_per_power_g_w"} {
			if _, ok := p[key]; !ok {
				t.Errorf("no %s in %v", key, p)
			}
		}
		var thrust figureJSON
		decode(t, string(p["thrust_g"]), &thrust)
		if thrust.Value == nil || *thrust.Low > *thrust.Value || *thrust.High < *thrust.Value || thrust.Basis != "estimated" {
			t.Errorf("thrust_g %+v", thrust)
		}
	}
	head, _, _ := strings.Cut(run(t, "bench", "--prop", "p3.5-26x3", "--rpm", "9000", "--format", "csv", "--quiet").out,
		"\n")
	if want := "rpm,airspeed_mps,ct,ct_low,ct_high,cp,cp_low,cp_high,thrust_g,thrust_g_low,thrust_g_high,torque_mnm,torque_mnm_low,torque_mnm_high"; head != want {
		t.Errorf("CSV head %s, want %s", head, want)
	}
}

func TestAirOfTheCommandLineCounts(t *testing.T) {
	thrust := func(args ...string) float64 {
		got := run(t, append([]string{"bench", "--quiet", "--format", "json", "--prop", "p3.5-26x3", "--rpm", "16000"},
			args...)...)
		var d struct {
			Points []struct {
				ThrustG figureJSON `json:"thrust_g"`
			}
		}
		decode(t, got.out, &d)
		return *d.Points[0].ThrustG.Value
	}
	low, high, cold := thrust("--altitude-m", "0", "--temperature-c", "15"),
		thrust("--altitude-m", "3000", "--temperature-c", "15"), thrust("--altitude-m", "0", "--temperature-c", "-20")
	if !(high < 0.75*low && cold > 1.1*low) {
		t.Errorf("thrust %g g at sea level, %g at 3000 m, %g in the cold", low, high, cold)
	}
}

func TestASearchCutShortExitsWith130(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, command := range [][]string{{"rank"}, {"explain"}, {"vary"}, {"compare", "1", "2"}, {"check"},
		{"bench", "--prop", "p3.5-26x3", "--rpm", "9000"}} {
		got := runIn(t, ctx, session.Streams{}, append(command, "--quiet")...)
		if got.code != 130 || !strings.Contains(got.err, "interrupted") {
			t.Errorf("%v: exit %d, %q", command, got.code, got.err)
		}
	}
}
