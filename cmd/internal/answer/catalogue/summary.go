package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// SearchedSentence says what was searched and how sure the list is to hold the best.
func SearchedSentence(p *space.Problem, r *search.Ranking) string {
	values := map[string]any{"drawer": p.Drawer.Name, "style": StyleWords(&p.Style), "method": r.Method, "feasible": "",
		"candidates": phrase.Plural(r.Candidates, "combination", "combinations"),
		"evaluated":  phrase.Plural(r.Evaluated, "evaluation", "evaluations")}
	if feasible := r.Candidates - totalFallen(r.Infeasible); r.Proven && r.Skipped == 0 && feasible > 0 {
		values["feasible"] = Answer("searched.of").Sentence(map[string]any{"count": feasible})
	}
	proof := Answer("searched.open")
	switch {
	case r.Interrupted:
		proof = "searched.cut"
	case len(r.Best) == 0:
		proof = "searched.none"
	case r.Proven && r.Evaluated >= r.Candidates:
		proof = "searched.all"
	case r.Proven:
		proof = "searched.proven"
	case r.Gap > 0:
		proof = "searched.gap"
	}
	values["proof"] = proof.Sentence(map[string]any{"points": Number(r.Gap, 0, 2*r.Gap)})
	return Answer("searched").Sentence(values)
}

// StyleWords names a style, and says if its weights are another's.
func StyleWords(s *objective.Style) string {
	preset, ok := objective.Preset(s.Name)
	text := "style " + s.Name
	if ok && preset.Weights != s.Weights {
		text += " with weights of your own"
	}
	return text
}

func totalFallen(reasons []search.ReasonCount) int64 {
	var sum int64
	for _, reason := range reasons {
		sum += reason.Count
	}
	return sum
}

// RuledOutSentence counts what is infeasible by reason; "" if nothing is.
func RuledOutSentence(reasons []search.ReasonCount) string {
	var counts []string
	for _, reason := range reasons {
		if reason.Count > 0 {
			counts = append(counts, Answer("ruled_out.by").Sentence(map[string]any{"count": reason.Count,
				"reason": FallenTo(reason.Reason)}))
		}
	}
	if len(counts) == 0 {
		return ""
	}
	return Answer("ruled_out").Sentence(map[string]any{"counts": strings.Join(counts, ", ")})
}

// MissList says of each near miss what it breaks and what would mend it.
func MissList(misses []search.NearMiss) []string {
	var list []string
	for i := range misses {
		m := &misses[i]
		faults := MisfitTexts(&m.Result)
		for k := range m.Violations {
			faults = append(faults, Violation(&m.Violations[k]))
		}
		which := Answer("miss")
		if len(m.Remedies) > 0 {
			which = "miss.fix"
		}
		list = append(list, Say(which, "build", CombinationText(&m.Combination), "faults", strings.Join(faults, "; "), "fix",
			strings.Join(RemedyTexts(m), "; ")))
	}
	return list
}

// Sentences makes sentences of notes.
func Sentences(notes []string) []string {
	list := make([]string, len(notes))
	for i, note := range notes {
		list[i] = strings.TrimRight(note, ".") + "."
	}
	return list
}

// SureSentence says how sure it is that the first of a ranking is the better one; first is what it is called.
func SureSentence(r *search.Ranking, first string) string {
	best := &r.Best[0]
	values := map[string]any{"first": first, "share": About(best.AheadShare), "lead": Sureness(best)}
	counted := r.Proven && r.Skipped == 0
	switch others := r.Candidates - totalFallen(r.Infeasible) - 1; {
	case len(r.Best) > 1:
		return Answer("sure.wins").Sentence(values)
	case best.AheadShare < 1 || counted && others > 0:
		return Answer("sure.next").Sentence(values)
	case counted:
		return Answer("sure.only").Template()
	}
	return Answer("sure.listed").Template()
}

// WhySentence says by how much the first of two or more leads the second and which axes make it.
func WhySentence(style *objective.Style, best []predict.Result) string {
	first, second := &best[0], &best[1]
	gap := first.Evaluation.Score - second.Evaluation.Score
	which, why := Answer("why.same"), ""
	if gap >= 0.05 {
		which = "why.leads"
	}
	if reasons := ApartText(style, first, second); reasons != "" {
		why = Say("why.axes", "axes", reasons)
	}
	return Say(which, "points", PointsText(gap), "why", why)
}

// BehindSentence says by how much the first of a ranking leads the one at a place of it, counted from 0, and which axes
// make it.
func BehindSentence(style *objective.Style, best []predict.Result, at int) string {
	which, why := Answer("why.behind"), ""
	gap := best[0].Evaluation.Score - best[at].Evaluation.Score
	if gap < 0.05 {
		which = "why.behind_same"
	}
	if reasons := ApartText(style, &best[0], &best[at]); reasons != "" {
		why = Say("why.axes", "axes", reasons)
	}
	return Say(which, "points", PointsText(gap), "why", why)
}

