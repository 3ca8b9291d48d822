package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/predict"
)

// Builds are named as pilots name them (common practice, no source): whoops by their span and props in mm, frames by
// the class of their props, sets of motors by size and kV.
func TestBuildsInWords(t *testing.T) {
	motor := func(stator string, kv float64) *inventory.Motor {
		return &inventory.Motor{Part: inventory.Part{ID: "id-m"}, Stator: stator, KV: kv}
	}
	prop := func(diameter, pitch float64, blades int) *inventory.Prop {
		return &inventory.Prop{Part: inventory.Part{ID: "id-p"}, DiameterIn: diameter, PitchIn: pitch, Blades: blades}
	}
	pack := func(cells int, mAh float64, chemistry inventory.Chemistry) *inventory.Pack {
		return &inventory.Pack{Part: inventory.Part{ID: "id-k"}, Cells: cells, CapacityMAh: mAh, Chemistry: chemistry}
	}
	frame := func(change func(*inventory.Frame)) *inventory.Frame {
		f := &inventory.Frame{Part: inventory.Part{ID: "id-f"}}
		change(f)
		return f
	}
	board := func(amps float64) *inventory.Board {
		return &inventory.Board{Part: inventory.Part{ID: "id-b"}, EscCurrentA: amps}
	}
	extra := func(role inventory.Role) *inventory.Extra {
		return &inventory.Extra{Part: inventory.Part{ID: "id-x"}, Role: role}
	}
	mixed, err := inventory.Mixed(motor("1404", 4050), motor("1404", 4120))
	if err != nil {
		t.Fatal(err)
	}
	six := 6
	for _, c := range []struct {
		build inventory.Combination
		want  string
	}{
		{inventory.Combination{Motor: motor("0802", 19000), Prop: prop(1.22, 0.9, 4), Pack: pack(1, 300, inventory.LiHV),
			Frame: frame(func(f *inventory.Frame) { f.Ducted, f.MaxPropIn, f.MotorSpacingMm = true, ref(1.22), ref(46) }),
			Board: board(5)},
			"0802 19000 kV motors, 31 mm four-blade props, 1S 300 mAh LiHV, 65 mm whoop frame, 5 A board"},
		{inventory.Combination{Motor: motor("1404", 4600), Prop: prop(3, 1.8, 5), Pack: pack(4, 650, inventory.LiPo),
			Frame: frame(func(f *inventory.Frame) { f.Ducted, f.MaxPropIn = true, ref(3) }), Board: board(20),
			Extras: []*inventory.Extra{extra(inventory.Receiver), extra(inventory.Camera), extra(inventory.Camera)}},
			"1404 4600 kV motors, 3x1.8 five-blade props, 4S 650 mAh LiPo, ducted 3-inch frame, 20 A board; " +
				"carries camera and receiver"},
		{inventory.Combination{Motor: motor("2207", 1850), Prop: prop(5.1, 4.3, 3), Pack: pack(6, 1100, ""),
			Frame: frame(func(f *inventory.Frame) { f.MaxPropIn = ref(5.1) }), Board: board(45)},
			"2207 1850 kV motors, 5.1x4.3 three-blade props, 6S 1100 mAh LiPo, 5-inch frame, 45 A board"},
		{inventory.Combination{Motor: mixed, Prop: prop(3.5, 2, 2), Pack: pack(4, 3000, inventory.LiIon),
			Frame: frame(func(f *inventory.Frame) { f.MaxPropIn = ref(3.5) }), Board: board(12)},
			"1404 motors, two of 4050 kV and two of 4120 kV, 3.5x2 two-blade props, 4S 3000 mAh Li-ion, " +
				"3.5-inch frame, 12 A board"},
		{inventory.Combination{Motor: motor("2806.5", 1300), Prop: prop(7, 4, 2), Pack: pack(6, 3000, inventory.LiPo),
			Frame: frame(func(f *inventory.Frame) { f.Rotors = &six }), Board: board(50)},
			"2806.5 1300 kV motors, 7x4 two-blade props, 6S 3000 mAh LiPo, six-rotor frame, 50 A board"},
	} {
		got, lacks, _ := strings.Cut(BuildText(&c.build), "; no ")
		want := "camera, video transmitter or receiver listed"
		if len(c.build.Extras) > 0 {
			want = "video transmitter listed"
		}
		if lacks != want {
			t.Errorf("%s lacks %q, want %q", got, lacks, want)
		}
		if got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
		if strings.Contains(got, "id-") {
			t.Errorf("ids stand before words: %s", got)
		}
	}
}

