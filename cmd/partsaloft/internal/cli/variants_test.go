package cli

import (
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
)

// twins is a drawer with two frames and two packs that cannot be told apart.
const twins = `motors:
  - {id: m1404, count: 8, stator: "1404", kv: 3800}
props:
  - {id: p3, size: 3x1.8x3, count: 8}
packs:
  - {id: a1, size: 4S 650 75C, connector: XT30, mass_g: 74, count: 1}
  - {id: a2, size: 4S 650 80C, connector: XT30, mass_g: 75, count: 1}
  - {id: b, size: 4S 850 75C, connector: XT30, count: 1}
frames:
  - {id: light, mass_g: 28, max_prop_in: 3}
  - {id: heavy, mass_g: 40, max_prop_in: 3}
boards:
  - {id: aio, esc_current_a: 20, cells: [2, 4], mass_g: 9, connector: XT30}
`

// Builds with one motor, prop and pack, or a twin of the pack, are one row; its variants are listed when asked for, and
// other commands name the same rows.
func TestRowsAreBuildsThatDiffer(t *testing.T) {
	drawer := writeTemp(t, "twins.yaml", twins)
	do := func(args ...string) ran {
		t.Helper()
		got := run(t, append(args, "--drawer", drawer, "--quiet")...)
		if got.code != exit.CodeOK {
			t.Fatalf("%v: exit %d\n%s", args, got.code, got.err)
		}
		return got
	}
	type partsJSON struct{ Pack, Frame string }
	type rowJSON struct {
		Score    float64
		Parts    partsJSON
		Variants struct {
			Fitted    int64
			Whole     bool
			TwinPacks []string `json:"twin_packs"`
			Builds    []struct {
				Score float64
				Parts partsJSON
				AllUp float64 `json:"all_up_g"`
				Text  string
			}
		}
	}
	var ranked, explained struct{ Results []rowJSON }
	for _, method := range []string{"exact", "genetic"} {
		decode(t, do("rank", "--method", method, "--format", "json").out, &ranked)
		if len(ranked.Results) != 2 {
			t.Fatalf("%s: %d rows, want one a pack that differs", method, len(ranked.Results))
		}
		for _, row := range ranked.Results {
			want := map[string]int{"b": 2, "a1": 4}[row.Parts.Pack]
			if v := row.Variants; v.Fitted != int64(want) || !v.Whole || len(v.Builds) != want-1 || len(v.TwinPacks) != want/2 ||
				row.Parts.Frame != "light" {
				t.Errorf("%s: row of %s: %+v", method, row.Parts.Pack, v)
			}
			last := row.Score
			for _, build := range row.Variants.Builds {
				if build.Score > last || build.Parts == row.Parts || build.AllUp < 100 || !strings.Contains(build.Text, "score ") {
					t.Errorf("%s: variant %+v after a score of %g", method, build, last)
				}
				last = build.Score
			}
		}
	}
	decode(t, do("explain", "2", "--format", "json").out, &explained)
	if got, want := explained.Results[0].Parts, ranked.Results[1].Parts; got != want {
		t.Errorf("explain 2 takes %+v apart, row 2 is %+v", got, want)
	}
	plain, listed := do("rank").out, do("rank", "--variants").out
	for text, in := range map[string][2]bool{ // in the plain answer, with --variants
		"- pack a2, frame heavy: score ":    {false, true},
		"--variants lists them":             {true, false},
		"4 more builds with the same motor": {true, false},
		"Variants\n\n1: m1404 p3 b light":   {false, true},
		"\n2  m1404 p3           ":          {true, true},
	} {
		if strings.Contains(plain, text) != in[0] || strings.Contains(listed, text) != in[1] {
			t.Errorf("%q: in the answer %v, with --variants %v", text, strings.Contains(plain, text),
				strings.Contains(listed, text))
		}
	}
	one := do("explain", "--pick", "motor=m1404,prop=p3,pack=a2,frame=heavy,board=aio").out
	if want := "It is a variant of rank 2 (score "; !strings.Contains(strings.Join(strings.Fields(one), " "),
		want) {
		t.Errorf("no %q in\n%s", want, one)
	}
	head, rows, _ := strings.Cut(do("rank", "--format", "csv").out, "\n")
	if !strings.HasSuffix(strings.TrimSpace(head), ",variants") || strings.Count(rows, "\n") != 2 {
		t.Errorf("CSV:\n%s\n%s", head, rows)
	}
	if spread := do("rank", "--spread").out; strings.Contains(spread, "\n2  m1404") {
		t.Errorf("a spread list holds two rows of one motor and prop:\n%s", spread)
	}
}
