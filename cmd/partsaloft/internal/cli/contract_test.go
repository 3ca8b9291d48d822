package cli

import (
	"compress/gzip"
	"encoding/base64"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
)

// sparse is a whoop as a pilot writes it from shop labels.
const sparse = `motors:
  - {id: m0802, count: 8, stator: "0802", kv: 25000}
props:
  - {id: 31mm, size: 31mm x 1.2 x 3, count: 8}
packs:
  - {id: hv300, size: 1S 300 60C, chemistry: lihv, connector: PH 2.0, count: 2}
  - {id: hv450, size: 1S 450 80C, chemistry: lihv, connector: PH 2.0, count: 2}
frames:
  - {id: duct, mass_g: 2.9, max_prop_in: 1.26, ducted: true}
boards:
  - {id: aio, esc_current_a: 14, cells: [1, 2], mass_g: 4.1}
extras:
  - {id: camera, role: camera, mass_g: 1.4, use: always}
`

// Property: where nothing is feasible every command that looks for it exits with 4 and gives no
// results and what comes nearest, with what would mend it.
func TestNothingFeasibleInEveryCommand(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", sparse)
	for _, command := range []string{"rank", "explain", "explain 2", "vary", "compare 1 2", "plan indoor race", "buy"} {
		args := append(strings.Fields(command), "--drawer", drawer, "--limit", "style_minutes=200..", "--quiet")
		got := run(t, append(args, "--format", "json")...)
		if got.code != exit.CodeNothing || got.err != "" {
			t.Errorf("%s: exit %d\n%s", command, got.code, got.err)
			continue
		}
		var document struct {
			Results    *[]foundJSON
			NearMisses []struct{ Mend []string } `json:"near_misses"`
			Search     map[string]any
		}
		decode(t, got.out, &document)
		if document.Results == nil || len(*document.Results) != 0 || len(document.NearMisses) == 0 ||
			document.Search["infeasible"] == nil {
			t.Errorf("%s: results %v, %d near misses", command, document.Results, len(document.NearMisses))
			continue
		}
		if mend := strings.Join(document.NearMisses[0].Mend, " "); !strings.Contains(mend,
			"loosen the limit to style_minutes=") {
			t.Errorf("%s: to mend it: %q", command, mend)
		}
		if page := run(t, args...); page.code != exit.CodeNothing || !strings.Contains(page.out, "Closest") {
			t.Errorf("%s: exit %d\n%s", command, page.code, page.out)
		}
	}
	// The limit that a near miss names is kept by it.
	got := run(t, "rank", "--drawer", drawer, "--limit", "style_minutes=200..", "--quiet", "--format", "json")
	_, rest, _ := strings.Cut(got.out, "loosen the limit to style_minutes=")
	loose, _, _ := strings.Cut(rest, " ")
	if got = run(t, "rank", "--drawer", drawer, "--limit", "style_minutes="+loose, "--quiet"); got.code != exit.CodeOK {
		t.Errorf("with style_minutes=%s: exit %d\n%s%s", loose, got.code, got.out, got.err)
	}
}

// Property: every document that tells of combinations says how they were searched for.
func TestEveryDocumentTellsItsSearch(t *testing.T) {
	skipLong(t)
	drawer := writeTemp(t, "sparse.yaml", sparse)
	pick := "motor=m0802,prop=31mm,pack=hv300,frame=duct,board=aio"
	for command, method := range map[string]string{
		"rank": "exact", "explain": "exact", "explain --pick " + pick: "exact",
		"vary": "exact", "vary --pick " + pick: "none", "compare 1 2": "exact",
		"compare --pick " + pick + " --pick " + strings.Replace(pick, "hv300", "hv450", 1): "none", "plan indoor": "exact",
		"buy": "exact",
	} {
		args := append(strings.Fields(command), "--drawer", drawer, "--quiet", "--format", "json")
		if command != "plan indoor" {
			args = append(args, "--style", "indoor")
		}
		got := run(t, args...)
		var document struct {
			Search struct {
				Method                string
				Candidates, Evaluated *int64
				Proven                *bool
				Infeasible            map[string]int64
			}
		}
		decode(t, got.out, &document)
		if s := document.Search; got.code != exit.CodeOK || s.Method != method || s.Candidates == nil || *s.Candidates < 1 ||
			s.Evaluated == nil || s.Proven == nil || s.Infeasible == nil {
			t.Errorf("%s: exit %d, %+v", command, got.code, s)
		}
	}
}

// A frame that weighs less than a usual change takes off does not stop the others.
func TestVaryOfALightCraft(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", sparse)
	got := run(t, "vary", "--drawer", drawer, "--style", "indoor", "--quiet")
	for _, want := range []string{"1 g lighter", "5 g heavier", "- 5 g lighter: frame and extras weigh 4.3 g together."} {
		if got.code != exit.CodeOK || !strings.Contains(got.out, want) {
			t.Errorf("exit %d, want %q\n%s%s", got.code, want, got.out, got.err)
		}
	}
}