// apart lists the axes by what they make of the difference between two scores, the largest first, with their points;
// what does not show is left out.
func apart(style *objective.Style, a, b *predict.Result) (axes []objective.Axis, points objective.Axes) {
	points = objective.Decompose(&style.Weights, &a.Evaluation.Axes, &b.Evaluation.Axes)
	for axis := range objective.AxisCount {
		if math.Abs(points[axis]) >= 0.05 {
			axes = append(axes, axis)
		}
	}
	slices.SortStableFunc(axes, func(x, y objective.Axis) int {
		return cmp.Compare(math.Abs(points[y]), math.Abs(points[x]))
	})
	return axes, points
}

// ApartText says which axes make the difference between two scores, the largest first.
func ApartText(style *objective.Style, a, b *predict.Result) string {
	var words []string
	axes, points := apart(style, a, b)
	for _, axis := range axes {
		which := Answer("why.gives")
		if points[axis] < 0 {
			which = "why.costs"
		}
		words = append(words, Say(which, "axis", axis.String(), "points", Fixed(math.Abs(points[axis]), 1), "against",
			Against(a, b, axis)))
	}
	return strings.Join(words, ", ")
}

// mostApart is how many axes a brief reason names.
const mostApart = 2

// apartBrief names the axes that make most of the difference between two scores: "smoothness +3.0, grip −2.8".
func apartBrief(style *objective.Style, a, b *predict.Result) string {
	var words []string
	axes, points := apart(style, a, b)
	for _, axis := range axes[:min(len(axes), mostApart)] {
		words = append(words, axis.String()+" "+SignedFixed(points[axis], 1))
	}
	return strings.Join(words, ", ")
}

// PointsText is a number of points of a score.
func PointsText(points float64) string { return Say("points", "points", Fixed(points, 1)) }

// shownCap is the throttle cap as the craft's display shows it, in whole per cent, rounded down.
func shownCap(r *predict.Result) string {
	duty := r.Figures[figure.ThrottleCap].Value
	return WithUnit(Fixed(math.Floor(100*r.Combination.Board.Throttle.SI().Shown(duty)), 0), "%")
}

// rated is a current that a label claims, in tenths of an ampere under 20 A and whole ones from there.
func rated(r *predict.Result, q figure.Quantity) string {
	f, decimals := ShownOf(r, q), 1
	if f.Value >= 20 {
		decimals = 0
	}
	return WithUnit(Fixed(f.Value, decimals), f.Unit)
}

// LimitSentence says what limits the throttle, with its number and the cap to set, or how near full throttle comes.
func LimitSentence(r *predict.Result) string {
	use := func(q figure.Quantity) string { f := ShownOf(r, q); return f.String() }
	// What limits lies over 100 %, and is shown so.
	over := func(q figure.Quantity) string {
		f := ShownOf(r, q)
		unit := math.Pow10(max(-Decimals(f.Value, f.Low, f.High), 0))
		if math.Round(f.Value/unit) <= 100/unit {
			return WithUnit(Fixed(math.Ceil(f.Value), 0), f.Unit)
		}
		return f.String()
	}
	values := map[string]any{"amps": use(figure.FullThrottleCurrent),
		"cap": Answer("limit.cap").Sentence(map[string]any{"duty": use(figure.ThrottleCap),
			"shown": shownCap(r)})}
	say := func(which Answer, name string, value string) string {
		values[name] = value
		return which.Sentence(values)
	}
	switch r.Performance.Cap {
	case physics.PackLimit:
		values["safe"], values["sag"] = rated(r, figure.PackSafeCurrent), use(figure.PackSagCurrent)
		if r.Combination.Pack.AssumedC {
			return say("limit.pack_assumed", "use", over(figure.PackCurrentUse))
		}
		return say("limit.pack", "use", over(figure.PackCurrentUse))
	case physics.CellLimit:
		if f := ShownOf(r, figure.LoadedCell); !f.Defined() {
			return say("limit.collapse", "why", Undefined(f.Why))
		}
		return say("limit.cell", "cell", use(figure.LoadedCell))
	case physics.BoardLimit:
		values["burst"] = plainNumber(math.Round(10*r.Craft.Board.BurstA) / 10)
		return say("limit.board", "use", over(figure.BoardCurrentUse))
	case physics.ConnectorLimit:
		values["plug"], values["peak"] = weakestPlug(&r.Combination), plainNumber(r.Craft.Connector.PeakA)
		return say("limit.plug", "use", over(figure.ConnectorCurrentUse))
	case physics.MotorLimit:
		m := &r.Craft.Motor
		values["current"] = Fixed(m.MaxCurrentA, 1)
		if m.LimitEstimated {
			return say("limit.motor_est", "use", over(figure.MotorCurrentUse))
		}
		return say("limit.motor", "use", over(figure.MotorCurrentUse))
	}
	most := 0.0
	ofPack := Answer("use.pack")
	if r.Combination.Pack.AssumedC {
		ofPack = "use.pack_assumed"
	}
	for _, one := range [...]struct {
		q    figure.Quantity
		what Answer
	}{
		{figure.PackCurrentUse, ofPack}, {figure.BoardCurrentUse, "use.board"},
		{figure.ConnectorCurrentUse, "use.plug"}, {figure.MotorCurrentUse, "use.motor"},
	} {
		if f := ShownOf(r, one.q); f.Defined() && f.Value > most {
			most, values["most"] = f.Value, one.what.Sentence(map[string]any{"use": f.String(),
				"peak": plainNumber(r.Craft.Connector.PeakA)})
		}
	}
	if r.Craft.Motor.LimitEstimated {
		return Answer("limit.none_given").Sentence(values)
	}
	return Answer("limit.none").Sentence(values)
}

