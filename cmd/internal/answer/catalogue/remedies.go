package catalogue

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// remedies are the sentences of what would bring a broken rule in order, with the scales of what it needs and
// has.
var remedies = [search.RemedyKinds]struct {
	sentence   Search
	needs, has float64
}{
	search.ListRole:             {"remedy.list_role", 1, 1},
	search.StrongerPack:         {"remedy.pack", 1, 1},
	search.LowerResistance:      {"remedy.resistance", 1, 1000},
	search.StrongerBoard:        {"remedy.board", 1, 1},
	search.StrongerPlug:         {"remedy.plug", 1, 1},
	search.StrongerMotors:       {"remedy.motors", 1, 1},
	search.StrongerBoardSteady:  {"remedy.board_steady", 1, 1},
	search.StrongerPlugSteady:   {"remedy.plug_steady", 1, 1},
	search.StrongerMotorsSteady: {"remedy.motors_steady", 1, 1},
	search.SlowerMotors:         {"remedy.slower_motors", 1, 1},
	search.CoolerMotors:         {"remedy.cooler_motors", 1, 1},
	search.LessMassOrThrust:     {"remedy.mass_or_thrust", 1000, 1},
	search.CannotLift:           {"remedy.cannot_lift", 1000, 1000},
	search.MoreThrust:           {"remedy.more_thrust", 1, 1},
	search.LessMass:             {"remedy.less_mass", 1000, 1},
	search.OtherParts:           {"remedy.other_parts", 1, 1},
}

// RemedyTexts say what would bring a near miss in order.
func RemedyTexts(m *search.NearMiss) []string {
	texts := make([]string, len(m.Remedies))
	for i := range m.Remedies {
		texts[i] = remedy(&m.Remedies[i])
	}
	return texts
}

func remedy(r *search.Remedy) string {
	form := remedies[r.Kind]
	needs, has := form.needs*r.Needs, form.has*r.Has
	values := map[string]any{"needs": fmt.Sprintf("%.0f", needs), "has": fmt.Sprintf("%.0f", has),
		"sag": fmt.Sprintf("%.0f", r.BySag)}
	switch r.Kind {
	case search.StrongerMotorsSteady:
		values["needs"], values["has"] = fmt.Sprintf("%.1f", needs), fmt.Sprintf("%.1f", has)
	case search.StrongerPack, search.StrongerBoard, search.StrongerPlug:
		if has < 20 { // a rounded number would not tell the two apart
			values["needs"], values["has"] = fmt.Sprintf("%.1f", math.Ceil(10*needs)/10), fmt.Sprintf("%.1f", has)
		}
	case search.LessMassOrThrust:
		values["needs"], values["has"] = fmt.Sprintf("%.0f", math.Ceil(needs-1e-9)),
			fmt.Sprintf("%.2f", math.Ceil(100*has)/100)
	case search.LessMass:
		values["needs"] = fmt.Sprintf("%.0f", math.Ceil(needs-1e-9))
	}
	text := form.sentence.Sentence(values)
	if r.Loose != nil {
		text = Search("remedy.loosened").Sentence(map[string]any{"remedy": text, "loose": r.Loose.String(),
			"now": r.Now.Range.String()})
	}
	return text
}

// contrasts are the sentences of a figure that is more, and one that is less, than that of another craft,
// with the digits of the amount; where both are the same it tells the ratio.
var contrasts = map[figure.Quantity]struct {
	more, less Search
	digits     int
}{
	figure.AllUpMass:      {"novel.heavier", "novel.lighter", 0},
	figure.TopSpeed:       {"novel.faster", "novel.slower", 0},
	figure.Response:       {"novel.slower_to_answer", "novel.quicker_to_answer", 0},
	figure.TurnThrottle:   {"novel.more_turn_throttle", "novel.less_turn_throttle", 0},
	figure.PullOut:        {"novel.more_pull_out", "novel.less_pull_out", 1},
	figure.StyleTime:      {"novel.flying_time", "novel.flying_time", 0},
	figure.TurnLoadFactor: {"novel.load_factor", "novel.load_factor", 0},
	figure.ThrustStep:     {"novel.thrust_step", "novel.thrust_step", 0},
}

// NoveltyText says where a combination differs most from the nearest craft that flies already.
func NoveltyText(n *predict.Novelty) string {
	var parts []string
	for _, d := range n.Differences {
		f, form := figure.Of(d.Quantity), contrasts[d.Quantity]
		a, b := f.FromSI(d.Value), f.FromSI(d.Theirs)
		sentence := form.more
		if a < b {
			sentence = form.less
		}
		parts = append(parts, sentence.Sentence(map[string]any{"amount": fmt.Sprintf("%.*f", form.digits, math.Abs(a-b)),
			"times": times(a / b)}))
	}
	switch {
	case n.Nearest == "":
		return Search("novel.nothing_flies").Template()
	case len(parts) == 0:
		return Search("novel.alike").Sentence(map[string]any{"craft": n.Nearest})
	}
	return Search("novel.unlike").Sentence(map[string]any{"differences": strings.Join(parts, " and "), "craft": n.Nearest})
}

// times writes a ratio: twice, 1.4 times, half, 60 % of.
func times(ratio float64) string {
	switch {
	case math.Abs(ratio-2) < 0.1:
		return "twice"
	case math.Abs(ratio-0.5) < 0.025:
		return "half"
	case ratio < 1:
		return fmt.Sprintf("%.0f %% of", 100*ratio)
	}
	return fmt.Sprintf("%.1f times", ratio)
}