// Property: points of a bench at which the prop windmills have no numbers and a reason, the others
// theirs.
func TestBenchLeavesWindmillingOut(t *testing.T) {
	args := []string{"bench", "--prop", "p2-14x3", "--rpm", "8000,16000", "--airspeed-mps", "0,10", "--quiet"}
	got := run(t, append(args, "--format", "json")...)
	var document struct {
		Points []struct {
			RPM      float64
			Airspeed float64    `json:"airspeed_mps"`
			Thrust   figureJSON `json:"thrust_g"`
		}
	}
	decode(t, got.out, &document)
	if got.code != exit.CodeOK || len(document.Points) != 4 {
		t.Fatalf("exit %d, %d points\n%s", got.code, len(document.Points), got.err)
	}
	for _, p := range document.Points {
		if windmills := p.RPM == 8000 && p.Airspeed == 10; windmills != (p.Thrust.Value == nil) ||
			windmills != strings.Contains(p.Thrust.Reason, "windmills") {
			t.Errorf("%g rpm, %g m/s: %+v", p.RPM, p.Airspeed, p.Thrust)
		}
	}
	if page := run(t, args...); !strings.Contains(page.out, "No number: the prop windmills") {
		t.Error(page.out)
	}
}

// Words that are no flags and values that cannot be read are answered in a pilot's words.
func TestUsageErrorsInWords(t *testing.T) {
	for line, want := range map[string]string{
		"bench drawer.yaml":                       "a drawer is named with --drawer FILE",
		"styles drawer.yaml":                      `styles takes no word by itself, got "drawer.yaml"`,
		"rank race":                               "race is a style: write --style race",
		"check a.yaml b.yaml":                     `check takes one word, the drawer's file, got "b.yaml" as well`,
		"check a.yaml --drawer b.yaml":            "both --drawer and a.yaml name a drawer: name one",
		"export motors --style race":              "export has no flag --style",
		"rank drawer.yaml":                        "",
		"rank --seed -1":                          `--seed must be a whole number from 0, got "-1"`,
		"rank --top many":                         `--top must be a whole number, got "many"`,
		"bench --prop p3.5-26x3 --rpm fast":       `--rpm must be numbers with commas between`,
		"rank --altitude-m high":                  `--altitude-m must be a number, got "high"`,
		"plan race --drawer no-such-drawer.yaml ": "",
	} {
		got := run(t, strings.Fields(line)...)
		code := exit.CodeUsage
		if want == "" {
			code = exit.CodeData
		}
		if got.code != code || got.out != "" || !strings.Contains(got.err, want) || strings.Contains(got.err, "strconv") {
			t.Errorf("%s: exit %d\n%s", line, got.code, got.err)
		}
	}
}

// What the drawer leaves out of the fits of one combination is one note for people, and every note
// in JSON.
func TestUnknownFitsShareANote(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", sparse)
	page := run(t, "rank", "--drawer", drawer, "--style", "indoor", "--quiet")
	if n := strings.Count(page.out, "Check before you build (not in the drawer): "); n != 1 ||
		strings.Contains(page.out, "check that pack hv300 fits frame duct") {
		t.Errorf("%d notes\n%s", n, page.out)
	}
	document := run(t, "rank", "--drawer", drawer, "--style", "indoor", "--quiet", "--format", "json")
	if !strings.Contains(document.out, "check that pack hv300 fits frame duct") {
		t.Error("JSON leaves the note out")
	}
}

// Every fault of a style file is told at once.
func TestEveryFaultOfAStyle(t *testing.T) {
	style := writeTemp(t, "style.yaml", `weights: {grip: -4, climb: 1}
limits: {all_up: ..250, thrust_to_weight: 3}
required_roles: [camera, lamp, horn]
flying: {segments: [{kind: hover, share_pct: 40}, {kind: loop, share_pct: 60}]}
`)
	got := run(t, "rank", "--style", style)
	if got.code != exit.CodeData || got.out != "" {
		t.Fatalf("exit %d\n%s", got.code, got.out)
	}
	for _, want := range []string{":1:17: weights.grip", ":1:", "climb", ":2:18: limits.all_up", "limits.thrust_to_weight",
		"lamp", "horn", ":4:", "got loop"} {
		if !strings.Contains(got.err, want) {
			t.Errorf("no %q in\n%s", want, got.err)
		}
	}
}

// One listed combination is not called the only one where others are feasible.
func TestTheOnlyOneListed(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", sparse)
	for flags, want := range map[string]string{"--top 1": "it beats rank 2 (--top 2 shows it)",
		"--limit all_up_g=..25.5": "It is the only build that can be flown."} {
		args := append([]string{"rank", "--drawer", drawer, "--style", "indoor", "--quiet"}, strings.Fields(flags)...)
		if got := run(t, args...); got.code != exit.CodeOK || !strings.Contains(got.out, want) {
			t.Errorf("%s: exit %d, want %q\n%s", flags, got.code, want, got.out)
		}
	}
}