// Property: every sentence of an answer has its placeholders in one form, and no two say the same.
func TestAnswersAreSentences(t *testing.T) {
	seen := map[string]Answer{}
	for _, a := range Answers() {
		text := a.Template()
		if text == "" || strings.Count(text, "{") != strings.Count(text, "}") || strings.Contains(text, "  ;") {
			t.Errorf("%s: %q", a, text)
		}
		if other, ok := seen[text]; ok {
			t.Errorf("%s and %s say the same: %q", a, other, text)
		}
		seen[text] = a
	}
}

// Property: a share is told in steps of five of a hundred, and never as more than it is.
func TestSharesAreToldRoundedDown(t *testing.T) {
	for share, want := range map[float64]string{0: "under 5", 0.04: "under 5", 0.58: "about 55", 0.6: "about 60",
		0.699: "about 65", 0.7: "about 70", 0.949: "about 90", 0.97: "over 95", 1: "over 95"} {
		if got := About(share); got != want {
			t.Errorf("%g: %s, want %s", share, got, want)
		}
	}
}

// Property: of several builds the one of most score is taken, what cannot be built is none of them, a lead that is
// too close is said to be so, and one with dangers is taken only where those without lack more than is noticed.
func TestWhichToTake(t *testing.T) {
	style, _ := objective.Preset("freestyle")
	result := func(score, best float64, axes objective.Axes, misfits ...predict.Misfit) predict.Result {
		r := predict.Result{BestShare: best, Misfits: misfits}
		r.Evaluation.Score, r.Evaluation.Axes = score, axes
		r.Combination = inventory.Combination{Motor: &inventory.Motor{}, Prop: &inventory.Prop{}, Pack: &inventory.Pack{},
			Frame: &inventory.Frame{}, Board: &inventory.Board{}}
		return r
	}
	hot := func(r predict.Result) predict.Result {
		r.GroundedShare = 0.5
		return r
	}
	good, better := objective.Axes{50, 50, 50, 50}, objective.Axes{70, 50, 50, 50}
	broken := predict.Misfit{Kind: predict.LacksRoles}
	names := []string{"one", "two"}
	for _, c := range []struct {
		results []predict.Result
		want    string
	}{
		{[]predict.Result{result(50, 0.05, good), result(56, 0.95, better)}, "Take two: it beats one by 6.0 points"},
		{[]predict.Result{result(56, 0.55, better), result(50, 0.45, good)}, "Take either one or two: one leads"},
		{[]predict.Result{result(50, 0.5, good), result(50, 0.5, good)}, "Take either one or two: they score the same."},
		{[]predict.Result{result(50, 1, good), result(0, 0, good, broken)}, "Take one: it is the only one"},
		{[]predict.Result{result(0, 0, good, broken), result(0, 0, good, broken)}, "Take none of these"},
		{[]predict.Result{hot(result(56, 0.6, good)), result(55, 0.4, good)}, "Take two, the best without dangers: one leads it by 1.0 points"},
		{[]predict.Result{hot(result(56, 0.9, good)), result(53, 0.1, good)}, "Read the dangers of one before you take it"},
	} {
		if got := TakeSentence(&style, c.results, names); !strings.HasPrefix(got, c.want) || strings.Contains(got, "{") {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// Property: a build without dangers is advised before the first that has some where it lacks less than is noticed; where
// it lacks more, the first of the list without any is named with what it costs; a best one
// without dangers needs none beside it.
func TestSaferBuildIsNamed(t *testing.T) {
	result := func(score, grounded float64) predict.Result {
		r := predict.Result{GroundedShare: grounded}
		r.Evaluation.Score = score
		r.Combination = inventory.Combination{Motor: &inventory.Motor{}, Prop: &inventory.Prop{}, Pack: &inventory.Pack{},
			Frame: &inventory.Frame{}, Board: &inventory.Board{}}
		return r
	}
	for _, c := range []struct {
		best    []predict.Result
		advised int
		want    string
	}{
		{nil, 0, ""},
		{[]predict.Result{result(60, 0), result(50, 0)}, 0, ""},
		{[]predict.Result{result(60, 0.5), result(59, 0.5)}, 0, ""},
		{[]predict.Result{result(60, 0.5), result(59, 0.5), result(57.5, 0)}, 0, "rank 3, 2.5 points lower"},
		{[]predict.Result{result(60, 0.5), result(59, 0.5), result(58.5, 0)}, 2, "Rank 1 scores 1.5 points more"},
		{[]predict.Result{result(60, 0.5), result(60, 0)}, 1, "Rank 1 scores the same"},
	} {
		at := Advised(c.best)
		got := SaferSentence(c.best)
		if at > 0 {
			got = FirstSentence(c.best, at)
			if text := AdvisedSentence(c.best, at); !strings.Contains(text, fmt.Sprintf("rank %d", at+1)) {
				t.Errorf("advised %d: %q", at, text)
			}
		}
		if at != c.advised || (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("advised %d, want %d; %q, want %q", at, c.advised, got, c.want)
		}
	}
}

func ref(x float64) *float64 { return &x }