// weakestPlug is the plug between pack and board that carries least for seconds.
func weakestPlug(c *inventory.Combination) string {
	name, least := "the plug", math.Inf(1)
	for _, p := range c.Plugs() {
		if r, _, ok := p.Rating(); ok && r.PeakA > 0 && r.PeakA < least {
			name, least = string(p), r.PeakA
		}
	}
	return name
}

// dangerTexts are what may burn or fall of a combination.
func dangerTexts(r *predict.Result) []string {
	var list []string
	notes := ResultNotes(r)
	for i := range notes {
		if notes[i].Kind == DangerNote {
			list = append(list, notes[i].Text())
		}
	}
	return list
}

// OtherText names a combination by what it changes, or in whole if it changes more than two parts.
func OtherText(from, to *inventory.Combination) string {
	if words := changed(from, to); len(words) <= 2 {
		return strings.Join(words, ", ")
	}
	return BareText(to)
}

// DangerList is what may burn or fall of the listed but the one at a place, counted from 0: each danger once with the ranks
// that have it, and the numbers of the first of these.
func DangerList(best []predict.Result, but int) []string {
	var forms, texts []string
	ranks := map[string][]string{}
	for i := range best {
		if i == but {
			continue
		}
		notes := ResultNotes(&best[i])
		for k := range notes {
			n := &notes[k]
			if n.Kind != DangerNote {
				continue
			}
			if ranks[n.Form] == nil {
				forms, texts = append(forms, n.Form), append(texts, n.Text())
			}
			ranks[n.Form] = append(ranks[n.Form], strconv.Itoa(i+1))
		}
	}
	list := make([]string, len(forms))
	for k, form := range forms {
		which, at := Answer("dangers.rank"), ranks[form]
		if len(at) > 1 {
			which = "dangers.ranks"
		}
		list[k] = which.Sentence(map[string]any{"ranks": at, "first": at[0], "danger": texts[k]})
	}
	return list
}

// NamedDangers is what may burn or fall of a build, after its name; nil if nothing may.
func NamedDangers(name string, r *predict.Result) []string {
	texts := DangerTexts(r)
	if len(texts) == 0 {
		return nil
	}
	return []string{Answer("dangers").Sentence(map[string]any{"name": name, "dangers": strings.Join(texts, "; ")})}
}

// scaleSentence says what a score is a place on.
const scaleSentence = "Scores use one scale for every drawer: 100 means {ends} all at once, which no craft " +
	"reaches. Best here: {best}; best of any build on each axis: {most}."

// ScaleSentence says what a score of 100 would be, the best score of the drawer, and the most that any build has of
// each axis that counts in the style.
func ScaleSentence(style *objective.Style, r *search.Ranking) string {
	var ends, most []string
	for a := range objective.AxisCount {
		if style.Weights[a] == 0 {
			continue
		}
		f := objective.LeadingFigure(a)
		for _, c := range objective.Criteria() {
			if c.Axis == a && c.Quantity == f.Quantity {
				ends = append(ends, FigureName(f.Key)+" "+strings.TrimSpace(WithUnit(Raw(c.Scale.Best), f.Unit)))
			}
		}
		most = append(most, fmt.Sprintf("%s %.0f", a, r.Most[a]))
	}
	return phrase.Fill(scaleSentence, map[string]any{"ends": phrase.Words(ends), "best": Fixed(r.BestScore, 1),
		"most": phrase.Words(most)})
}
