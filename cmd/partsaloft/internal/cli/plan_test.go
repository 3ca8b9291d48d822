package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

// Property: no piece is used twice, and what is left over is what the drawer has less what was used.
func TestPlanUsesNoPieceTwice(t *testing.T) {
	r := run(t, "plan", "freestyle", "freestyle", "cruise", "--drawer", "../../../../examples/club.yaml", "--quiet",
		"--format", "json")
	if r.code != 0 {
		t.Fatal(r.code, r.err)
	}
	var d struct {
		Crafts []struct {
			Wish  string
			Score float64
			Parts struct{ Motor, Prop, Pack, Frame, Board string }
		}
		LeftOver []struct {
			Kind, ID string
			Pieces   *int
			Retire   bool
		} `json:"left_over"`
	}
	if err := json.Unmarshal([]byte(r.out), &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Crafts) != 3 || d.Crafts[1].Wish != "freestyle 2" || len(d.LeftOver) == 0 {
		t.Fatalf("%d crafts, %d left over", len(d.Crafts), len(d.LeftOver))
	}
	club := loadDrawer(t, "../../../../examples/club.yaml")
	frames, packs := map[string]int{}, map[string]int{}
	for _, c := range d.Crafts {
		frames[c.Parts.Frame]++
		packs[c.Parts.Pack]++
	}
	left := map[string]int{}
	retired := 0
	for _, l := range d.LeftOver {
		if l.Pieces != nil {
			left[l.Kind+" "+l.ID] = *l.Pieces
		}
		if want := l.Kind == "pack" && club.Pack(l.ID).Retired(); l.Retire != want {
			t.Errorf("%s %s left over: to be retired %v, want %v", l.Kind, l.ID, l.Retire, want)
		} else if want {
			retired++
		}
	}
	if retired == 0 {
		t.Error("no pack to be retired is left over")
	}
	for id, used := range frames {
		if f := club.Frame(id); f.Count != nil && left["frame "+id] != *f.Count-used {
			t.Errorf("frame %s: %d owned, %d fly, %d left over", id, *f.Count, used, left["frame "+id])
		}
	}
	for id, used := range packs {
		if k := club.Pack(id); k.Count != nil && left["pack "+id] != *k.Count-used {
			t.Errorf("pack %s: %d owned, %d fly, %d left over", id, *k.Count, used, left["pack "+id])
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, args := range [][]string{{"plan"}, {"plan", "nowhere"}, {"plan", "race", "--aim", "best"}} {
		if r := run(t, args...); r.code != 2 || r.out != "" || r.err == "" {
			t.Errorf("%v: exit %d, %q", args, r.code, r.err)
		}
	}
}

// Property: each purchase raises the best score by its gain, or puts an idle part to use.
func TestBuyGains(t *testing.T) {
	r := run(t, "buy", "../../../../examples/shop.yaml", "--drawer", "../../../../examples/spare-parts.yaml", "--style",
		"cruise", "--quiet", "--format", "json")
	if r.code != 0 {
		t.Fatal(r.code, r.err)
	}
	var d struct {
		Before    struct{ Score float64 }
		Purchases []struct {
			Parts               []struct{ Kind, ID string }
			Gain, Before, After float64
			Unblocks            []string
			Result              struct{ Score float64 }
		}
	}
	if err := json.Unmarshal([]byte(r.out), &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Purchases) == 0 {
		t.Fatal("nothing is worth buying")
	}
	for _, p := range d.Purchases {
		if p.Before != d.Before.Score || p.After-p.Before-p.Gain > 0.011 || p.Gain > 0 && p.Result.Score != p.After ||
			p.Gain <= 0 && len(p.Unblocks) == 0 {
			t.Errorf("%+v", p)
		}
	}
}

// Regression: what people read.
func TestPlanAndBuyPages(t *testing.T) {
	for name, args := range map[string][]string{
		"plan.table": {"plan", "race", "cruise"},
		"buy.table": {"buy", "../../../../examples/shop.yaml", "--drawer", "../../../../examples/spare-parts.yaml",
			"--style", "cruise", "--top", "3"},
		"novel.table": {"rank", "--spread", "--novel", "0.4", "--top", "3"},
	} {
		r := run(t, append(args, "--quiet")...)
		if r.code != 0 {
			t.Fatal(name, r.code, r.err)
		}
		golden(t, name, r.out)
		for _, line := range strings.Split(r.out, "\n") {
			if len([]rune(line)) > 100 {
				t.Errorf("%s: a line of %d characters: %s", name, len([]rune(line)), line)
			}
		}
	}
}