// A role that nothing in the drawer fills is named.
func TestRoleWithoutExtra(t *testing.T) {
	got := run(t, "rank", "--drawer", writeTemp(t, "sparse.yaml", sparse), "--with", "video", "--style", "indoor",
		"--quiet")
	if got.code != exit.CodeNothing ||
		!strings.Contains(got.out, "it has no video. To fix it: list one under extras") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

// A motor without a largest current is not said to be held back by nothing, and explain lists what it
// took for granted.
func TestUnknownMotorLimitIsSaid(t *testing.T) {
	// The plug is one that does not limit them first.
	drawer := writeTemp(t, "sparse.yaml", strings.ReplaceAll(sparse, "PH 2.0", "XT30"))
	got := run(t, "explain", "--drawer", drawer, "--style", "indoor", "--quiet")
	for _, want := range []string{"No throttle limit needed", "Max motor current not given", "Assumptions"} {
		if !strings.Contains(strings.Join(strings.Fields(got.out), " "), want) {
			t.Errorf("no %q in\n%s", want, got.out)
		}
	}
}

// The page names figures in words, as rank does.
func TestPageNamesFiguresOfNotes(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", sparse)
	got := run(t, "page", "--drawer", drawer, "--style", "indoor", "--limit", "pull_out_m=..0.7", "--quiet")
	data := pageData(t, got.out)
	if got.code != exit.CodeOK || !strings.Contains(data, "height lost pulling out of a dive is within its limit") ||
		strings.Contains(data, "pull_out_m is") {
		t.Errorf("exit %d\n%s", got.code, got.err)
	}
}

// pageData is the JSON that a page's script begins with.
func pageData(t *testing.T, page string) string {
	t.Helper()
	_, text, found := strings.Cut(page, `<script type="text/plain" id="data">`)
	text, _, ended := strings.Cut(text, "</script>")
	if !found || !ended {
		t.Fatal("the page holds no data")
	}
	z, err := gzip.NewReader(base64.NewDecoder(base64.StdEncoding, strings.NewReader(text)))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Property: every document says what to mind, and every page shows it; a pack to be retired stands before all but what
// to do.
func TestEveryCommandSaysWhatToMind(t *testing.T) {
	drawer := writeTemp(t, "sparse.yaml", strings.Replace(sparse, "frames:", `  - {id: hv-old, size: 1S 300 60C, chemistry: lihv, connector: PH 2.0, note: a bit puffed}
frames:`, 1)+`log:
  - {parts: {motor: m0802, prop: 31mm, pack: hv300, frame: duct, board: aio}, all_up_g: 26}
`)
	craft := "--pick motor=m0802,prop=31mm,pack=hv300,frame=duct,board=aio"
	const bench, spin, law, indoors, lithium = "props off", "eye protection", "Local law sets", "behind a net",
		"Lithium packs burn"
	for command, wants := range map[string][]string{
		"rank": {bench, law, indoors, lithium}, "explain": {bench, law, indoors, lithium, "landing, disarmed"},
		"explain " + craft: {bench, law, indoors},
		"compare 1 2":      {bench, law, indoors}, "vary": {bench, law, indoors}, "plan indoor": {bench, law, indoors},
		"buy":   {bench, law, indoors},
		"check": {lithium}, "learn": {law, lithium}, "styles": {law, indoors},
		"bench --motor m0802 --prop 31mm --volts 4": {spin, lithium},
		"rank --limit all_up_g=..5":                 {law, lithium},
	} {
		args := append(strings.Fields(command), "--quiet")
		if command != "styles" {
			args = append(args, "--drawer", drawer)
		}
		if !strings.HasPrefix(command, "plan") && !strings.HasPrefix(command, "bench") && command != "styles" {
			args = append(args, "--style", "indoor")
		}
		if command == "learn" {
			args = append(args, "--output", filepath.Join(t.TempDir(), "x.learned.yaml"))
		}
		var document struct{ Advice, Care []string }
		decode(t, run(t, append(args, "--format", "json")...).out, &document)
		page := strings.Join(strings.Fields(run(t, args...).out), " ")
		care := strings.Join(document.Care, " ")
		for _, want := range wants {
			if !strings.Contains(care, want) || !strings.Contains(page, want) {
				t.Errorf("%s: no %q in %q", command, want, care)
			}
		}
		if command == "styles" || strings.HasPrefix(command, "bench") {
			continue // neither flies a pack of the drawer
		}
		const danger = `Pack hv-old: noted as "puffed": retire it`
		// On the page only what to do stands before it: nothing is praised yet.
		advice := strings.Join(strings.Fields(strings.Join(document.Advice, " ")), " ")
		if len(document.Care) == 0 || !strings.HasPrefix(document.Care[0], danger) ||
			!strings.HasPrefix(page, strings.TrimLeft(advice+" - "+danger, " ")) {
			t.Errorf("%s: the worn pack does not stand first in %q:\n%s", command, document.Care, page)
		}
	}
}
